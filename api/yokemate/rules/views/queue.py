"""The queue: what do I do now, and why that? (R5 to R8)"""

from __future__ import annotations

from yokemate.rules.availability import Availability, availability
from yokemate.rules.deviations import waiting_for
from yokemate.rules.frame import State
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.hazard_pairs import goes_on
from yokemate.rules.presence import crew_changes_ms
from yokemate.rules.queue import Weight, rank, remaining, weights
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Group, Lift, Member, Task
from yokemate.rules.taking import has_skill, minor_level, not_now, people_on
from yokemate.rules.views.cards import Card, Say, card, gate_name, help_reason, say, say_refused
from yokemate.rules.views.checks import CheckWaits, HoldWaits, checks
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view


class QueueParams(ViewPart):
    """`person`: the lead may look at anyone's queue, read only."""

    person: str | None = None


class DifferentlyWaits(ViewPart):
    """Done differently from the manual; a reading may have no task, then it is the bolt group's."""

    deviation: str
    task: str | None
    group: str | None
    title: str
    critical: bool
    by: str
    at_ms: int


class QueueView(View):
    person: str
    taken: list[Card]
    start_now: Card | None
    checks: list[CheckWaits]
    holds: list[HoldWaits] = []  # hold points that wait for this person
    differently: list[DifferentlyWaits] = []  # what was done differently and waits for this person's yes
    help_wanted: list[Card]
    after_that: list[Card]
    not_yet: list[Card]
    not_for_you: list[Card]
    ask_person: str | None
    holding_up: list[str]  # when nothing is ready: the tasks that most wait for


@view("queue", "/queue", QueueParams, QueueView)
def queue(state: State, viewer: Viewer, params: QueueParams) -> QueueView:
    """What this person has taken, what to start now and why, who wants help, which checks wait for them."""
    person = params.person or viewer.person
    if person != viewer.person and viewer.role != "lead":
        raise Refused("role", role=viewer.role, ask_person=first_lead(state))
    member = state.get(Member, person)
    found = {
        task.id: availability(state, task, viewer.now_ms) for task in remaining(state) if task.state == "open"
    }
    weight = weights(state)
    zone = _where(state, person)
    tasks = sorted(
        (t for t in remaining(state) if t.id in weight),
        key=lambda t: rank(t, weight[t.id], suits=has_skill(t, member), zone=zone),
    )
    mine = [t for t in tasks if t.state == "taken" and person in people_on(t)]
    ready, not_yet, not_for_you = _sorted(state, member, tasks, found, weight, viewer.now_ms)
    wanting = _help(state, member, tasks)
    own = checks(state, Viewer(person, member.role, viewer.now_ms), NoParams())
    ends = [crew_changes_ms(state, viewer.now_ms), *(f.ready_at_ms for f in found.values())]
    return QueueView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=min((ms for ms in ends if ms is not None and ms > viewer.now_ms), default=None),
        person=person,
        taken=[card(state, t, None, None) for t in mine],
        start_now=ready[0] if ready else None,
        checks=own.waiting_for_me,
        holds=own.holds_for_me,
        differently=_differently(state, person, viewer.now_ms),
        help_wanted=wanting,
        after_that=ready[1:],
        not_yet=not_yet,
        not_for_you=[] if person != viewer.person else not_for_you,
        ask_person=first_lead(state),
        holding_up=_holding_up(found),
    )


def _differently(state: State, person: str, now_ms: int) -> list[DifferentlyWaits]:
    return [
        DifferentlyWaits(
            deviation=one.id,
            task=task.id if task is not None else None,
            group=one.group,
            title=task.plan.title if task is not None else state.get(Group, one.group or "").plan.name,
            critical=one.critical,
            by=one.by,
            at_ms=one.at_ms,
        )
        for one in waiting_for(state, person, now_ms)
        if (task := state.find(Task, one.task)) is not None or one.group is not None
    ]


def _where(state: State, person: str) -> str | None:
    """The zone of the last work: where this person already is."""
    worked = [t for t in state.all(Task) if person in t.worked and t.taken_at_ms is not None]
    last = max(worked, key=lambda t: (t.taken_at_ms or 0, t.order), default=None)
    return last.plan.zone if last else None


def _sorted(
    state: State,
    member: Member,
    tasks: list[Task],
    found: dict[str, Availability],
    weight: dict[str, Weight],
    now_ms: int,
) -> tuple[list[Card], list[Card], list[Card]]:
    ready: list[Card] = []
    not_yet: list[Card] = []
    not_for_you: list[Card] = []
    going_on = goes_on(state)
    for task in tasks:
        if task.state != "open":
            continue
        mine = found[task.id]
        why_not = not_for(task, member)
        if why_not is not None and mine.ready:
            not_for_you.append(card(state, task, mine, why_not, not_for_me=why_not))
        elif mine.ready and (harm := not_now(state, task, member.id, now_ms, going_on)) is not None:
            not_yet.append(card(state, task, mine, say_refused(harm), held=True))
        elif mine.ready:
            ready.append(card(state, task, mine, why(state, task, weight[task.id])))
        else:
            not_yet.append(card(state, task, mine, None, not_for_me=why_not))
    return ready, not_yet, not_for_you


def not_for(task: Task, member: Member) -> Say | None:
    """Why this person could not take it even when it is ready (R8)."""
    if member.role == "viewer":
        return say("viewer")
    level = minor_level(task, member)
    if level == "no":
        return say("minor_no")
    if level == "watch":
        return say("minor_watches")
    if level is not None:
        return say("minor_needs_adult")
    if not has_skill(task, member):
        return say("needs_skill", skill=str(task.plan.lead_skill).replace("_", " "))
    return None


def why(state: State, task: Task, weight: Weight) -> Say:
    """Why this one: what waits for it."""
    lift = state.find(Lift, weight.lift) if weight.lift else None
    if lift is not None and lift.when_ms is not None and lift.task != task.id:
        return say("lift_waits", title=lift.plan.title, when_ms=lift.when_ms)
    if weight.planned is not None:
        planned = state.get(Lift, weight.planned[1])
        return say("planned_lift_waits", title=planned.plan.title, when_ms=weight.planned[0])
    gate = gate_name(state, weight.gate)
    if gate is not None:
        return say("gate_waits", gate=gate, hours=max(1, round(weight.tail_minutes / 60)))
    if weight.followers:
        return say("task_waits") if weight.followers == 1 else say("tasks_wait", count=weight.followers)
    return say("nothing_waits")


def _help(state: State, member: Member, tasks: list[Task]) -> list[Card]:
    """Taken work that this person may join: must-have people first, then asked for, then what goes better, then what
    somebody young may only watch.
    """
    if member.role == "viewer":
        return []
    wanting = []
    for task in tasks:
        if task.state != "taken" or member.id in people_on(task):
            continue
        reason = help_reason(state, task, member)
        if reason is not None:
            wanting.append(card(state, task, None, reason))
    strength = {
        "people_missing": 0,
        "skilled_missing": 0,
        "help_wanted": 1,
        "is_stuck": 1,
        "goes_better": 2,
        "may_watch": 3,
    }
    return sorted(wanting, key=lambda c: strength[c.reason.code] if c.reason else 4)


def _holding_up(found: dict[str, Availability]) -> list[str]:
    """The tasks that most others wait for."""
    counts: dict[str, int] = {}
    for one in found.values():
        for wait in one.waits:
            if wait.kind == "task":
                counts[wait.about] = counts.get(wait.about, 0) + 1
    return sorted(counts, key=lambda id: (-counts[id], id))[:3]
