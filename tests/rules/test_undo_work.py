"""Undoing signed work (R26): what comes back is shown, echoed, and happens exactly so."""

from __future__ import annotations

from typing import Any

import pytest

from rules.torque_shop import NOON, Shop, group_row, task_row
from yokemate.planfile.model import After, GatePlan, LooseEndPlan, Standing, Step
from yokemate.rules.frame import Row
from yokemate.rules.rows import Build, Countersign, Gate, LooseEnd, Note, Task
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.tasks import Tick
from yokemate.rules.standing import wants_to_open
from yokemate.rules.undo_list import UndoList

SIGNED: dict[str, Any] = {
    "state": "closed", "signed": Pair(by="aled", at_ms=NOON), "done_at_ms": NOON, "closed_at_ms": NOON,
}  # fmt: skip


def follower(id: str, order: int, state: str, after: str = "T1") -> Task:
    row = task_row(id, order, Step(id="s1", say="Go on"), state=state)
    return row.model_copy(update={"plan": row.plan.model_copy(update={"after": [After(task=after)]})})


class Shed(Shop):
    """T1 (tightens G1) is closed, G1 countersigned by Sofia; T5 is open, T6 taken, T7 closed, all after T1;
    T8 comes after T7. The crank gate lists T1 and is open."""

    def __init__(self, *rows: Row) -> None:
        crank = GatePlan(
            id="crank", name="First crank", kind="first_crank", standing=[Standing(task_closed="T1")]
        )
        super().__init__(
            Gate(id="crank", plan=crank, order=1),
            follower("T5", 5, "open"), follower("T6", 6, "taken"), follower("T7", 7, "closed"),
            follower("T8", 8, "closed", after="T7"), *rows,
        )  # fmt: skip
        self.countersigned()
        held = self.state.get(Task, "T1")
        for state in (self.state, self.first):
            state.rows["task"]["T1"] = held.model_copy(
                update=SIGNED | {"holder": None, "holds": {"end": Pair(by="sofia", at_ms=NOON)}}
            )
        self.do("ines", "gate.propose", gate="crank", confirmed=[])
        self.do("sofia", "two.second", proposal=f"c{self.count}.proposal")
        assert self.state.get(Gate, "crank").state == "open"

    def shown(self, who: str = "aled", **about: str) -> Any:
        return self.view("undo", who, **about)

    def undo(self, who: str = "aled", digest: str | None = None, **about: str) -> UndoList:
        shown = self.shown(who, **about)
        kind = "task.undo" if "task" in about else "torque.undo"
        self.do(who, kind, reason="damaged", list_digest=digest or shown.list_digest, **about)
        answer: UndoList = shown.comes_back
        return answer

    def task(self, id: str) -> Task:
        return self.state.get(Task, id)

    def held(self) -> list[str]:
        """What the crank gate wants for its being built on undone work."""
        wants = wants_to_open(self.state, self.state.get(Gate, "crank"), self.now_ms)
        return [want.key for want in wants if want.kind == "built_on_undone"]


def signatures(back: UndoList) -> set[tuple[str, str, str]]:
    return {(sign.what, sign.by, sign.about) for sign in back.signatures}


@pytest.mark.parametrize("about", [{"task": "T1"}, {"group": "G1"}])
def test_r26_all_that_comes_back_is_shown_before(about: dict[str, str]) -> None:
    """Final and countersign of the group, sign-off and hold point, the gate that lists them, loose ends,
    followers that wait again and those that are marked."""
    back = Shed().shown(**about).comes_back
    assert back.tasks_again == ["T1"]
    assert back.groups == ["G1"]
    assert signatures(back) == {
        ("sign_off", "aled", "T1"), ("hold", "sofia", "T1"), ("countersign", "sofia", "G1"),
    }  # fmt: skip
    assert back.gates_shut == ["crank"]
    assert back.waits_again == ["T5"]
    assert back.built_on == ["T6", "T7"]
    kinds = {(end.kind, end.about) for end in back.loose_ends}
    assert kinds == ({("undone", "G1"), ("undone", "T1")} if "task" in about else {("undone", "G1")})


