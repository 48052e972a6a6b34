"""A task as a tag: its state in a word, its flags, one reason. The same in the queue and in the plan."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.rules.availability import Availability, Wait, sign_off_lifts
from yokemate.rules.frame import State
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Gate, Group, Lift, Member, Task
from yokemate.rules.taking import has_skill, minor_level, people_missing, people_on, skilled_missing
from yokemate.rules.tightening import group_step_done, needs_countersign, open_bolts, open_pass, starts_again
from yokemate.rules.views.frame import ViewPart

CardState = Literal[
    "waiting", "ready", "taken", "stuck", "check_due", "closed", "ready_undone", "left_out", "not_for_you"
]

SIGNAL = {
    "under_car": "danger", "fuel_open": "danger", "exhaust_co": "danger", "springs": "danger", "jacking": "danger",
    "sparks": "danger", "cranking": "warning", "engine_running": "warning", "live_battery": "warning", "lift": "warning",
    "brake_fluid": "warning", "hot_coolant": "warning", "rotating": "warning", "grind_drill": "warning", "heat": "warning",
    "hands_in": "warning", "wheels_off": "warning", "eye": "warning", "pinch_crush": "caution", "solder": "caution",
    "cut_edge": "caution", "solvent": "caution", "noise": "caution",
}  # fmt: skip
_GRAVITY = {"danger": 0, "warning": 1, "caution": 2}
_SAYS = {
    "lift_waits": "The lift of {title} at {when_ms} waits for it.",
    "planned_lift_waits": "The lift of {title}, planned for {when_ms}, waits for it.",
    "gate_waits": "{gate} waits for it: about {hours} h of work to go along this chain.",
    "task_waits": "One task waits for it.",
    "tasks_wait": "{count} tasks wait for it.",
    "nothing_waits": "Nothing waits for it; it can be done any time.",
    "task": "{about} comes first.",
    "lag": "{why}: ready about {until_ms}.",
    "gate": "The gate comes first: {gate}.",
    "part": "{part} is missing.",
    "left_out": "Left out of this build.",
    "help_wanted": "{holder_person} wants another pair of hands.",
    "is_stuck": "{holder_person} is stuck. Another pair of eyes may help.",
    "people_missing": "{missing} more must join before work goes on.",
    "skilled_missing": "{missing} more with the {skill} skill must join before work goes on.",
    "goes_better": "It goes better with {count}.",
    "may_watch": "You may watch this one.",
    "needs_skill": "This needs the {skill} skill. You can join and learn.",
    "minor_no": "Not for under-18s.",
    "minor_watches": "Under-18s watch this one: join as soon as somebody has taken it.",
    "minor_needs_adult": "Under-18s do this with an adult: join one who has taken it.",
    "viewer": "You can look, not change.",
    "taken": "{holder_person} has it.",
}


class Say(ViewPart):
    """One reason. `{..._person}` and `{..._ms}` in the words are filled in by who shows them."""

    code: str
    says: str
    params: dict[str, Any] = {}


class LiftedBy(ViewPart):
    """One's own sign-off of `task` that still lies on one's phone: the wait is crossed off there, unless a command of one
    of the kinds `unless` about that task lies there too.
    """

    task: str
    unless: list[str]


class Wanted(Say):
    """One thing that a task waits for."""

    lifted_by: LiftedBy | None = None


class CardFlag(ViewPart):
    kind: str
    about: str | None = None
    count: int | None = None
    person: str | None = None


class NextStep(ViewPart):
    number: int
    of: int
    say: str
    kind: str
    group: str | None = None
    pass_no: int | None = None
    bolt: int | None = None
    bolts: int | None = None
    starts_again: bool = False  # its final pass was interrupted (R10)


class Card(ViewPart):
    task: str
    title: str
    stage: str
    zone: str
    state: CardState
    holder: str | None
    mates: list[str]
    flags: list[CardFlag]
    reason: Say | None
    not_for_me: Say | None  # why its reader could not take it even when it is ready
    waits: list[Wanted]
    signed_by: list[str]
    next_step: NextStep | None
    minutes: int


def say(code: str, **params: Any) -> Say:
    return Say(code=code, says=_SAYS[code], params=params)


def say_refused(refused: Refused) -> Say:
    """What would be answered to whoever tried now."""
    return Say(code=refused.code, says=refused.refusal.says, params=refused.params)


def say_wait(state: State, task: Task, wait: Wait) -> Wanted:
    unless = sign_off_lifts(state, task, wait) if task.state == "open" else None
    lifted_by = None if unless is None else LiftedBy(task=wait.about, unless=list(unless))
    params = {"about": wait.about, **wait.params}
    return Wanted(code=wait.kind, says=_SAYS[wait.kind], params=params, lifted_by=lifted_by)


def card(
    state: State,
    task: Task,
    found: Availability | None,
    reason: Say | None,
    *,
    not_for_me: Say | None = None,
    held: bool = False,
) -> Card:
    """`held`: ready but for what goes on beside it just now, which is the reason."""
    ready = found is not None and found.ready and not held
    return Card(
        task=task.id,
        title=task.plan.title,
        stage=task.plan.stage,
        zone=task.plan.zone,
        state="not_for_you" if ready and not_for_me is not None else _word(task, ready),
        holder=task.holder,
        mates=[mate.person for mate in task.mates],
        flags=_flags(state, task, found),
        reason=reason,
        not_for_me=not_for_me,
        waits=[say_wait(state, task, wait) for wait in found.waits] if found is not None else [],
        signed_by=_signed_by(state, task),
        next_step=_next(state, task) if task.state == "taken" else None,
        minutes=task.plan.minutes[1],
    )


def _word(task: Task, ready: bool) -> CardState:
    if task.state == "left_out":
        return "left_out"
    if task.stuck is not None:
        return "stuck"
    if task.state == "done":
        return "check_due"
    if task.state == "closed":
        return "closed"
    if task.state == "taken":
        return "taken"
    if ready:
        return "ready_undone" if task.undone is not None else "ready"
    return "waiting"


def _flags(state: State, task: Task, found: Availability | None) -> list[CardFlag]:
    plan = task.plan
    worst = min((h for h in plan.hazards if h in SIGNAL), key=lambda h: _GRAVITY[SIGNAL[h]], default=None)
    flags = [CardFlag(kind=SIGNAL[worst], about=worst)] if worst is not None else []
    lift = state.find(Lift, plan.lift) if plan.lift else None
    if lift is None and max(plan.must_people, plan.better_people) > 1:
        flags.append(CardFlag(kind="hands", count=max(plan.must_people, plan.better_people)))
    if lift is not None:
        lifters = sum(s.kind == "lifter" for s in lift.plan.supports) + lift.plan.guides
        flags.append(CardFlag(kind="lift", count=max(lifters, plan.must_people)))
    groups = [state.find(Group, s.group) for s in plan.steps if s.kind == "tighten" and s.group]
    if any(g is not None and needs_countersign(g) for g in groups):
        flags.append(CardFlag(kind="torque_check"))
    if plan.hold_point:
        flags.append(CardFlag(kind="hold_point"))
    if task.stuck is not None:
        flags.append(CardFlag(kind="stuck", about=task.stuck.reason))
    if found is not None and found.waits:
        flags.append(CardFlag(kind="waiting", about=found.waits[0].about))
    return flags


def _signed_by(state: State, task: Task) -> list[str]:
    if task.signed is None or task.state not in ("done", "closed"):
        return []
    return list(dict.fromkeys([task.signed.by, *(pair.by for pair in task.holds.values())]))


def _next(state: State, task: Task) -> NextStep | None:
    for number, step in enumerate(task.plan.steps, start=1):
        if step.id in task.ticks or group_step_done(state, step):
            continue
        group = state.find(Group, step.group) if step.group else None
        at = open_pass(group) if group is not None and step.kind == "tighten" else None
        queue = open_bolts(group, at) if group is not None and at is not None else []
        return NextStep(
            number=number, of=len(task.plan.steps), say=step.say, kind=step.kind, group=step.group, pass_no=at,
            bolt=queue[0] if queue else None, bolts=len(group.bolts) if group is not None else None,
            starts_again=group is not None and at is not None and starts_again(state, group),
        )  # fmt: skip
    return None


def help_reason(state: State, task: Task, member: Member) -> Say | None:
    """Why this taken task wants this person, strongest first; None when it does not."""
    level = minor_level(task, member)
    if level == "watch":
        return say("may_watch")
    if level == "no":
        return None
    missing = people_missing(state, task)
    if missing:
        return say("people_missing", missing=missing)
    missing = skilled_missing(state, task)
    if missing and level is None and has_skill(task, member):
        return say("skilled_missing", missing=missing, skill=str(task.plan.lead_skill).replace("_", " "))
    if task.stuck is not None:
        return say("is_stuck", holder_person=task.holder)
    if task.help_wanted:
        return say("help_wanted", holder_person=task.holder)
    if len(people_on(task)) < task.plan.better_people:
        return say("goes_better", count=task.plan.better_people)
    return None


def gate_name(state: State, id: str | None) -> str | None:
    gate = state.find(Gate, id) if id else None
    return gate.plan.name if gate else None
