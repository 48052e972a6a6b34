"""What the plan of the days goes round: lifts that were called, and work in hand. Pure."""

from __future__ import annotations

from yokemate.planning import problem as p
from yokemate.rules.days_frame import SLIP_MS, Frame
from yokemate.rules.frame import State
from yokemate.rules.lift_crew import places_of, unanswered
from yokemate.rules.presence import is_in
from yokemate.rules.rows import DaysPlan, Lift, Member, Task
from yokemate.rules.rows.days import Block
from yokemate.rules.taking import adults_on

LIFT_MIN = 45  # for a called lift of no task, of which nobody said how long it lasts; common practice


def crew(state: State) -> list[Member]:
    """Who may be planned with, in the order of their ids."""
    return sorted(
        (m for m in state.all(Member) if not m.left and m.role != "viewer"), key=lambda member: member.id
    )


def holders(state: State, task: Task) -> frozenset[str]:
    """The adults who have a task in hand, and are still of the crew."""
    mine = adults_on(state, task) if task.state == "taken" else []
    return frozenset(m.id for m in crew(state) if m.id in mine)


def called(state: State, lift: Lift | None, at: Frame, now: int, people: int) -> p.Fixed | None:
    """A called lift stands at its time with who said yes, and is still of the crew; while answers are out, with those whom
    the plan that was taken has in it at that time, up to as many `people` as it wants. As long as they are fewer, nobody
    who was asked and has not answered is planned elsewhere then.
    """
    if lift is None or lift.when_ms is None or not is_called(lift):
        return None
    start = at.slot(lift.when_ms)
    if lift.state in ("in_place", "lifting", "held"):
        start = max(start, now)
    elif at.slot(lift.when_ms + SLIP_MS) <= now:
        return None  # it was not made, and wants another time
    coming = {person for person, said in lift.answers.items() if said == "will_come"}
    team = (coming | set(lift.places.values())) & {m.id for m in crew(state)}
    asked = [one for one in unanswered(state, lift) if one not in team]
    meant = [one for one in _meant_for(state, lift, at) if one in asked]
    team |= set(meant[: max(0, people - len(team))])
    still = set(asked) - team if len(team) < people else set()
    return p.Fixed(start, tuple(sorted(team)), tuple(sorted(still)))


def is_called(lift: Lift) -> bool:
    """From the call until the load is down."""
    return lift.state not in ("drafted", "landed", "stood_down")


def lift_people(lift: Lift) -> int:
    """How many a lift wants: a place each, but for a caller who lifts."""
    return len(places_of(lift.plan)) - (1 if lift.plan.caller and lift.plan.caller_lifts else 0)


def kept_free(state: State, at: Frame, now: int) -> list[p.Fixed]:
    """Called lifts that belong to no task, and so stand in no plan: each takes `LIFT_MIN`, and who comes to it is not there
    for other work."""
    free = [lift for lift in state.all(Lift) if lift.task is None]
    return [there for one in free if (there := called(state, one, at, now, lift_people(one))) is not None]


def _meant_for(state: State, lift: Lift, at: Frame) -> list[str]:
    """Whom the plan that was taken has in a lift at the very time for which it was called."""
    task = state.find(Task, lift.task) if lift.task else None
    there = _planned(state, task) if task is not None and lift.when_ms is not None else []
    return [
        one for block in there if at.slot(block.from_ms) == at.slot(lift.when_ms or 0) for one in block.team
    ]


def in_hand(
    state: State, task: Task, hold: str | None, people: int, slots: int, at: Frame, now_ms: int
) -> tuple[p.Fixed, int] | None:
    """Work that goes on now: where, by whom, and for how many slots [people: wanted; slots: what is left of it, up to `hold`].

    Until its planned time is over it goes on as it was planned, so that a minute that passes moves nobody's day: with
    who has it in hand, and who was to come to them. None: nobody of them is in, it is stuck, or they are too few and no
    plan says who comes to them: then it is planned like other work, with them.
    """
    team = holders(state, task)
    if not team or task.stuck is not None or not any(is_in(state.find(Member, one), now_ms) for one in team):
        return None
    mine = (b for b in _planned(state, task) if b.step == hold)
    begun = next((b for b in mine if b.from_ms <= now_ms < b.to_ms), None)
    if begun is None:
        return (p.Fixed(at.slot(now_ms), tuple(sorted(team))), slots) if len(team) >= people else None
    others = [m.id for m in crew(state) if m.id in begun.team and m.id not in team]
    team |= frozenset(others[: max(0, people - len(team))])
    if len(team) < people:
        return None
    start = at.slot(begun.from_ms)
    return p.Fixed(start, tuple(sorted(team))), at.slot(begun.to_ms) - start


def _planned(state: State, task: Task) -> list[Block]:
    """Where the plan that was taken has this task."""
    taken = state.find(DaysPlan, "days")
    return [b for b in taken.blocks if b.task == task.id and not b.check] if taken is not None else []
