"""What becomes of a group: run in, interrupted, corrected, undone (R10, R14, R15, R17, R23)."""

from __future__ import annotations

from typing import Any

import pytest

from rules.torque_shop import Shop, group_row, looked, spec, task_row
from yokemate.planfile.model import Step
from yokemate.rules.rows import Check, Countersign, Task
from yokemate.rules.tightening import group_due, group_step_done


def test_r23_running_in_opens_a_loose_end_once_and_final_closes_it() -> None:
    """R23: run in, NOT tight: a loose end at the first crank gate, put right by the step that tightens the
    group.
    """
    shop = Shop()
    shop.do("aled", "torque.run_in", group="G1", bolts=[1, 2], how="run_in", helped=["sofia"])
    shop.do("aled", "torque.run_in", group="G1", bolts=[3], how="run_in")
    (end,) = shop.ends()
    assert (end.kind, end.group, end.gate) == ("run_in", "G1", "crank")
    assert (end.restores_task, end.restores_step) == ("T1", "s1")
    assert shop.group().state == "run_in"
    shop.make_final()
    (end,) = shop.ends()
    assert (end.closed is not None, end.closed_how) == (True, "final")


def test_r23_the_plan_names_the_loose_end_of_a_run_in_step() -> None:
    """R23: what the step's plan opens is what opens, with its own gate and words; its put-back closes it."""
    opens = task_row("T3", 3, Step(id="s1", say="Snug", kind="snug", group="G2", opens=["O1"]))
    tightens = task_row(
        "T4",
        4,
        Step(id="s1", say="Tighten", kind="tighten", group="G2", puts_back=["O1"]),
        Step(id="s2", say="Tighten", kind="tighten", group="G3", puts_back=["O1"]),
    )
    shop = Shop(group_row("G2"), group_row("G3"), opens, tightens)
    shop.do("aled", "torque.run_in", group="G2", bolts=[1, 2, 3], how="snug")
    (end,) = shop.ends()
    assert (end.plan_id, end.what, end.restores_task) == ("O1", "Bolts of G1 run in", "T4")
    shop.make_final("G2")
    assert shop.ends()[0].closed is None, "the other group that it waits for is not final"
    shop.make_final("G3")
    assert shop.ends()[0].closed_how == "final"


def test_r23_run_in_after_final_takes_the_final_back() -> None:
    """R23, R14: fasteners said to be run in after they were final are not tight any more."""
    shop = Shop()
    shop.countersigned()
    shop.do("bram", "torque.run_in", group="G1", bolts=[2], how="run_in")
    assert not shop.bolt(2).final
    assert shop.bolt(2).run_in
    assert shop.group().countersign is None


def test_r23_a_late_run_in_report_changes_nothing_of_later_readings() -> None:
    """R23: run in before, handed over after: the readings stand and nothing is loose."""
    shop = Shop()
    before = shop.now_ms
    shop.countersigned()
    shop.do("bram", "torque.run_in", group="G1", bolts=[1, 2, 3], how="run_in", at=before)
    assert shop.group().state == "final"
    assert shop.group().countersign is not None
    assert shop.ends(closed=None) == []


@pytest.mark.parametrize("kind", ["run_in", "snug", "tighten"])
def test_a_step_on_a_group_is_done_when_the_group_says_so(kind) -> None:
    """R9, R11: nobody ticks it."""
    shop = Shop()
    step = Step(id="s", say="x", kind=kind, group="G1")
    assert not group_step_done(shop.state, step)
    shop.do("aled", "torque.run_in", group="G1", bolts=[1, 2, 3], how="run_in")
    assert group_step_done(shop.state, step) is (kind == "run_in")
    shop.make_final()
    assert group_step_done(shop.state, step)


def test_group_due_names_what_is_lacking() -> None:
    """R11, R13: not final, then not countersigned, then nothing."""
    shop = Shop()
    task = shop.state.get(Task, "T1")
    assert [(d.group, d.lacks) for d in group_due(shop.state, task)] == [("G1", "final")]
    shop.make_final()
    assert [d.lacks for d in group_due(shop.state, task)] == ["countersign"]
    shop.sign(shop.look())
    assert group_due(shop.state, task) == []


def test_r10_stop_here_starts_the_final_pass_again_at_its_first_fastener() -> None:
    """R10: an interrupted final pass loses its readings; earlier passes stay."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    (first,) = shop.read(1)
    stopped = shop.now_ms + 1
    shop.do("aled", "torque.stop_here", group="G1")
    assert shop.reading(first.id).crossed_out_why == "interrupted"
    view = shop.view("torque", group="G1")
    assert (view.next_bolt, view.open_pass, view.starts_again) == (1, 2, True)
    step = shop.view("queue", "aled").taken[0].next_step
    assert (step.pass_no, step.bolt, step.starts_again) == (2, 1, True)
    late = shop.read(2, at=stopped)[0]
    assert late.why_not == "interrupted", "taken before the stop, handed over after it"
    shop.read(1)
    assert not shop.view("queue", "aled").taken[0].next_step.starts_again
    for n in (2, 3):
        shop.read(n)
    assert shop.group().state == "final"


def test_r10_who_only_looks_on_stops_nobodys_pass() -> None:
    """R10: *Stop here* of somebody who is neither on the task nor has read in this pass is kept, and takes nothing back."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    (first,) = shop.read(1)
    shop.do("bram", "torque.stop_here", group="G1")
    assert shop.bolt(1).passes["2"] == first.id


