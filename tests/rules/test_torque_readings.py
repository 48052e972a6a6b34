"""Readings: what counts, what is kept and does not, and why (R11, R12, R15, R16)."""

from __future__ import annotations

import pytest

from rules.torque_shop import DAY, NOON, Shop, check_row, group_row, spec, task_row, wrench_row
from yokemate.planfile.model import Step
from yokemate.rules.frame import Command
from yokemate.rules.rows import Deviation, Reading, Snag
from yokemate.rules.wrenches import unfit_at


def test_r11_final_only_when_every_fastener_has_its_last_pass() -> None:
    """R11: all passes on all fasteners but one is not final; the last one makes it so, with a digest."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    shop.read(1)
    shop.read(2)
    assert shop.group().state == "started"
    assert shop.group().readings_digest == ""
    shop.read(3)
    assert shop.group().state == "final"
    assert len(shop.group().readings_digest) == 64


def test_r11_an_earlier_pass_open_on_any_bolt_keeps_the_reading_out() -> None:
    """R11: out of order is kept, does not count, and says which bolt lacks which pass."""
    shop = Shop()
    shop.read(1, 3, pass_no=1)
    (reading,) = shop.read(1)
    assert (reading.counts, reading.why_not) == (False, "earlier_pass_open")
    assert reading.why_params == {"bolt": 2, "pass_no": 1}
    assert not shop.bolt(1).final


@pytest.mark.parametrize(
    ("wrench", "why"),
    [
        (wrench_row("W9", retired_ms=NOON - DAY), "wrench_retired"),
        (wrench_row("W9", checks=[]), "wrench_unchecked"),
        (wrench_row("W9", checks=[check_row(NOON - 400 * DAY, NOON - 12 * DAY)]), "wrench_overdue"),
        (wrench_row("W9", checks=[check_row(), check_row(NOON - DAY, good=False)]), "wrench_failed_check"),
        (wrench_row("W9", drops=[NOON - DAY], dropped_ms=NOON - DAY), "wrench_dropped"),
        (wrench_row("W9", lowest="25"), "below_range"),
        (wrench_row("W9", highest="23"), "above_range"),
        (
            wrench_row("W9", unit="lbf_ft", lowest="18", highest="100"),
            "below_range",
        ),  # 24 N·m is 17.70 lbf·ft
    ],
)
def test_r11_no_exception_for_a_critical_group(wrench, why) -> None:
    """R11: by a torque wrench that is not fit, the reading of a critical group does not count."""
    shop = Shop(wrench)
    shop.read(1, 2, 3, pass_no=1)
    (reading,) = shop.read(1, wrench="W9")
    assert (reading.counts, reading.why_not) == (False, why)
    assert not shop.bolt(1).final
    assert list(shop.state.all(Deviation)) == []


def test_r11_a_torque_wrench_is_due_after_so_many_uses(monkeypatch) -> None:
    """R11, W10: 5000 uses since its check (ISO 6789:2003 as a maker reports it): the 5000th still counts, the next does
    not, until it is checked. Here five are allowed: three bolts in pass 1, two in pass 2.
    """
    monkeypatch.setattr("yokemate.rules.wrenches.CYCLES_LIMIT", 5)
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    assert shop.read(1)[0].counts and shop.read(2)[0].counts
    (sixth,) = shop.read(3)
    assert (sixth.counts, sixth.why_not) == (False, "wrench_worn")
    assert sixth.why_params == {"uses": 5, "allowed": 5}
    assert not shop.view("torque", group="G1").wrenches[0].fit
    shop.do("bram", "wrench.check", wrench="W1", kind="certificate", checked_ms=shop.now_ms + 60_000,
            until_ms=NOON + 300 * DAY, good=True)  # fmt: skip
    assert shop.read(3, at=shop.now_ms + 120_000)[0].counts


def test_r11_r17_correcting_the_last_allowed_use_is_no_use_more(monkeypatch) -> None:
    """R11, R17: the fifth of five, typed wrong, is corrected and counts as the fifth."""
    monkeypatch.setattr("yokemate.rules.wrenches.CYCLES_LIMIT", 5)
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    shop.read(1)
    (fifth,) = shop.read((2, "24.2"))
    shop.do("aled", "torque.correct", reading=fifth.id, value="24.4")
    assert shop.bolt(2).final


def test_r11_the_limit_is_five_thousand_uses_by_that_moment() -> None:
    """R11, W10: 4999 uses since the check leave it fit, 5000 do not; what came later or before the check is none of them."""
    shop = Shop()
    (one,) = shop.read(1, pass_no=1)
    wrench = wrench_row("W1")

    def used(times: int, at_ms: int) -> list[Reading]:
        return [one.model_copy(update={"at_ms": at_ms, "device_ms": at_ms})] * times

    assert unfit_at(wrench, NOON, used(4999, NOON) + used(1, NOON + 1) + used(1, NOON - 31 * DAY)) == []
    assert [u.code for u in unfit_at(wrench, NOON, used(5000, NOON))] == ["wrench_worn"]


def test_r11_range_is_judged_on_the_wrenchs_own_scale_at_its_very_end() -> None:
    """R11: 17.7 lbf·ft is 23.998 N·m (factor 1.3558179483, NIST): inside a 23.9 N·m lowest mark, outside
    24.0.
    """
    for lowest, fits in (("23.9", True), ("24", False)):
        shop = Shop(wrench_row("W9", lowest=lowest))
        shop.read(1, 2, 3, pass_no=1)
        (reading,) = shop.read(1, wrench="W9", set_value="17.7", unit="lbf_ft")
        assert reading.counts is fits


def test_r11_otherwise_it_counts_with_a_deviation_told_once() -> None:
    """R11: a group that is not critical is final all the same; one deviation waits to be accepted."""
    shop = Shop(group_row("G2", critical=False), wrench_row("W9", checks=[]), _tightens("G2"))
    shop.make_final("G2", wrench="W9")
    assert shop.group("G2").state == "final"
    (deviation,) = shop.state.all(Deviation)
    assert (deviation.group, deviation.task, deviation.state, deviation.critical) == (
        "G2",
        "T2",
        "waiting",
        False,
    )
    assert deviation.we_did == "W9: The torque wrench has no check on record."


def test_r11_fit_at_the_time_of_the_reading_not_of_its_arrival() -> None:
    """R11: read offline before the drop counts; read after it does not, whenever it arrives."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    before = shop.now_ms + 1
    shop.do("bram", "wrench.dropped", wrench="W1")
    after = shop.now_ms + 1
    shop.now_ms += 600_000
    assert shop.read(1, at=before)[0].counts
    assert shop.read(2, at=after)[0].why_not == "wrench_dropped"
    shop.do(
        "ines",
        "wrench.check",
        wrench="W1",
        kind="house_check",
        checked_ms=shop.now_ms,
        good=True,
        until_ms=shop.now_ms + DAY,
    )
    assert shop.read(2)[0].counts
    assert shop.read(3, at=after)[0].why_not == "wrench_dropped"


