"""Corners of torque and checks: other tasks' people, no drag, gaps, two checks at once."""

from __future__ import annotations

import pytest

from rules.torque_shop import (
    DAY,
    NOON,
    Shop,
    check_row,
    group_row,
    looked,
    member,
    spec,
    task_row,
    wrench_row,
)
from yokemate.planfile.model import Step
from yokemate.rules.rows import Check, Deviation, LooseEnd
from yokemate.rules.rows.tasks import Mate


def _tightens(id: str, group: str, **more):
    return task_row(id, 5, Step(id="s1", say="Tighten", kind="tighten", group=group), **more)


def test_r13_work_on_another_group_touches_nothing_here() -> None:
    """R13: who tightened G2 may check G1."""
    shop = Shop(group_row("G2"), _tightens("T2", "G2", state="taken", holder="sofia", worked=["sofia"]))
    shop.make_final("G1")
    shop.look("sofia")


@pytest.mark.parametrize("more", [{"holder": "ines"}, {"mates": [Mate(person="ines", learner=True)]}])
def test_r13_who_holds_or_has_joined_the_task_counts_as_having_helped(more) -> None:
    """R13: the holder and a learner, although neither has read anything."""
    shop = Shop(group_row("G2"), _tightens("T2", "G2", state="taken", **more))
    shop.make_final("G2", who="aled", task=None) if "mates" in more else shop.make_final("G2", who="ines")
    code = "fresh_eyes"
    shop.refused(
        code,
        "ines",
        "torque.note_check",
        group="G2",
        readings_digest=shop.group("G2").readings_digest,
        bolts=looked(shop.group("G2")),
    )


def test_r12_at_a_right_angle_no_arm_is_needed() -> None:
    """R12: an adapter at 90° needs no correction (NAVEDTRA 14008); nor does one of no length."""
    shop = Shop(wrench_row("W9", arm_mm=None))
    shop.read(1, 2, 3, pass_no=1)
    assert shop.read(1, wrench="W9", extension_mm="80", extension_angle_deg="90")[0].counts
    assert shop.read(2, wrench="W9", extension_mm="0")[0].counts
    assert [w.passes != [] for w in shop.view("torque", group="G1", extension_mm="80").wrenches] == [
        True,
        False,
    ]


def test_r12_a_drag_of_nothing_is_a_figure() -> None:
    """R12, R32: somebody measured and there was none."""
    assert Shop().read(1, pass_no=1, drag="0")[0].counts


def test_r12_a_gap_is_part_of_the_figure() -> None:
    """R12: without its gap it does not count; the build's 5 % on 2 mm is 1.9 to 2.1, ends included."""
    made = spec("24", passes=(100,), kind="gap", gap_mm="2")
    shop = Shop(group_row("G2", 4, made_to=made))
    (none,) = shop.read((1, "24"), group="G2", pass_no=1, set_value="24")
    assert (none.why_not, none.why_params) == ("gap_missing", {"gap_mm": "2"})
    shop.do(
        "aled",
        "torque.read",
        group="G2",
        pass_no=1,
        wrench="W1",
        set_value="24",
        unit="n_m",
        bolts=[{"n": n, "reading": "24", "gap_mm": gap} for n, gap in ((1, "1.9"), (2, "2,1"), (3, "2.2"))],
    )
    assert [b.final for b in shop.group("G2").bolts] == [True, True, False, False]
    assert shop.reading(f"c{shop.count}.b3").why_not == "outside_gap"


def test_r13_sent_back_takes_the_waiting_check_with_it() -> None:
    """R13: the check that found nothing before can't be signed any more."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    shop.do("ines", "torque.send_back", group="G1", bolts=[2], reason="not_clear")
    assert shop.state.get(Check, check.id).state == "sent_back"
    assert shop.entries[-1].kind in ("group.not_final", "loose_end.opened")


def test_r13_two_checks_at_once_one_signature() -> None:
    """R13, R14: the first to sign signs; the other's check found the same and needs no PIN any more."""
    shop = Shop()
    shop.make_final()
    first, other = shop.look("sofia"), shop.look("ines")
    shop.sign(first)
    assert shop.state.get(Check, other.id).state == "still_holds"
    shop.refused(
        "check_missing",
        "ines",
        "torque.countersign",
        pin=True,
        checks=[other.id],
        readings_digests={"G1": other.readings_digest},
    )


@pytest.mark.parametrize(
    "kind", ["torque.run_in", "torque.new_fastener", "torque.report_loosened", "torque.send_back"]
)
def test_r32_bolts_that_are_not_there(kind) -> None:
    """R32: the field is named, whoever asks."""
    shop = Shop()
    shop.make_final()
    more = {"how": "run_in"} if kind == "torque.run_in" else {}
    more |= {"reason": "other"} if kind == "torque.send_back" else {}
    assert shop.refused("bad_input", "sofia", kind, group="G1", bolts=[9], **more)["field"] == "bolts"