@pytest.mark.parametrize("about", [{"task": "T1"}, {"group": "G1"}])
def test_r26_what_was_shown_happens(about: dict[str, str]) -> None:
    shed = Shed()
    shed.undo(**about)
    task = shed.task("T1")
    assert (task.state, task.signed, task.holds, task.ticks, task.done_at_ms) == ("open", None, {}, {}, None)
    assert {pair.by for pair in task.crossed_out} == {"aled", "sofia"}
    assert task.undone is not None
    assert task.undone.by == "aled"
    assert shed.group().state == "undone"
    assert shed.group().countersign is None
    assert all(sign.lapsed_ms is not None for sign in shed.state.all(Countersign))
    assert shed.state.get(Gate, "crank").state == "shut"
    marks = {id: shed.task(id).built_on_undone for id in ("T5", "T6", "T7", "T8")}
    assert marks == {"T5": [], "T6": ["T1"], "T7": ["T1"], "T8": []}
    assert [shed.task(id).state for id in ("T5", "T6", "T7")] == ["open", "taken", "closed"]


def test_r26_the_lead_clears_the_mark_with_a_reason_and_the_gate_is_held_no_more() -> None:
    """R26: nobody else clears it, and only what is marked; until then the gate wants it looked at."""
    shed = Shed()
    shed.undo(task="T1")
    assert shed.held() == ["built_on_undone:T6", "built_on_undone:T7"]
    shed.refused("role", "aled", "plan.clear_mark", task="T7", reason_text="p-9")
    shed.refused("nothing_to_clear", "ines", "plan.clear_mark", task="T5", reason_text="p-9")
    shed.do("ines", "plan.clear_mark", task="T7", reason_text="p-9")
    assert shed.held() == ["built_on_undone:T6"]
    assert (shed.entries[-1].kind, shed.entries[-1].data["reason"]) == ("task.mark_cleared", "p-9")
    assert shed.task("T7").state == "closed"


def test_r26_another_list_than_the_one_shown_is_refused() -> None:
    """T5 is taken between the look and the press: now it would be marked, so the list is shown again."""
    shed = Shed()
    shown = shed.shown(task="T1")
    for state in (shed.state, shed.first):
        state.rows["task"]["T5"] = follower("T5", 5, "taken")
    shed.refused(
        "changed_since", "aled", "task.undo", task="T1", reason="damaged", list_digest=shown.list_digest
    )
    shed.refused(
        "changed_since", "aled", "torque.undo", group="G1", reason="damaged", list_digest=shown.list_digest
    )
    assert shed.undo(task="T1").built_on == ["T5", "T6", "T7"]


def test_r26_the_list_is_the_same_for_whoever_looks() -> None:
    shed = Shed()
    digests = {shed.shown(who, task="T1").list_digest for who in ("aled", "ines", "sofia", "kofi")}
    assert len(digests) == 1


@pytest.mark.parametrize("who", ["kofi", "priya", "sofia", "ines"])
def test_r30_everybody_but_viewers_reports_undone(who: str) -> None:
    shed = Shed()
    shed.undo(who, task="T1")
    assert shed.task("T1").state == "open"
    shed.refused("viewer", "vera", "task.undo", task="T7", reason="damaged", list_digest="0")


def test_r26_nothing_signed_is_nothing_to_undo() -> None:
    shed = Shed()
    for task in ("T5", "T6"):
        shed.refused("nothing_to_undo", "aled", "task.undo", task=task, reason="damaged", list_digest="0")
    assert not shed.shown(task="T5").may_undo
    shed.undo(group="G1")
    shed.refused("nothing_to_undo", "aled", "torque.undo", group="G1", reason="damaged", list_digest="0")


def test_r26_a_note_on_undoing_is_kept() -> None:
    shed = Shed()
    digest = shed.shown(group="G1").list_digest
    shed.do("aled", "torque.undo", group="G1", reason="damaged", list_digest=digest, note_text="p-4")
    assert [(note.about, note.text) for note in shed.state.all(Note)] == [("G1", "p-4")]


def test_r26_a_fastener_loosened_takes_the_sign_off_with_it() -> None:
    """The kept form, from a phone without connection, has the same consequences for task and followers."""
    shed = Shed()
    shed.do("kofi", "torque.report_loosened", group="G1", bolts=[2])
    assert (shed.task("T1").state, shed.task("T1").signed) == ("open", None)
    assert shed.task("T7").built_on_undone == ["T1"]
    assert shed.state.get(Gate, "crank").state == "shut"