def test_r11_a_clock_ahead_of_the_service_gains_nothing() -> None:
    """R11: a reading is never later than its arrival: no clock reaches a check still to come."""
    shop = Shop(wrench_row("W9", checks=[check_row(NOON + 5 * DAY)]))
    shop.read(1, 2, 3, pass_no=1)
    assert shop.read(1, wrench="W9", at=NOON + 6 * DAY)[0].why_not == "wrench_unchecked"


def test_r11_an_early_pass_may_use_any_torque_wrench() -> None:
    """R11 asks fitness of the last pass only: 12 N·m is below this torque wrench's range and counts for pass
    1.
    """
    shop = Shop(wrench_row("W9", lowest="20"))
    assert all(r.counts for r in shop.read(1, 2, 3, pass_no=1, wrench="W9"))


def test_one_press_per_bolt_in_the_last_pass_of_a_critical_group() -> None:
    """R11: several clicks in one command are kept and do not count; several with a value each do."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    assert [r.why_not for r in shop.read(1, 2)] == ["one_by_one", "one_by_one"]
    assert [r.counts for r in shop.read((1, "24"), (2, "24.2"), 3)] == [True, True, True]


def test_one_press_per_bolt_is_not_asked_of_other_groups() -> None:
    """One command with all bolts does for a group that is not critical."""
    shop = Shop(group_row("G2", critical=False))
    shop.read(1, 2, 3, pass_no=1, group="G2")
    shop.read(1, 2, 3, group="G2")
    assert shop.group("G2").state == "final"


@pytest.mark.parametrize(
    ("value", "counts"), [("23", True), ("22.999999", False), ("25", True), ("25,000001", False)]
)
def test_r12_outside_tolerance_makes_nothing_final(value, counts) -> None:
    """R12: 24 N·m -1 +1, ends included, compared exactly; outside is kept as typed and marked on the bolt."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    (reading,) = shop.read((1, value))
    assert reading.value == value
    assert (reading.counts, shop.bolt(1).final, shop.bolt(1).outside) == (counts, counts, not counts)


