"""Who may take or join a task now: the conditions that taking, joining, passing on and the queue share (R5 to R8, R27, R28)."""

from __future__ import annotations

from yokemate.planfile.model import MinorsMay
from yokemate.rules.availability import availability, shut_gates
from yokemate.rules.frame import State
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.hazard_pairs import NEVER_ALONE, GoesOn, clashes_with, tag_on
from yokemate.rules.presence import came_last, is_alone, is_in
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member, Task

_STRICTNESS: dict[str, int] = {"no": 0, "watch": 1, "with_adult": 2}


def minor_level(task: Task, member: Member) -> MinorsMay | None:
    """The stricter of what the task and the membership allow; None for an adult (R8)."""
    if member.minor is None:
        return None
    return min((task.plan.minors, member.minor), key=lambda level: _STRICTNESS[level])


def people_on(task: Task) -> list[str]:
    return [*([task.holder] if task.holder else []), *(mate.person for mate in task.mates)]


def not_on(task: Task) -> Refused:
    """For who is not on it: whoever has it is named, for it may have changed hands while they were away."""
    if task.state == "taken":
        return Refused("another_has_it", task=task.id, holder_person=task.holder)
    return Refused("not_on_it", task=task.id)


def adults_on(state: State, task: Task) -> list[str]:
    """Those who count towards must-have people: no minors (R8). A grown-up who learns is a pair of hands."""
    members = [state.find(Member, person) for person in people_on(task)]
    return [m.id for m in members if m is not None and m.minor is None]


def skilled(state: State, skill: str) -> list[str]:
    """Who has it and could lead, whoever came last first."""
    return [m.id for m in _adults(state) if skill in m.skills]


def _who_may_lead(state: State, task: Task) -> list[str]:
    """Adults who could take it, whoever came last first."""
    return [m.id for m in _adults(state) if m.role != "viewer" and has_skill(task, m)]


def _adults(state: State) -> list[Member]:
    there = [m for m in state.all(Member) if not m.left and m.minor is None]
    return sorted(there, key=came_last)


def has_skill(task: Task, member: Member) -> bool:
    return task.plan.lead_skill is None or task.plan.lead_skill in member.skills


def need_ready(state: State, task: Task, now_ms: int) -> None:
    """R5: predecessors, lags, gates, single-use parts."""
    if task.state == "left_out":
        raise Refused("left_out", task=task.id)
    found = availability(state, task, now_ms)
    gates = [wait for wait in found.waits if wait.kind == "gate"]
    if found.waits and len(gates) == len(found.waits):
        raise Refused("gate_shut", task=task.id, gate=gates[0].params["gate"])
    if found.waits:
        words = ", ".join(str(wait.params.get("why") or wait.about) for wait in found.waits)
        raise Refused(
            "waits",
            task=task.id,
            waits_for=words,
            ready_at_ms=found.ready_at_ms,
            ask_person=first_lead(state),
        )


def need_suits(state: State, task: Task, member: Member, leads: bool) -> None:
    """R8: skill to lead, age. A minor needs an adult who is on it already."""
    level = minor_level(task, member)
    if level == "no":
        raise Refused("minor_no", task=task.id, ask_person=first_lead(state))
    if level is not None and leads:
        raise Refused("minor_needs_adult", task=task.id, ask_people=_who_may_lead(state, task)[:3])
    if leads and not has_skill(task, member):
        raise Refused(
            "needs_skill",
            skill=str(task.plan.lead_skill).replace("_", " "),
            ask_people=skilled(state, str(task.plan.lead_skill))[:3],
        )


def harm(state: State, task: Task, person: str, going_on: list[GoesOn] | None = None) -> Refused | None:
    """R27: what goes on beside it and could hurt somebody, or a tag that hangs on it."""
    for clash in clashes_with(state, task.plan.hazards, person, task.id, going_on):
        return Refused("hazard_clash", holder_person=clash.person, at_it=clash.at_it, waits=clash.waits)
    return tag_hangs(state, task)


def tag_hangs(state: State, task: Task) -> Refused | None:
    tag = tag_on(state, task.plan.hazards)
    return Refused("tag_hangs", owner_person=tag.owner, what=tag.what) if tag is not None else None


def not_now(
    state: State, task: Task, person: str, now_ms: int, going_on: list[GoesOn] | None = None
) -> Refused | None:
    """Why this person may not begin it just now: somebody could be hurt (R27), nobody else is here (R28)."""
    why_not = harm(state, task, person, going_on)
    if why_not is None and NEVER_ALONE & set(task.plan.hazards) and is_alone(state, person, now_ms):
        return Refused("alone")
    return why_not


def need_no_harm(state: State, task: Task, person: str, now_ms: int) -> None:
    why_not = not_now(state, task, person, now_ms)
    if why_not is not None:
        raise why_not


def people_missing(state: State, task: Task) -> int:
    """How many must-have people are still to join; buddy work needs two adults throughout (R7, R28)."""
    must = max(task.plan.must_people, 2 if task.plan.buddy else 1)
    return max(0, must - len(adults_on(state, task)))


def skilled_missing(state: State, task: Task) -> int:
    """How many of those who must have the skill are still to join: one leads, the plan may ask for more (R8)."""
    able = [person for person in adults_on(state, task) if has_skill(task, state.get(Member, person))]
    return max(0, task.plan.skilled_people - len(able)) if task.plan.lead_skill is not None else 0


def needs(state: State, task: Task, member: Member) -> bool:
    """Whether taken work lacks just this person, wants help, or is stuck and wants another pair of eyes (R7, R8)."""
    if task.help_wanted or task.stuck is not None:
        return True
    grown = member.minor is None
    skilled = has_skill(task, member) and skilled_missing(state, task) > 0
    return grown and (skilled or people_missing(state, task) > 0)


def who_is_missing(state: State, task: Task) -> Refused | None:
    """Whose absence from the task keeps its steps from being done (R7, R8, R28); None when all who must have joined."""
    missing = people_missing(state, task)
    if missing and task.plan.buddy and task.plan.must_people <= 2:
        return Refused("buddy_gone")
    if missing:
        return Refused("people_needed", needed=task.plan.must_people, missing=missing)
    missing = skilled_missing(state, task)
    if missing:
        skill = str(task.plan.lead_skill)
        return Refused(
            "skilled_needed", needed=task.plan.skilled_people, skill=skill.replace("_", " "), missing=missing,
            ask_people=[person for person in skilled(state, skill) if person not in people_on(task)][:3],
        )  # fmt: skip
    return None


def must_wait(state: State, task: Task, person: str, now_ms: int) -> Refused | None:
    """What has changed since it was taken and stops it: a gate that shut (R25), or who is here (R28)."""
    gates = shut_gates(state, task)
    if gates:
        return Refused("gate_shut", task=task.id, gate=gates[0].plan.name)
    return left_alone(state, task, person, now_ms)


def left_alone(state: State, task: Task, person: str, now_ms: int) -> Refused | None:
    """Who must be in the garage and is not: the second of buddy work, anybody else beside what is never done alone (R28)."""
    here = [adult for adult in adults_on(state, task) if is_in(state.find(Member, adult), now_ms)]
    if task.plan.buddy and len(here) < 2:
        return Refused("buddy_gone")
    if NEVER_ALONE & set(task.plan.hazards) and is_alone(state, person, now_ms):
        return Refused("alone")
    return None