def test_r15_a_new_one_is_for_the_bolt_named() -> None:
    """R15: one new nut does for one bolt."""
    shop = Shop(group_row("G2", single_use=True))
    shop.read(1, 2, 3, group="G2", pass_no=1)
    shop.do("aled", "torque.report_loosened", group="G2", bolts=[1, 2])
    shop.do("aled", "torque.new_fastener", group="G2", bolts=[1])
    assert [(b.needs_new, b.fitted_new) for b in shop.group("G2").bolts] == [
        (False, 1),
        (True, 0),
        (False, 0),
    ]


def test_r15_a_new_fastener_starts_from_nothing() -> None:
    """R15, R14: a new nut takes its own reading and the countersign away; the others stay."""
    shop = Shop()
    shop.countersigned()
    shop.do("aled", "torque.new_fastener", group="G1", bolts=[2])
    assert [b.final for b in shop.group().bolts] == [True, False, True]
    assert shop.group().countersign is None
    assert shop.bolt(2).fitted_new == 1


def test_r11_the_deviation_of_a_drop_names_the_task_of_the_readings() -> None:
    """R11: it waits where the work was."""
    shop = Shop(group_row("G2", critical=False), _tightens("T2", "G2"))
    shop.make_final("G2")
    shop.do("bram", "wrench.dropped", wrench="W1", found_out_later=True, dropped_ms=NOON)
    assert [d.task for d in shop.state.all(Deviation)] == ["T2"]


def test_r11_fit_from_the_moment_of_its_check() -> None:
    """R11: at the very moment of the check there is one; at the moment its interval ends, none."""
    shop = Shop(wrench_row("W9", checks=[check_row(NOON + 5000, NOON + 2 * DAY)]))
    shop.read(1, 2, 3, pass_no=1)
    shop.now_ms += 3 * DAY
    assert shop.read(1, wrench="W9", at=NOON + 4999)[0].why_not == "wrench_unchecked"
    assert shop.read(1, wrench="W9", at=NOON + 5000)[0].counts
    assert shop.read(2, wrench="W9", at=NOON + 2 * DAY)[0].why_not == "wrench_overdue"


def test_r23_a_loose_end_of_another_group_stays() -> None:
    """R23: G1 final closes what G1 had left loose and nothing else."""
    shop = Shop(group_row("G2"), _tightens("T2", "G2"))
    for group in ("G1", "G2"):
        shop.do("aled", "torque.run_in", group=group, bolts=[1, 2, 3], how="run_in")
    dropped = LooseEnd(id="d", what="Nut", kind="dropped", group="G1", opened_by="aled", opened_ms=NOON)
    shop.state.rows["loose_end"]["d"] = shop.first.rows["loose_end"]["d"] = dropped
    shop.make_final("G1")
    assert sorted((e.group, e.kind) for e in shop.ends(closed=None)) == [("G1", "dropped"), ("G2", "run_in")]


def test_r10_only_the_groups_that_the_task_tightens_are_interrupted() -> None:
    """R10: a task that only ran a group in has no final pass to lose."""
    from yokemate.rules.decide.group_changes import interrupt_groups
    from yokemate.rules.frame import Ctx, Deciding
    from yokemate.rules.rows import Task

    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    shop.read(1)
    deciding = Deciding(shop.state, Ctx("c", "aled", "p", shop.now_ms + 1, shop.now_ms + 1))
    interrupt_groups(deciding, shop.state.get(Task, "T0"), "stuck")
    assert deciding.entries == []


def test_r29_a_guest_whose_day_is_over_is_not_offered_as_second_person() -> None:
    """R29, R13: who may check is who may act at all; who has left is nobody."""
    shop = Shop(member("guest", guest_until_ms=NOON - 1), member("gone", left=True))
    shop.make_final()
    assert [p.person for p in shop.view("torque", group="G1").who_may_check] == ["ines", "sofia"]


def test_r9_a_deviation_of_a_reading_without_a_task_is_told_and_accepted() -> None:
    """R11: a group that no task in the build tightens has readings too. What counts only as a deviation waits in the
    queues of those who may accept it, by the name of its group, until they have."""
    old = wrench_row("W9", checks=[check_row(until=NOON - DAY)])
    gone = task_row("T1", 1, Step(id="s1", say="Tighten", kind="tighten", group="G1"), state="left_out")
    shop = Shop(group_row(critical=False, countersign=False), old, gone)
    shop.read(1, 2, 3, pass_no=1)
    shop.read(1, wrench="W9")
    (deviation,) = shop.state.all(Deviation)
    assert deviation.task == ""
    (waits,) = shop.view("queue", "ines").differently
    assert (waits.deviation, waits.task, waits.group, waits.title) == (deviation.id, None, "G1", "Group G1")
    assert shop.view("queue", "bram").differently == []  # neither lead nor deputy
    shop.do("ines", "deviation.accept", deviation=deviation.id)
    assert shop.view("queue", "ines").differently == []