def test_r12_an_outside_reading_on_a_final_bolt_takes_it_back() -> None:
    """R12: the last word on a fastener counts; a group that was final is a loose end again (R23)."""
    shop = Shop()
    shop.make_final()
    (reading,) = shop.read((2, "26"))
    assert reading.why_not == "outside_high"
    assert reading.why_params == {"value": "26", "high": "25", "unit": "n_m"}
    assert shop.group().state == "started"
    assert shop.group().readings_digest == ""
    assert [e.kind for e in shop.ends(closed=None)] == ["undone"]
    shop.read((2, "24.5"))
    assert shop.group().state == "final"
    assert shop.ends(closed=None) == []


def test_r12_compared_at_the_fastener_with_the_extension() -> None:
    """R12: set 60, arm 12, adapter 2 in line: 70 at the fastener (TM 9-254 pp. 91-92)."""
    shop = Shop(
        group_row("G2", made_to=spec("70", passes=(100,)), tolerance=("0", "0")),
        wrench_row("W9", highest="100", arm_mm="304.8"),
    )
    (reading,) = shop.read((1, "60"), group="G2", pass_no=1, wrench="W9", set_value="60", extension_mm="50.8")
    assert (reading.at_fastener, reading.counts) == ("70", True)
    assert reading.window is not None
    assert reading.window.target == "60"
    (square,) = shop.read(
        (2, "60"),
        group="G2",
        pass_no=1,
        wrench="W9",
        set_value="60",
        extension_mm="50.8",
        extension_angle_deg="90",
    )
    assert (square.at_fastener, square.why_not) == ("60", "outside_low")


def test_r12_compared_at_the_fastener_with_the_drag() -> None:
    """R12: 1/4-28, recommended 50-70 lbf·in, drag 7: set 57-77 (AC 43.13-1B par. 7-40 and table 7-1)."""
    made = spec("60", "lbf_in", (100,))
    shop = Shop(
        group_row("G2", 4, made_to=made, tolerance=("10", "10"), retighten=True),
        wrench_row("W9", unit="lbf_in", lowest="10", highest="200"),
    )
    got = shop.read(
        (1, "57"),
        (2, "77"),
        (3, "56"),
        (4, "78"),
        group="G2",
        pass_no=1,
        wrench="W9",
        set_value="67",
        unit="lbf_in",
        drag="7",
    )
    assert [r.counts for r in got] == [True, True, False, False]
    assert got[0].window is not None
    assert (got[0].window.low, got[0].window.high) == ("57", "77")


def test_r12_an_extension_needs_the_arm() -> None:
    """R12: without the torque wrench's arm the torque at the fastener is not known: kept, not counted."""
    shop = Shop(wrench_row("W9", arm_mm=None))
    shop.read(1, 2, 3, pass_no=1)
    (reading,) = shop.read((1, "24"), wrench="W9", extension_mm="50")
    assert (reading.why_not, reading.at_fastener) == ("arm_unknown", None)


def test_r12_in_the_unit_entered() -> None:
    """R12: 37 lbf·ft is 50.165 N·m (NIST SP 811 factor): inside 50 -0.1 +0.2, outside 50 -0.1 +0.1."""
    for plus, counts in (("0.2", True), ("0.1", False)):
        shop = Shop(
            group_row("G2", made_to=spec("50", passes=(100,)), tolerance=("0.1", plus)),
            wrench_row("W9", highest="100"),
        )
        (reading,) = shop.read((1, "37"), group="G2", pass_no=1, wrench="W9", set_value="37", unit="lbf_ft")
        assert reading.counts is counts
        assert (reading.value, reading.unit) == ("37", "lbf_ft")