def test_r10_stop_here_with_nothing_begun_is_kept_and_changes_nothing() -> None:
    """R10: a report is never refused; a finished final pass stays."""
    shop = Shop()
    digest = shop.make_final()
    shop.do("aled", "torque.stop_here", group="G1")
    assert shop.group().readings_digest == digest


@pytest.mark.parametrize(
    ("who", "leaves", "fields"),
    [
        ("aled", "task.stuck", {"reason": "cold"}),
        ("aled", "task.go_home", {}),
        ("aled", "task.give_back", {"reason": "time"}),
        ("aled", "task.pass_on", {"to_person": "priya"}),
        ("ines", "task.take_over", {}),
    ],
)
def test_r10_a_task_that_is_left_interrupts_its_groups(who: str, leaves: str, fields: dict[str, Any]) -> None:
    """R10: stuck, going home, given back, passed on, taken over: a begun final pass starts again at its first fastener,
    and what was read before it stays."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    for bolt in (1, 2):
        shop.read(bolt)
    shop.do(who, leaves, task="T1", **fields)
    assert "torque.interrupted" in shop.kinds()
    assert [sorted(shop.bolt(n).passes) for n in (1, 2, 3)] == [["1"], ["1"], ["1"]]
    assert not any(shop.bolt(n).final for n in (1, 2, 3))


def test_r10_what_may_never_be_turned_again_is_not_started_again() -> None:
    """R15 over R10: starting again would turn angle-tightened fasteners twice."""
    shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False))
    shop.read(1, group="G2", pass_no=1, set_value="24")
    shop.do("aled", "torque.stop_here", group="G2")
    assert shop.bolt(1, "G2").final


def test_r17_a_correction_crosses_out_and_replaces_visibly() -> None:
    """R17: the old value stays readable; the new one is judged as if typed right at once; the countersign
    lapses.
    """
    shop = Shop()
    sign = shop.countersigned()
    old = shop.bolt(2).passes["2"]
    shop.do("aled", "torque.correct", reading=old, value="24.6")
    crossed = shop.reading(old)
    assert (crossed.crossed_out_by, crossed.crossed_out_why, crossed.counts) == ("aled", "typed_wrong", False)
    new = shop.reading(shop.bolt(2).passes["2"])
    assert (new.replaces, new.value, new.by, new.device_ms) == (old, "24.6", crossed.by, crossed.device_ms)
    assert shop.group().state == "final"
    assert shop.state.get(Countersign, sign.id).lapsed_why == "corrected"


def test_r17_a_correction_may_take_the_group_back() -> None:
    """R17, R12: corrected to a value outside, the bolt is not final and the group is a loose end again."""
    shop = Shop()
    shop.make_final()
    shop.do("aled", "torque.correct", reading=shop.bolt(1).passes["2"], value="42")
    assert (shop.bolt(1).final, shop.bolt(1).outside) == (False, True)
    assert shop.group().state == "started"
    assert len(shop.ends(closed=None)) == 1


def test_r17_an_outside_typing_error_mended_counts() -> None:
    """R17: 42 typed for 24."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    (wrong,) = shop.read((1, "42"))
    shop.do("aled", "torque.correct", reading=wrong.id, value="24")
    assert (shop.bolt(1).final, shop.bolt(1).outside) == (True, False)


def test_r17_typed_wrong_is_not_turned_again() -> None:
    """R17, R15: where a second reading would not count, a correction does."""
    shop = Shop(group_row("G2", made_to=spec(passes=(100,)), retighten=False))
    (old,) = shop.read((1, "24"), group="G2", pass_no=1, set_value="24")
    shop.do("aled", "torque.correct", reading=old.id, value="24.5")
    assert shop.bolt(1, "G2").passes == {"1": f"c{shop.count}.b1"}


