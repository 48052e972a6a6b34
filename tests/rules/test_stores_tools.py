"""The tool store: checks, drops and their consequences, tools out and in (R11)."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from rules.torque_shop import DAY, NOON, Shop, group_row, wrench_row
from yokemate.planfile.model import ToolPlan
from yokemate.rules.rows import Deviation, Snag, Tool, TorqueWrench
from yokemate.rules.wrenches import checked_until_ms

PLAN = {"unit": "n_m", "lowest": "5", "highest": "50", "step": "0.5"}


def _ms(year: int, month: int, day: int) -> int:
    return int(datetime(year, month, day, tzinfo=UTC).timestamp() * 1000)


@pytest.mark.parametrize(
    ("day", "months", "end"),
    [
        ("2026-01-31", 1, (2026, 3, 1)),
        ("2024-02-29", 12, (2025, 3, 1)),
        ("2025-11-25", 12, (2026, 11, 26)),
        ("2025-12-15", 1, (2026, 1, 16)),
    ],
)
def test_r11_an_interval_ends_with_its_calendar_day(day, months, end) -> None:
    """R11: months later, the same day still counts; a day the month lacks is its last (calendar by hand)."""
    assert checked_until_ms(day, months) == _ms(*end)


def test_r11_entering_a_torque_wrench_with_its_certificate() -> None:
    """R11: checked on 2025-06-01 for 12 months: its word counts until the end of 2026-06-01."""
    shop = Shop()
    shop.do("bram", "wrench.enter", wrench="W5", name="Small", plan=PLAN | {"checked_on": "2025-06-01"})
    (check,) = shop.state.get(TorqueWrench, "W5").checks
    assert (check.kind, check.until_ms) == ("certificate", _ms(2026, 6, 2))
    shop.refused("exists", "bram", "wrench.enter", wrench="W5", name="Small", plan=PLAN)


@pytest.mark.parametrize(
    ("plan", "field"),
    [
        ({"lowest": "50"}, "plan.highest"),
        ({"step": "0"}, "plan.step"),
        ({"checked_on": "June"}, "plan.checked_on"),
    ],
)
def test_r32_a_torque_wrench_that_cannot_be(plan, field) -> None:
    """R32: the field is named."""
    params = Shop().refused("bad_input", "bram", "wrench.enter", wrench="W5", name="x", plan=PLAN | plan)
    assert params["field"] == field


def test_r30_a_helper_does_not_check_torque_wrenches() -> None:
    """R30: builders enter and house-check torque wrenches, helpers don't."""
    from rules.torque_shop import member

    shop = Shop(member("hal", role="helper"))
    shop.refused("role", "hal", "wrench.enter", wrench="W5", name="x", plan=PLAN)
    shop.refused(
        "role",
        "hal",
        "wrench.check",
        wrench="W1",
        kind="house_check",
        checked_ms=NOON,
        until_ms=NOON + 1,
        good=True,
    )


@pytest.mark.parametrize(
    ("typed", "applied", "deviation", "good"),
    [
        ({"mass": "5", "arm": "400", "reading": "20"}, "19.61", "2.0", True),
        ({"mass": "5", "arm": "400", "reading": "20.5"}, "19.61", "4.5", False),
        ({"mass": "11", "mass_unit": "lb", "arm": "15 3/4", "arm_unit": "in", "reading": "19,6"}, "19.57", "0.1", True),
        ({"mass": "5", "arm": "400", "reading": "20", "own_mass": "1,2", "own_arm": "160"}, "21.50", "-7.0", False),
        ({"mass": "11", "mass_unit": "lb", "arm": "15 3/4", "arm_unit": "in", "reading": "21.5", "own_mass": "2.5",
          "own_arm": "6 1/2"}, "21.41", "0.4", True),
    ],
)  # fmt: skip
def test_r11_a_house_check_by_a_weight_is_worked_out(typed, applied, deviation, good) -> None:
    """R11. By hand: 5 kg · 9.80665 m/s² · 0.4 m = 19.6133 N·m (g: 3rd CGPM 1901); 11 lb = 4.98952 kg, 15.75 in = 400.05 mm,
    19.5745 N·m. ISO 6789:2003 lets a tool over 10 N·m deviate 4 %. Its own weight: 1.2 kg · g · 0.16 m = 1.8829 N·m more;
    2.5 lb = 1.13398 kg, 6.5 in = 165.1 mm, 1.8360 N·m more.
    """
    shop = Shop(wrench_row("W9", checks=[], lowest="5", highest="50"))
    shop.do("bram", "wrench.house_check", wrench="W9", **typed)
    (check,) = shop.state.get(TorqueWrench, "W9").checks
    assert check.weighed is not None
    assert (check.weighed.applied, check.weighed.deviation_percent) == (applied, deviation)
    assert (check.kind, check.good, check.weighed.permitted_percent) == ("house_check", good, "4")
    assert check.until_ms == check.at_ms + 30 * DAY


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"mass": "500"}, "mass"),
        ({"arm": "20"}, "arm"),
        ({"arm": "10 1/3", "arm_unit": "in"}, "arm"),
        ({"reading": "51"}, "reading"),
        ({"own_mass": "1.2"}, "own_arm"),
        ({"own_arm": "160"}, "own_mass"),
        ({"own_mass": "40", "own_arm": "160"}, "own_mass"),
    ],
)
def test_r32_a_house_check_that_cannot_be(typed, field) -> None:
    """R32: the field is named; nothing changes."""
    shop = Shop(wrench_row("W9", checks=[], lowest="5", highest="50"))
    fields = {"wrench": "W9", "mass": "5", "arm": "400", "reading": "20"} | typed
    assert shop.refused("bad_input", "bram", "wrench.house_check", **fields)["field"] == field


