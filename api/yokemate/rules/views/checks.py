"""Checks that wait for a second person, and the walk round that one PIN signs (R13)."""

from __future__ import annotations

from yokemate.rules.decide.checks import allowed_methods
from yokemate.rules.frame import State
from yokemate.rules.hold_points import END, HoldDue, holds_due, worked_on
from yokemate.rules.presence import crew_changes_ms
from yokemate.rules.rows import Check, Group, Member
from yokemate.rules.rows.torque import BoltCheck
from yokemate.rules.second_person import touchers, why_not_second
from yokemate.rules.tightening import needs_countersign, steps_of
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.torque_parts import MayCheck, may_check


class CheckWaits(ViewPart):
    """A final group that lacks its countersign."""

    group: str
    name: str
    critical: bool
    task: str | None
    zone: str | None
    bolts: list[int]
    readings_digest: str
    methods: list[str]
    asked_ms: int | None
    i_may: bool
    why_i_may_not: str | None  # refusal code
    who_may: list[MayCheck]
    nobody_here: bool  # nobody who may check is in today
    my_check: str | None  # my own check that waits for my PIN


class WalkStop(ViewPart):
    """One group of the walk round: exactly what the countersign would say."""

    check: str
    group: str
    name: str
    readings_digest: str
    bolts: list[BoltCheck]
    at_ms: int


class HoldWaits(ViewPart):
    """A hold point that can be signed now."""

    task: str
    step: str  # "end", or the hold step
    title: str
    say: str | None  # the hold step's own words; None at the end of the task
    zone: str
    i_may: bool
    why_i_may_not: str | None  # refusal code
    who_may: list[MayCheck]
    nobody_here: bool


class ChecksView(View):
    waiting_for_me: list[CheckWaits]
    waiting_for_others: list[CheckWaits]
    holds_for_me: list[HoldWaits] = []
    holds_for_others: list[HoldWaits] = []
    walk: list[WalkStop]  # my checks, PIN due


@view("checks", "/checks", NoParams, ChecksView)
def checks(state: State, viewer: Viewer, params: NoParams) -> ChecksView:
    """Which checks wait for me, which for others and for whom, and what my PIN would sign."""
    groups = sorted(
        (g for g in state.all(Group) if _waits(g)), key=lambda g: (g.check_asked_ms is None, g.id)
    )
    waits = [_wait(state, viewer, group) for group in groups]
    mine = sorted(
        (c for c in state.all(Check) if c.by == viewer.person and c.state == "pin_due"), key=lambda c: c.at_ms
    )
    holds = [_hold(state, viewer, due) for due in holds_due(state)]
    return ChecksView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=crew_changes_ms(state, viewer.now_ms),
        waiting_for_me=[w for w in waits if w.i_may],
        waiting_for_others=[w for w in waits if not w.i_may],
        holds_for_me=[h for h in holds if h.i_may],
        holds_for_others=[h for h in holds if not h.i_may],
        walk=[
            WalkStop(
                check=c.id,
                group=c.group,
                name=state.get(Group, c.group).plan.name,
                readings_digest=c.readings_digest,
                bolts=c.bolts,
                at_ms=c.at_ms,
            )
            for c in mine
        ],
    )


def _waits(group: Group) -> bool:
    return (
        not group.left_out
        and group.state == "final"
        and group.countersign is None
        and needs_countersign(group)
    )


def _hold(state: State, viewer: Viewer, due: HoldDue) -> HoldWaits:
    task, step = due.task, due.step
    why = why_not_second(state.find(Member, viewer.person), worked_on(task))
    people = may_check(state, worked_on(task), viewer.now_ms)
    return HoldWaits(
        task=task.id,
        step=step.id if step is not None else END,
        title=task.plan.title,
        say=step.say if step is not None else None,
        zone=task.plan.zone,
        i_may=why is None,
        why_i_may_not=why,
        who_may=people,
        nobody_here=not any(p.here for p in people),
    )


def _wait(state: State, viewer: Viewer, group: Group) -> CheckWaits:
    touched = touchers(state, group)
    why = why_not_second(state.find(Member, viewer.person), touched)
    task = next((task for task, _ in steps_of(state, group.id, "tighten")), None)
    people = may_check(state, touched, viewer.now_ms)
    own = [
        c.id
        for c in state.all(Check)
        if c.group == group.id and c.by == viewer.person and c.state == "pin_due"
    ]
    return CheckWaits(
        group=group.id,
        name=group.plan.name,
        critical=group.plan.critical,
        task=task.id if task else None,
        zone=task.plan.zone if task else None,
        bolts=[bolt.n for bolt in group.bolts],
        readings_digest=group.readings_digest,
        methods=allowed_methods(group),
        asked_ms=group.check_asked_ms,
        i_may=why is None,
        why_i_may_not=why,
        who_may=people,
        nobody_here=not any(p.here for p in people),
        my_check=own[-1] if own else None,
    )