def test_r12_a_castle_nut_has_a_range() -> None:
    """R12: 58 to 70 N·m to the next pin hole: all of the range does, nothing beyond it without a stated
    tolerance.
    """
    made = spec("58", passes=(100,), kind="castle", torque_max="70")
    shop = Shop(
        group_row("G2", 4, made_to=made, tolerance=("2.9", "2.9"), tolerance_is_default=True),
        wrench_row("W9", highest="100"),
    )
    got = shop.read(
        (1, "58"), (2, "70"), (3, "57.9"), (4, "70.1"), group="G2", pass_no=1, wrench="W9", set_value="58"
    )
    assert [r.counts for r in got] == [True, True, False, False]


def test_r12_a_dial_shows_a_value() -> None:
    """R12: a dial torque wrench does not click; without its value nothing was read."""
    shop = Shop(wrench_row("W9", shows="dial"))
    shop.read((1, "12"), (2, "12"), (3, "12"), pass_no=1, wrench="W9")
    assert shop.read(1, wrench="W9")[0].why_not == "value_missing"


def test_an_early_pass_counts_when_nearer_to_its_own_level() -> None:
    """Common practice: half of 24 N·m in pass 1 counts from 6 to 18 (the middles to the levels before and
    after).
    """
    shop = Shop(group_row("G2", 4))
    got = shop.read((1, "6"), (2, "18"), (3, "5.9"), (4, "18.1"), group="G2", pass_no=1)
    assert [r.counts for r in got] == [True, True, False, False]
    assert got[3].why_not == "off_level"
    assert not shop.bolt(4, "G2").outside


def test_r15_already_turned_says_by_whom_and_when() -> None:
    """R15: an angle-tightened fastener is not turned again: kept, not counted, who and when; and it stays
    final.
    """
    shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False))
    (first,) = shop.read((1, "24"), group="G2", pass_no=1, set_value="24")
    (again,) = shop.read((1, "24"), group="G2", pass_no=1, set_value="24")
    assert again.why_not == "already_turned"
    assert again.why_params == {"turned_person": "aled", "turned_ms": first.at_ms}
    assert shop.bolt(1, "G2").passes == {"1": first.id}
    assert list(shop.state.all(Snag)) == []


def test_r15_two_sets_taken_apart_are_a_snag_once() -> None:
    """R15: two people who turned the same fasteners without knowing of each other: one snag on the group."""
    shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False))
    apart = shop.now_ms
    shop.read((1, "24"), (2, "24"), group="G2", pass_no=1, set_value="24")
    shop.read((1, "24"), (2, "24"), who="sofia", group="G2", pass_no=1, set_value="24", at=apart)
    (snag,) = shop.state.all(Snag)
    assert snag.group == "G2"


def test_r15_two_sets_apart_are_a_snag_though_one_was_not_on_the_task() -> None:
    """R15, R6: Sofia took what Aled had, both without signal. Hers don't count, the fasteners turned all the
    same; whichever phone hands over first.
    """
    for first, second in (("sofia", "aled"), ("aled", "sofia")):
        shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False))
        apart = shop.now_ms
        shop.read((1, "24"), who=first, group="G2", pass_no=1, set_value="24", task="T1", at=apart)
        assert list(shop.state.all(Snag)) == []
        shop.read((1, "24"), who=second, group="G2", pass_no=1, set_value="24", task="T1", at=apart)
        assert [snag.group for snag in shop.state.all(Snag)] == ["G2"]