def test_r26_a_hold_point_after_the_group_falls_while_the_task_is_still_taken() -> None:
    shed = Shed()
    held = {"state": "taken", "holder": "aled", "signed": None, "done_at_ms": None, "closed_at_ms": None}
    for state in (shed.state, shed.first):
        state.rows["task"]["T1"] = shed.task("T1").model_copy(update=held)
    shed.undo(group="G1")
    assert (shed.task("T1").state, shed.task("T1").holder, shed.task("T1").holds) == ("taken", "aled", {})
    assert shed.task("T7").built_on_undone == []


def test_r26_the_task_undone_is_a_loose_end_until_it_is_signed_again() -> None:
    shed = Shed()
    shed.undo(task="T7")
    made = next(e for e in shed.ends(kind="undone") if e.restores_task == "T7")
    assert (made.gate, made.closed) == ("crank", None)
    for state in (shed.state, shed.first):
        state.rows["task"]["T7"] = shed.task("T7").model_copy(update=SIGNED)
    shed.entries.clear()
    shed.first = shed.state
    shed.do("aled", "torque.ask_check", group="G1")
    assert shed.state.get(LooseEnd, made.id).closed_how == "put_back"


def test_r26_what_the_undone_work_had_put_back_is_loose_again() -> None:
    """The planned loose end comes back under its own name, for the gate the plan gave it."""
    build = Build(
        id="build", name="Q", units="metric", made_by="ines",
        loose_ends=[LooseEndPlan(id="X1", what="Top hose off", kind="loosened", gate="roll")],
    )  # fmt: skip
    back = Step(id="s1", say="Clamp on", kind="put_back", puts_back=["X1"])
    closed = LooseEnd(
        id="E1", what="Top hose off", kind="loosened", plan_id="X1", gate="roll",
        opened_by="aled", opened_ms=1, closed=Pair(by="aled", at_ms=2), closed_how="put_back",
    )  # fmt: skip
    shed = Shed(build, closed, task_row("T9", 9, back, ticks={"s1": Tick(by="aled", at_ms=2)}, **SIGNED))
    shown = shed.undo(task="T9")
    assert ("Top hose off", "roll") in {(end.what, end.gate) for end in shown.loose_ends}
    made = next(e for e in shed.ends(plan_id="X1") if e.closed is None)
    assert (made.restores_task, made.restores_step) == ("T9", "s1")


def test_r15_undoing_says_which_single_use_fasteners_must_be_new() -> None:
    shed = Shed(group_row(single_use=True))
    shown = shed.undo(group="G1")
    assert [(new.group, new.bolts) for new in shown.need_new] == [("G1", [1, 2, 3])]
    assert all(bolt.needs_new for bolt in shed.group().bolts)


def test_r26_left_out_work_that_was_signed_is_undone_and_stays_left_out() -> None:
    shed = Shed(
        task_row("T9", 9, Step(id="s1", say="Go"), **SIGNED | {"state": "left_out", "to_be_undone": True})
    )
    shed.undo(task="T9")
    assert (shed.task("T9").state, shed.task("T9").to_be_undone, shed.task("T9").signed) == (
        "left_out",
        False,
        None,
    )
    assert [e for e in shed.ends(kind="undone") if e.restores_task == "T9"] == []


def test_r26_undoing_on_a_phone_whose_clock_is_behind_undoes_all_the_same() -> None:
    """Undoing is sent at once: the service's clock counts, and what was shown is what happens."""
    shed = Shed()
    digest = shed.shown(group="G1").list_digest
    shed.do("aled", "torque.undo", at=1, group="G1", reason="damaged", list_digest=digest)
    assert shed.group().state == "undone"


def test_r32_undo_is_of_one_thing() -> None:
    from yokemate.rules.refusals import Refused

    for about in ({}, {"task": "T1", "group": "G1"}):
        with pytest.raises(Refused) as caught:
            Shed().shown(**about)
        assert caught.value.code == "bad_input"


def test_undo_view_names_what_it_lists() -> None:
    assert Shed().shown(task="T1").names["crank"] == "First crank"
