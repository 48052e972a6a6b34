"""A crew at work in any order: after every step the rules that must never be broken hold."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from properties.garage_day import DAY_PLAN, GROUP, HEAVIER_TARGET, Day
from properties.witness import what_counts
from yokemate.rules.rows import (
    Countersign,
    Deviation,
    Gate,
    Group,
    Lift,
    LooseEnd,
    Member,
    Proposal,
    Reading,
    Task,
    Under,
    Visit,
)

ADULTS = ("ines", "bram", "sofia", "aled", "priya")
EVERYBODY = (*ADULTS, "kofi", "vera")
TASKS = ("T1", "T2", "T3", "T4", "T5", "T6")
PLACES = {"front": "bram", "rear": "aled", "caller": "sofia"}
adults, anybody, tasks = st.sampled_from(ADULTS), st.sampled_from(EVERYBODY), st.sampled_from(TASKS)
bolts = st.lists(st.integers(1, 3), min_size=1, max_size=3, unique=True)
late_ms = st.sampled_from([0, 0, 0, 30_000, 600_000])
any_of = st.integers(0, 9)


class Crew(RuleBasedStateMachine):
    """Seven people, six tasks, a critical bolt group, a lift, a gate. Being refused is part of it."""

    def __init__(self) -> None:
        super().__init__()
        self.day = Day()
        self.steps = 0

    def holder(self, task: str) -> str:
        return self.day.get(Task, task).holder or "aled"

    # --- work (R5 to R10)

    @rule(who=anybody, task=tasks, how=st.sampled_from(["take", "take", "take_over", "join", "leave"]))
    def come_and_go(self, who: str, task: str, how: str) -> None:
        self.day.attempt(who, f"task.{how}", task=task)

    @rule(task=tasks)
    def work_on(self, task: str) -> None:
        """Whoever holds it ticks what is next."""
        row = self.day.get(Task, task)
        step = next((s for s in row.plan.steps if s.id not in row.ticks), None)
        if row.holder is not None and step is not None:
            self.day.attempt(row.holder, "task.tick", task=task, steps=[step.id])

    @rule(task=tasks, how=st.sampled_from(["stuck", "give_back", "go_home"]), who=st.none() | adults)
    def hand_back(self, task: str, how: str, who: str | None) -> None:
        self.day.report(who or self.holder(task), f"task.{how}", task=task, reason="time")

    @rule(task=tasks, to=anybody)
    def pass_on(self, task: str, to: str) -> None:
        self.day.attempt(self.holder(task), "task.pass_on", task=task, to_person=to)

    @rule(task=tasks, how=st.sampled_from(["go_on", "sign_off", "sign_off"]))
    def go_on_or_sign_off(self, task: str, how: str) -> None:
        self.day.attempt(self.holder(task), f"task.{how}", task=task)

    @rule(who=anybody)
    def sign_hold(self, who: str) -> None:
        self.day.attempt(who, "task.sign_hold", task="T2", step="end")

    @rule(task=tasks)
    def finish(self, task: str) -> None:
        """Take it, do all of it, sign it off: a short way to states that lie deep."""
        self.day.attempt("bram", "task.take", task=task)
        for _ in self.day.get(Task, task).plan.steps:
            self.work_on(task)
        self.go_on_or_sign_off(task, "sign_off")

    @rule(who=adults, task=tasks, leave_out=st.booleans())
    def deviate(self, who: str, task: str, leave_out: bool) -> None:
        step = self.day.get(Task, task).plan.steps[0].id
        words = {"manual_says_text": "m" * 64, "we_did_text": "w" * 64, "why_text": "y" * 64}
        self.day.report(who, "deviation.propose", task=task, step=step, leave_out=leave_out, **words)

    @rule(who=adults, answer=st.none() | st.just("a" * 64))
    def accept_deviation(self, who: str, answer: str | None) -> None:
        waiting = [row for row in self.day.all(Deviation) if row.state == "waiting"]
        for row in waiting[:1]:
            self.day.attempt(who, "deviation.accept", deviation=row.id, answer_text=answer)

    # --- torque and the second person (R11 to R17)

    @rule(who=adults, some=bolts, late=late_ms, value=st.sampled_from([None, None, "24", "30"]))
    def read(self, who: str, some: list[int], late: int, value: str | None) -> None:
        self.day.read(who, some, late_ms=late, value=value)

    @rule(who=adults, helped=st.none() | adults)
    def tighten_all(self, who: str, helped: str | None) -> None:
        self.day.read(who, [1, 2, 3], pass_no=1, helped=helped)
        target = self.day.get(Group, GROUP).spec.target.torque
        self.day.read(who, [1, 2, 3], pass_no=2, helped=helped, value=target)

    @rule(who=adults, some=bolts, how=st.sampled_from(["run_in", "snug"]), late=late_ms)
    def run_in(self, who: str, some: list[int], how: str, late: int) -> None:
        self.day.report(who, "torque.run_in", late, group=GROUP, bolts=some, how=how)

    @rule(who=adults, some=bolts, late=late_ms)
    def loosened(self, who: str, some: list[int], late: int) -> None:
        self.day.report(who, "torque.report_loosened", late, group=GROUP, bolts=some)

    @rule(who=adults, value=st.sampled_from(["24", "24.5", "31"]), which=any_of)
    def correct(self, who: str, value: str, which: int) -> None:
        standing = [r for r in self.day.all(Reading) if r.crossed_out_by is None]
        if standing:
            reading = standing[which % len(standing)].id
            self.day.report(who, "torque.correct", reading=reading, value=value)

    @rule(who=adults, how=st.sampled_from(["stop_here", "ask_check"]))
    def stop_or_ask(self, who: str, how: str) -> None:
        self.day.report(who, f"torque.{how}", group=GROUP)

    @rule(who=anybody, moved=st.sampled_from([0, 0, 0, 2]))
    def check(self, who: str, moved: int) -> None:
        self.day.check(who, moved)

    @rule(who=anybody, whose=st.none() | anybody)
    def countersign(self, who: str, whose: str | None) -> None:
        self.day.countersign(who, whose or who)

    @rule(who=adults, read_by=adults)
    def tighten_check_and_sign(self, who: str, read_by: str) -> None:
        self.tighten_all(read_by, None)
        self.day.check(who)
        self.day.countersign(who, who)

    @rule(who=adults)
    def send_back(self, who: str) -> None:
        self.day.attempt(who, "torque.send_back", group=GROUP, bolts=[2], reason="not_clear")

    # --- the lift (R18, R19, R22)

    @rule(how=st.sampled_from(["call", "stand_down"]))
    def call(self, how: str) -> None:
        fields = {"when_ms": self.day.world.now_ms} if how == "call" else {}
        self.day.attempt("ines", f"lift.{how}", lift="L1", **fields)

    @rule(who=st.sampled_from(("ines", "bram")), mass_kg=st.sampled_from(["20", "33", "45", "130"]))
    def weigh(self, who: str, mass_kg: str) -> None:
        load = {"mass_kg": mass_kg, "cg_x_mm": "500", "cg_y_mm": "0", "how_known": "scales"}
        self.day.attempt(who, "lift.weigh", lift="L1", **load)

    @rule(who=adults, places=st.sampled_from([PLACES, {"front": "kofi"}]))
    def by_voice(self, who: str, places: dict[str, str]) -> None:
        times = {"lifted_ms": self.day.world.now_ms - 60_000, "set_down_ms": self.day.world.now_ms}
        self.day.report(who, "lift.report_by_voice", lift="L1", places=places, **times)

    @rule(who=anybody, place=st.sampled_from(sorted(PLACES)))
    def take_place(self, who: str, place: str) -> None:
        self.day.attempt(who, "lift.take_place", lift="L1", place=place)

    @rule(who=anybody, what=st.sampled_from(["leave_place", "ready", "set_down", "sign_landed", "lower"]))
    def at_the_lift(self, who: str, what: str) -> None:
        self.day.attempt(who, f"lift.{what}", lift="L1")

    @rule(who=anybody)
    def stop(self, who: str) -> None:
        assert self.day.attempt(who, "lift.stop", lift="L1") is not None, "R19: STOP was refused"

    @rule(
        minutes=st.sampled_from([0, 0, 6]),
        word=st.sampled_from(["lift", "lift", "go_on"]),
        tidy=st.booleans(),
        then=st.sampled_from(["", "weighed", "by voice"]),
    )
    def lift(self, minutes: int, word: str, tidy: bool, then: str) -> None:
        """All that a lift wants, as far as it can be had; a while later the word. `then`: what comes between, or after."""
        for who in [row.id for row in self.day.all(Under)] if tidy else []:
            self.under(who, True)
        if tidy:
            self.call("stand_down")
            self.weigh("ines", "20")
        self.call("call")
        for place, who in PLACES.items():
            self.take_place(who, place)
            self.at_the_lift(who, "ready")
        caller = self.day.get(Lift, "L1").places.get("caller", "sofia")
        for place in ("front", "rear"):
            self.day.attempt(caller, "lift.roll", lift="L1", place=place)
        self.day.attempt(caller, "lift.clear_floor", lift="L1", children_out=True, nobody_beneath=True)
        self.day.world.later(minutes=minutes)
        if then == "weighed":
            self.weigh("bram", "45")
        self.day.attempt(caller, f"lift.{word}", lift="L1")
        if then == "by voice":
            self.by_voice("aled", {"front": "kofi"})

    @rule(going=st.booleans())
    def child(self, going: bool) -> None:
        visits = [v.id for v in self.day.all(Visit) if v.out_ms is None]
        if going and visits:
            self.day.report("ines", "crew.visitor_out", visit=visits[0])
        elif not going:
            self.day.report("ines", "crew.visitor_in", what="child")

    # --- undoing, loose ends, the gate, the plan, the people (R23 to R28)

    @rule(who=anybody, task=tasks)
    def undo_task(self, who: str, task: str) -> None:
        self.day.undo(who, "task", task)

    @rule(who=anybody)
    def undo_group(self, who: str) -> None:
        self.day.undo(who, "group", GROUP)

    @rule(who=st.sampled_from((*ADULTS, "kofi")), kind=st.sampled_from(["dropped", "left_in"]))
    def report_loose(self, who: str, kind: str) -> None:
        self.day.report(who, "loose.report", kind=kind)

    @rule(who=adults, which=any_of)
    def make_good(self, who: str, which: int) -> None:
        ends = [e for e in self.day.all(LooseEnd) if e.closed is None]
        if ends:
            self.day.attempt(who, "loose.make_good", loose_end=ends[which % len(ends)].id)

    @rule(first=anybody, second=anybody, gate=st.sampled_from(["crank", "drive"]))
    def open_gate(self, first: str, second: str, gate: str = "crank") -> None:
        if self.day.attempt(first, "gate.propose", gate=gate, confirmed=["Out of gear"]):
            proposal = [p for p in self.day.all(Proposal) if p.state == "waiting"][-1]
            self.day.attempt(second, "two.second", proposal=proposal.id)

    @rule(second=adults)
    def ready_the_gate(self, second: str) -> None:
        """All that the gate wants, as far as it can be had, then both words."""
        self.tighten_check_and_sign("sofia", "bram")
        self.finish("T1")
        self.finish("T2")
        self.sign_hold("sofia")
        for which in range(3):
            self.make_good("aled", which)
        self.open_gate("ines", second)

    @rule(running=st.booleans())
    def engine(self, running: bool) -> None:
        self.day.report("aled", "engine.say", running=running)

    @rule(plan=st.sampled_from([DAY_PLAN, HEAVIER_TARGET]))
    def load_plan(self, plan: Any) -> None:
        assert self.day.attempt("ines", "plan.load", plan=plan, options={}) is not None

    @rule(who=st.sampled_from(("priya", "aled")), age=st.sampled_from(["adult", "with_adult"]))
    def age(self, who: str, age: str) -> None:
        self.day.attempt("ines", "crew.change_member", person=who, minor=age)

    @rule(who=adults, out=st.booleans())
    def under(self, who: str, out: bool) -> None:
        self.day.report(who, "hazard.out" if out else "hazard.under")

    @rule(who=anybody, back=st.booleans())
    def sign_in_or_out(self, who: str, back: bool) -> None:
        self.day.report(who, "crew.sign_in" if back else "crew.sign_out")

    # --- what must never be otherwise

    @invariant()
    def a_countersign_stands_for_exactly_what_it_was_given_for(self) -> None:
        """R13, R14."""
        group = self.day.get(Group, GROUP)
        if group.countersign is None:
            return
        sign = self.day.get(Countersign, group.countersign)
        assert sign.lapsed_ms is None and group.state == "final"
        assert sign.readings_digest == group.readings_digest != ""
        assert self.day.witness.basis[sign.id] == what_counts(self.day.world.state)
        for bolt in group.bolts:
            reading = self.day.get(Reading, bolt.passes[str(group.passes)])
            assert reading.counts and reading.crossed_out_by is None
            assert sign.by not in (reading.by, *reading.helped), "R13: signed their own work"

    @invariant()
    def a_task_has_one_holder(self) -> None:
        """R6."""
        for task in self.day.all(Task):
            mates = [mate.person for mate in task.mates]
            assert (task.holder is not None) == (task.state == "taken" or bool(task.signed)), task
            if task.state == "taken":
                assert self.day.witness.holder[task.id] == task.holder
            assert len({task.holder, *mates}) == len(mates) + 1

    @invariant()
    def no_minor_holds_a_place(self) -> None:
        """R8, R18. One who became a minor under a load that was up keeps it until it is down, and nobody lifts on."""
        for lift in self.day.all(Lift):
            if lift.state in ("called", "crewed", "in_place"):
                for person in lift.places.values():
                    assert self.day.get(Member, person).minor is None, f"{person} holds a place"

    @invariant()
    def an_open_gate_has_nothing_against_it(self) -> None:
        """R25: T1 and T2 closed, the group countersigned, no loose end of the gate open."""
        if self.day.get(Gate, "crank").state == "open":
            assert [self.day.get(Task, id).state for id in ("T1", "T2")] == ["closed", "closed"]
            assert self.day.get(Group, GROUP).countersign is not None
            assert [e for e in self.day.all(LooseEnd) if e.closed is None and e.gate == "crank"] == []
        if self.day.get(Gate, "drive").state == "open":
            assert self.day.get(Gate, "crank").state == "open" and self.day.get(Task, "T4").state == "closed"
            assert [e for e in self.day.all(LooseEnd) if e.closed is None] == []

    @invariant()
    def nothing_is_due_on_a_closed_task(self) -> None:
        """R5, R9, R13: steps, group, countersign, hold point, deviations; one that is only done lacks something."""
        group = self.day.get(Group, GROUP)
        waiting = {row.task for row in self.day.all(Deviation) if row.state == "waiting"}
        for task in self.day.all(Task):
            due = (task.id == "T1" and group.countersign is None) or task.id in waiting
            due = due or (task.id == "T2" and "end" not in task.holds)
            if task.state in ("done", "closed"):
                assert (task.state == "done") == due, f"{task.id} is {task.state}"
                missing = {step.id for step in task.plan.steps} - set(task.ticks)
                assert missing <= {"s2"} and (not missing or group.state == "final")

    @invariant()
    def what_is_loose_is_said(self) -> None:
        """R23: a group with fasteners turned and not final has a loose end, and a final one has none of its own."""
        group = self.day.get(Group, GROUP)
        own = [e for e in self.day.all(LooseEnd) if e.group == GROUP and e.closed is None]
        if group.state in ("run_in", "snug", "undone"):
            assert own, group.state
        if group.state == "final":
            assert own == []

    @invariant()
    def replaying_gives_the_same_rows(self) -> None:
        """R1, R2, R16; every few steps, and once more at the end."""
        self.steps += 1
        if self.steps % 15 == 0:
            self.day.world.check_ledger()

    def teardown(self) -> None:
        self.day.world.check_ledger()


OFTEN = settings(stateful_step_count=35, deadline=None, suppress_health_check=[HealthCheck.too_slow])
TestCrew = Crew.TestCase
TestCrew.settings = settings(OFTEN, max_examples=40)


class Longer(Crew):
    """The same, for long."""


TestCrewForLong = pytest.mark.long(Longer.TestCase)
TestCrewForLong.settings = settings(OFTEN, max_examples=250)