def test_r15_typed_again_or_after_undoing_is_no_second_turn() -> None:
    """R15, R17: what lacked its value is typed again, by whoever holds the phone; what was undone and fitted new
    starts from nothing; an ordinary bolt may be turned on.
    """
    shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False), wrench_row("W9", shows="dial"))
    shop.read(1, group="G2", pass_no=1, wrench="W9")
    shop.read((1, "24"), who="bram", group="G2", pass_no=1, wrench="W9")
    shop.do("ines", "torque.report_loosened", group="G2", bolts=[1], reason="other")
    shop.read((1, "24"), who="sofia", group="G2", pass_no=1)
    assert list(shop.state.all(Snag)) == []

    ordinary = Shop()
    ordinary.make_final()
    ordinary.read(1, who="bram", at=ordinary.now_ms - 600_000)
    assert list(ordinary.state.all(Snag)) == []


def test_r15_retightening_an_ordinary_group_replaces_the_reading() -> None:
    """R14, R15: fasteners that may be tightened on keep the later reading; the earlier stays readable."""
    shop = Shop()
    old_digest = shop.make_final()
    first = shop.bolt(1).passes["2"]
    shop.read(1)
    assert shop.group().state == "final"
    assert shop.group().readings_digest != old_digest
    assert shop.reading(first).why_not == "superseded"


def test_r6_readings_on_a_task_that_somebody_else_has_are_kept() -> None:
    """R6, R4: Aled had the task, so Sofia's readings are kept as evidence; Bram had joined, so his count."""
    shop = Shop()
    (kept,) = shop.read(1, pass_no=1, who="sofia", task="T1")
    assert (kept.why_not, kept.why_params) == ("not_on_task", {"holder_person": "aled"})
    assert shop.read(1, pass_no=1, who="bram", task="T1")[0].counts


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"pass_no": 3}, "pass_no"),
        ({"bolts": []}, "bolts"),
        ({"bolts": [{"n": 9}]}, "bolts"),
        ({"bolts": [{"n": 1}, {"n": 1}]}, "bolts"),
        ({"set_value": "0"}, "set_value"),
        ({"bolts": [{"n": 1, "reading": "-3"}]}, "value"),
        ({"bolts": [{"n": 1, "reading": "1,234"}]}, "value"),
        ({"extension_mm": "5000"}, "extension_mm"),
        ({"drag": "-1"}, "drag"),
    ],
)
def test_r32_only_what_is_not_well_formed_is_refused(fields, field) -> None:
    """R32: the field is named, and nothing changes."""
    good = {
        "group": "G1",
        "pass_no": 1,
        "wrench": "W1",
        "set_value": "12",
        "unit": "n_m",
        "bolts": [{"n": 1}],
    }
    assert Shop().refused("bad_input", "aled", "torque.read", **good | fields)["field"] == field


def test_r32_unknown_things_are_named() -> None:
    """R32: unknown group, torque wrench or helper."""
    good = {
        "group": "G1",
        "pass_no": 1,
        "wrench": "W1",
        "set_value": "12",
        "unit": "n_m",
        "bolts": [{"n": 1}],
    }
    for change in ({"group": "G7"}, {"wrench": "W7"}, {"helped": ["nobody"]}):
        Shop().refused("unknown", "aled", "torque.read", **good | change)


def test_r30_a_viewer_reads_nothing() -> None:
    """R30: a viewer changes nothing."""
    Shop().refused(
        "viewer",
        "vera",
        "torque.read",
        group="G1",
        pass_no=1,
        wrench="W1",
        set_value="12",
        unit="n_m",
        bolts=[{"n": 1}],
    )


def test_r16_values_are_kept_as_typed() -> None:
    """R16: comma, zeros and unit stand in the row as they were typed."""
    shop = Shop()
    (reading,) = shop.read((1, "12,50"), pass_no=1, set_value="12,0")
    assert (reading.value, reading.set_value, reading.unit) == ("12,50", "12,0", "n_m")


def test_reports_are_kept_commands() -> None:
    """A reading may wait on a phone: it is a report of the kept kind."""
    from yokemate.rules.frame import COMMANDS

    for kind in (
        "torque.read",
        "torque.run_in",
        "torque.correct",
        "torque.stop_here",
        "torque.report_loosened",
    ):
        assert issubclass(COMMANDS[kind].model, Command)
        assert (COMMANDS[kind].act, COMMANDS[kind].sent) == ("report", "kept")


def _tightens(group: str):
    return task_row("T2", 2, Step(id="s1", say="Tighten", kind="tighten", group=group))