def test_r11_a_house_check_holds_a_month_whoever_worked_it_out() -> None:
    """R11: one point is no calibration: it holds thirty days at most, also where somebody only says how it came out."""
    shop = Shop()
    said = {"wrench": "W1", "good": True, "checked_ms": NOON}
    refused = shop.refused(
        "bad_input", "bram", "wrench.check", kind="house_check", until_ms=NOON + 31 * DAY, **said
    )
    assert refused["field"] == "until_ms"
    shop.do("bram", "wrench.check", kind="house_check", until_ms=NOON + 30 * DAY, **said)
    shop.do("bram", "wrench.check", kind="certificate", until_ms=NOON + 300 * DAY, **said)


def test_r11_a_house_check_that_fails_lists_what_it_tightened() -> None:
    """R11: as with any failed check, a snag on each group made since the one before."""
    shop = Shop()
    shop.make_final()
    shop.do("bram", "wrench.house_check", wrench="W1", mass="5", arm="400", reading="25")
    assert [snag.group for snag in shop.state.all(Snag)] == ["G1"]
    assert shop.read(1)[0].why_not == "wrench_failed_check"


def test_r11_out_of_use_from_a_moment_on_and_back() -> None:
    """R11: judged for the moment of the reading: one taken before counts though it comes in later."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    before = shop.now_ms
    shop.do("bram", "wrench.retire", wrench="W1")
    shop.refused("already_closed", "bram", "wrench.retire", wrench="W1")
    assert shop.read(1, at=before)[0].counts
    assert shop.read(2)[0].why_not == "wrench_retired"
    shop.do("bram", "wrench.retire", wrench="W1", back=True)
    assert shop.read(2)[0].counts


def test_r11_a_house_check_is_named_as_such_and_holds() -> None:
    """R11: a house check does, within the torque wrench's own interval, and is kept as what it is."""
    shop = Shop(wrench_row("W9", checks=[], check_months=6))
    shop.read(1, 2, 3, pass_no=1)
    fields = {"wrench": "W9", "kind": "house_check", "good": True}
    for wrong in (
        {"checked_ms": NOON, "until_ms": NOON + 250 * DAY},
        {"checked_ms": NOON, "until_ms": NOON},
        {"checked_ms": NOON + DAY, "until_ms": NOON + 2 * DAY},
    ):
        shop.refused("bad_input", "bram", "wrench.check", **fields, **wrong)
    shop.do("bram", "wrench.check", **fields, checked_ms=NOON, until_ms=NOON + 20 * DAY)
    assert shop.state.get(TorqueWrench, "W9").checks[0].kind == "house_check"
    assert shop.read(1, wrench="W9")[0].counts


def test_r11_dropped_is_unfit_at_once_until_the_next_good_check() -> None:
    """R11: anybody of the crew says so; a failed check does not mend it, a good one does."""
    shop = Shop()
    shop.make_final()
    shop.do("kofi", "wrench.dropped", wrench="W1")
    assert not shop.view("stores").wrenches[0].fit
    assert shop.group().state == "final", "what it made before it fell stands"
    assert list(shop.state.all(Snag)) == []
    assert shop.read(1)[0].why_not == "wrench_dropped"
    shop.do(
        "bram",
        "wrench.check",
        wrench="W1",
        kind="house_check",
        checked_ms=shop.now_ms,
        until_ms=shop.now_ms + DAY,
        good=False,
    )
    assert shop.read(1)[0].why_not == "wrench_dropped"
    shop.do(
        "bram",
        "wrench.check",
        wrench="W1",
        kind="house_check",
        checked_ms=shop.now_ms,
        until_ms=shop.now_ms + DAY,
        good=True,
    )
    assert shop.read(1)[0].counts
    assert shop.state.get(TorqueWrench, "W1").dropped_ms is None