def test_r17_a_correction_is_no_way_round_one_press_per_bolt() -> None:
    """R11, R17: correcting a click of many into a click changes nothing; typing what it showed does."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    many = shop.read(1, 2)
    shop.do("aled", "torque.correct", reading=many[0].id)
    assert not shop.bolt(1).final
    shop.do("aled", "torque.correct", reading=many[1].id, value="24")
    assert shop.bolt(2).final


def test_r17_correcting_an_overtaken_reading_leaves_the_later_one() -> None:
    """R17: the later reading stands."""
    shop = Shop()
    shop.make_final()
    early = shop.bolt(1).passes["2"]
    (later,) = shop.read((1, "24.2"))
    shop.do("aled", "torque.correct", reading=early, value="23.5")
    assert shop.bolt(1).passes["2"] == later.id
    assert shop.reading(f"c{shop.count}.b1").why_not == "superseded"


def test_r32_what_is_crossed_out_is_not_corrected_again() -> None:
    """R32: the one that stands is."""
    shop = Shop()
    (old,) = shop.read((1, "12"), pass_no=1)
    shop.do("aled", "torque.correct", reading=old.id, value="13")
    shop.refused("bad_input", "aled", "torque.correct", reading=old.id, value="14")


def test_r15_an_undone_single_use_fastener_needs_a_new_one() -> None:
    """R15: undone, it is not final until a new one is recorded, whatever is read on it."""
    shop = Shop(group_row("G2", single_use=True))
    shop.make_final("G2")
    shop.do("aled", "torque.report_loosened", group="G2", bolts=[1, 2, 3])
    assert all(b.needs_new for b in shop.group("G2").bolts)
    shop.read(1, 2, 3, group="G2", pass_no=1)
    assert shop.bolt(1, "G2").passes == {}
    shop.do("aled", "torque.new_fastener", group="G2", bolts=[1, 2, 3])
    assert shop.bolt(1, "G2").fitted_new == 1
    shop.make_final("G2")
    assert shop.group("G2").state == "final"


def test_r15_fasteners_that_were_never_turned_need_no_new_one() -> None:
    """R15 speaks of what was undone; a reusable one never needs a new one."""
    shop = Shop(group_row("G2", single_use=True))
    shop.read(1, group="G2", pass_no=1)
    shop.do("aled", "torque.report_loosened", group="G2", bolts=[1, 2])
    assert [b.needs_new for b in shop.group("G2").bolts] == [True, False, False]
    shop.make_final("G1")
    shop.do("aled", "torque.report_loosened", group="G1", bolts=[1])
    assert not shop.bolt(1).needs_new


def test_r14_undoing_lapses_everything_and_begins_a_new_round() -> None:
    """R14, R13, R26: readings crossed out, countersign lapsed, a loose end; who touched it before may check
    now.
    """
    shop = Shop()
    sign = shop.countersigned()
    ids = [b.passes["2"] for b in shop.group().bolts]
    shop.do("bram", "torque.report_loosened", group="G1", bolts=[1, 2, 3])
    assert all(shop.reading(id).crossed_out_why == "undone" for id in ids)
    assert shop.state.get(Countersign, sign.id).lapsed_why == "undone"
    assert (shop.group().round, shop.group().touched, shop.group().state) == (1, [], "undone")
    assert [e.kind for e in shop.ends(closed=None)] == ["undone"]


def test_r14_one_undone_fastener_lapses_the_countersign_of_the_group() -> None:
    """R14: the others keep their readings, the group is not final, the round goes on."""
    shop = Shop()
    shop.countersigned()
    shop.do("bram", "torque.report_loosened", group="G1", bolts=[2])
    group = shop.group()
    assert (group.state, group.countersign, group.round) == ("started", None, 0)
    assert [b.final for b in group.bolts] == [True, False, True]
    assert "aled" in group.touched


def test_r26_a_late_report_of_loosening_leaves_later_readings() -> None:
    """R26: loosened before it was read again, handed over afterwards."""
    shop = Shop()
    loosened = shop.now_ms + 1
    shop.countersigned()
    shop.do("bram", "torque.report_loosened", group="G1", bolts=[1, 2, 3], at=loosened)
    assert shop.group().countersign is not None
    assert shop.entries[-1].data["late"] == [1, 2, 3]


def test_r15_a_reading_from_before_the_undoing_does_not_count() -> None:
    """R15: handed over late, it says so."""
    shop = Shop()
    shop.make_final()
    before = shop.now_ms
    shop.do("aled", "torque.report_loosened", group="G1", bolts=[1, 2, 3])
    assert shop.read(1, pass_no=1, at=before)[0].why_not == "undone_since"


def test_asking_for_a_check_is_noted_until_it_is_signed() -> None:
    """R13: the second person's list shows since when it waits."""
    shop = Shop()
    shop.make_final()
    shop.do("aled", "torque.ask_check", group="G1")
    assert shop.group().check_asked_ms == shop.now_ms
    shop.sign(shop.look())
    assert shop.group().check_asked_ms is None


def test_r14_a_new_reading_crosses_out_a_check_that_waits_for_its_pin() -> None:
    """R14: Bolt 3 was read again: the check is crossed out, and signing says which bolt."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    shop.read(3)
    assert shop.state.get(Check, check.id).state == "lapsed"
    params = shop.refused(
        "readings_changed",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[check.id],
        readings_digests={"G1": shop.group().readings_digest},
    )
    assert params["bolts"] == [3]
    shop.refused(
        "readings_changed",
        "sofia",
        "torque.note_check",
        group="G1",
        readings_digest=check.readings_digest,
        bolts=looked(shop.group()),
    )
