"""What the plan of the days goes round: lifts that were called, and work in hand. Pure."""

from __future__ import annotations

from yokemate.planning import problem as p
from yokemate.rules.days_frame import Frame
from yokemate.rules.frame import State
from yokemate.rules.presence import is_in
from yokemate.rules.rows import DaysPlan, Lift, Member, Task
from yokemate.rules.rows.days import Block
from yokemate.rules.taking import adults_on


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
    """A called lift stands at its time with who said yes, and is still of the crew; while answers are out, those whom the
    plan that was taken has in it are kept free for it, up to as many `people` as it wants.
    """
    if (
        lift is not None
        and lift.when_ms is not None
        and lift.state not in ("drafted", "landed", "stood_down")
    ):
        start = at.slot(lift.when_ms)
        if start >= now or lift.state in ("in_place", "lifting", "held"):
            coming = {person for person, said in lift.answers.items() if said == "will_come"}
            coming |= set(lift.places.values())
            there = {m.id for m in crew(state)}
            team = sorted(coming & there)
            for person in _meant_for(state, lift):
                if len(team) < people and person in there - set(team) and lift.answers.get(person) is None:
                    team.append(person)
            return p.Fixed(max(start, now), tuple(sorted(team)))
    return None


def _meant_for(state: State, lift: Lift) -> list[str]:
    task = state.find(Task, lift.task) if lift.task else None
    return [person for block in _planned(state, task) for person in block.team] if task is not None else []


def in_hand(
    state: State, task: Task, people: int, slots: int, at: Frame, now_ms: int
) -> tuple[p.Fixed, int] | None:
    """Work that goes on now: where, by whom, and for how many slots [people: wanted; slots: what is left of it].

    Until its planned time is over it goes on as it was planned, so that a minute that passes moves nobody's day: with
    who has it in hand, and who was to come to them. None: nobody of them is in, it is stuck, or they are too few and no
    plan says who comes to them: then it is planned like other work, with them.
    """
    team = holders(state, task)
    if not team or task.stuck is not None or not any(is_in(state.find(Member, one), now_ms) for one in team):
        return None
    begun = next((b for b in _planned(state, task) if b.from_ms <= now_ms < b.to_ms), None)
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