def test_r11_found_out_later_lists_every_group_since_the_last_good_check() -> None:
    """R11: listed in the entry, a snag each; nobody knows when it fell, so the readings stand until its next
    check.
    """
    shop = Shop(group_row("G2", critical=False), group_row("G3"), wrench_row("W2"))
    shop.make_final("G1")
    shop.make_final("G2")
    shop.make_final("G3", wrench="W2")
    shop.do("bram", "wrench.dropped", wrench="W1", found_out_later=True)
    assert shop.state.get(TorqueWrench, "W1").dropped_ms is not None
    told = next(e for e in shop.entries if e.kind == "wrench.dropped")
    assert told.data["groups"] == ["G1", "G2"]
    assert sorted(s.group for s in shop.state.all(Snag)) == ["G1", "G2"]
    assert shop.group("G1").state == "final"


def test_r11_work_before_the_last_good_check_is_not_listed() -> None:
    """R11: since its last good check only."""
    shop = Shop()
    shop.make_final()
    shop.do(
        "bram",
        "wrench.check",
        wrench="W1",
        kind="house_check",
        checked_ms=shop.now_ms + 1,
        until_ms=shop.now_ms + DAY,
        good=True,
    )
    shop.do("bram", "wrench.dropped", wrench="W1", found_out_later=True)
    assert shop.entries[-1].data["groups"] == []


def test_r11_readings_after_a_known_drop_stop_to_count_on_critical_groups() -> None:
    """R11: not dropped since, at the time of the reading: after the drop a critical group falls back and its
    countersign lapses; another group gets the deviation it would have got."""
    shop = Shop(group_row("G2", critical=False))
    shop.make_final("G2")
    shop.read(1, 2, 3, pass_no=1)
    shop.read(1)
    fell = shop.now_ms + 1
    shop.read(2)
    shop.read(3)
    shop.read(1, group="G2")
    shop.sign(shop.look())
    shop.do("bram", "wrench.dropped", wrench="W1", found_out_later=True, dropped_ms=fell)
    assert [b.final for b in shop.group("G1").bolts] == [True, False, False]
    assert shop.group("G1").countersign is None
    assert shop.group("G2").state == "final"
    assert [d.group for d in shop.state.all(Deviation)] == ["G2"]


def test_r11_a_failed_check_lists_its_work_too() -> None:
    """R11: what it made since the check before is named, with a snag."""
    shop = Shop()
    shop.make_final()
    shop.do(
        "bram",
        "wrench.check",
        wrench="W1",
        kind="certificate",
        checked_ms=shop.now_ms,
        until_ms=shop.now_ms + DAY,
        good=False,
    )
    assert shop.entries[-2].data["groups"] == ["G1"]
    assert [s.group for s in shop.state.all(Snag)] == ["G1"]


def test_tools_out_and_in() -> None:
    """What is kept: tools are counted where they are; more brought back than noted leaves nobody owing."""
    shop = Shop(Tool(id="jack", plan=ToolPlan(id="jack", name="Trolley jack", count=2)))
    shop.do("aled", "tool.borrow", tool="jack", count=2)
    (tool,) = shop.view("stores").tools
    assert (tool.here, tool.out) == (0, {"aled": 2})
    shop.do("aled", "tool.return", tool="jack")
    assert shop.view("stores").tools[0].here == 1
    shop.do("aled", "tool.return", tool="jack", count=5)
    assert shop.view("stores").tools[0].out == {}
    shop.refused("bad_input", "aled", "tool.borrow", tool="jack", count=0)


def test_stores_view_counts_days_and_knows_when_they_change() -> None:
    """The list says how many days are left, and until when that is right."""
    shop = Shop(wrench_row("W9", checks=[]))
    w1, w9 = shop.view("stores").wrenches
    assert (w1.wrench, w1.fit, w1.days_left) == ("W1", True, 300)
    assert (w9.fit, w9.why[0].code, w9.days_left) == (False, "wrench_unchecked", None)
    shop.now_ms = NOON + 300 * DAY
    view = shop.view("stores")
    assert (view.wrenches[0].fit, view.wrenches[0].why[0].params["days"]) == (False, 1)
    assert view.valid_until_ms == NOON + 301 * DAY
