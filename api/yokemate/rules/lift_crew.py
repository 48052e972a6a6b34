"""Who belongs where in a lift, and what still stands between its crew and the word *Lift* (R18, R30).

The list is worked out in one place: `decide` raises its first line, screens show all of it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from yokemate.planfile.model import LiftPlan
from yokemate.rules.frame import Facts, State
from yokemate.rules.lift_verdict import FIGURES_KG
from yokemate.rules.presence import is_gone
from yokemate.rules.rows import Lift, Member, Task, Under, Visit
from yokemate.rules.rows.lifts import Verdict

GATHERING = ("called", "crewed", "in_place")
BEFORE_UP = ("drafted", "stood_down", *GATHERING)
LATE_MS = 300_000  # left to clocks that differ: a lift may be called for "now", one by voice be over "now"
DOWN_MS = 600_000  # how long after *set down* STOP still stands on the phones of those who were there
ROLL_MS = 300_000  # an answer of the roll call is good for five minutes (R18)


@dataclass(frozen=True)
class LiftWant:
    """One thing that is missing: a refusal code and what its sentence needs."""

    code: str
    params: dict[str, Any] = field(default_factory=dict)


def lifter_places(plan: LiftPlan) -> list[str]:
    return [support.id for support in plan.supports if support.kind == "lifter"]


def guide_places(plan: LiftPlan) -> list[str]:
    return [f"guide-{n}" for n in range(1, plan.guides + 1)]


def places_of(plan: LiftPlan) -> list[str]:
    """Every place that needs a person: lifters, guides, the caller, the lookout where the plan says so."""
    places = lifter_places(plan) + guide_places(plan)
    if plan.caller:
        places.append("caller")
    if plan.lookout:
        places.append("lookout")
    return places


def place_words(plan: LiftPlan, place: str) -> str:
    named = {support.id: support.say for support in plan.supports}
    if place in named:
        return named[place]
    return f"guide {place.removeprefix('guide-')}" if place.startswith("guide-") else place


def caller_place(plan: LiftPlan) -> str:
    """Where the one who calls stands; without a caller of its own, the first place of the plan calls."""
    return "caller" if plan.caller else places_of(plan)[0]


def caller_of(lift: Lift) -> str | None:
    return lift.places.get(caller_place(lift.plan))


def may_call(member: Member) -> bool:
    """A builder or a lead, grown up (R8, R30)."""
    return member.role in ("lead", "builder") and member.minor is None and not member.left


def may_share_person(plan: LiftPlan, place: str, other: str) -> bool:
    """Whether one person may hold both: only a caller who lifts, where the lift says so (R18)."""
    return (
        plan.caller_lifts
        and "caller" in (place, other)
        and {place, other} & set(lifter_places(plan)) != set()
    )


def unanswered(state: State, lift: Lift) -> list[str]:
    """Who was asked to a called lift, as all adults of the crew are, and has said neither yes nor no; in the order of their
    ids.
    """
    if lift.state not in GATHERING:
        return []
    crew = [m for m in state.all(Member) if not m.left and m.role != "viewer" and m.minor is None]
    return sorted(m.id for m in crew if m.id not in lift.answers)


def could_stand(state: State, lift: Lift, place: str, now_ms: int) -> list[str]:
    """Who could take an empty place, in the order of their ids: by role and age, and by what they answered (R18, R30).

    The same for every viewer. Whether a place suits somebody is theirs to know, and does not show here (R21).
    """
    called = (
        lift.state in GATHERING
    )  # before it is called (again) nobody holds a place and nobody has answered
    places, answers = (lift.places, lift.answers) if called else ({}, {})
    if (called and not is_empty(state, lift, place, now_ms)) or lift.state not in BEFORE_UP:
        return []

    def may(member: Member) -> bool:
        held = [one for one, person in places.items() if person == member.id]
        return (
            member.role != "viewer"
            and member.minor is None
            and not is_gone(member, now_ms)
            and answers.get(member.id) != "declined"
            and (place != caller_place(lift.plan) or may_call(member))
            and all(may_share_person(lift.plan, place, one) for one in held)
        )

    return sorted(member.id for member in state.all(Member) if may(member))


def unsuited_code(facts: Facts, person: str, place: str) -> str:
    """What somebody is told about a place that does not suit them; nobody else hears it (R21)."""
    return "figure_unsaid" if (person, place) in facts.figure_unsaid else "does_not_suit"


def is_up(lift: Lift) -> bool:
    return lift.state in ("lifting", "held") and lift.set_down is None


def goes_on(lift: Lift, now_ms: int) -> bool:
    """Being called by roll, up, or set down a moment ago: STOP stands on the phones of those who are in it (R19)."""
    if lift.state in GATHERING:
        return any(now_ms - tick.at_ms <= ROLL_MS for tick in lift.roll.values())
    down = lift.set_down
    return lift.state in ("lifting", "held") and (down is None or now_ms - down.at_ms < DOWN_MS)


def in_a_lift(state: State, person: str | None, now_ms: int) -> bool:
    """Whether somebody stands in a lift that goes on, or stood there when it went up."""
    return any(
        goes_on(lift, now_ms) and person in {*lift.places.values(), *lift.there} for lift in state.all(Lift)
    )


def may_sign_landed(lift: Lift, person: str) -> bool:
    """One more who was there (R22). Where fewer than two were, anybody else: nobody would be left."""
    return person in lift.there or len(lift.there) < 2


def answers_roll(lift: Lift, place: str) -> bool:
    """Places that the caller reads aloud: all but the caller's own."""
    return lift.places.get(place) != caller_of(lift)


def unready(lift: Lift) -> list[str]:
    """Who holds a place and has not said *ready*; the word of one who only calls is the call itself."""
    people = [lift.places[p] for p in places_of(lift.plan) if p in lift.places and p != "caller"]
    return [person for person in dict.fromkeys(people) if person not in lift.ready]


def unticked(lift: Lift) -> list[str]:
    """Places whose person has not answered the roll call."""
    return [
        place
        for place in places_of(lift.plan)
        if answers_roll(lift, place)
        and (place not in lift.roll or lift.roll[place].person != lift.places.get(place))
    ]


def is_empty(state: State, lift: Lift, place: str, now_ms: int) -> bool:
    """Nobody took it, or who did is gone from the crew, or their day as a guest is over."""
    return place not in lift.places or is_gone(state.find(Member, lift.places[place]), now_ms)


def empty_places(state: State, lift: Lift, now_ms: int) -> list[str]:
    return [place for place in places_of(lift.plan) if is_empty(state, lift, place, now_ms)]


def stands_at(state: State, lift: Lift, now_ms: int) -> str:
    """called, crewed or in_place, from places, readiness and roll alone."""
    if empty_places(state, lift, now_ms):
        return "called"
    return "crewed" if unready(lift) or unticked(lift) else "in_place"


def best_verdict(lift: Lift) -> Verdict | None:
    """The verdict with people of the larger published figure: what no choice of people makes better (R20)."""
    return next((one for one in lift.verdicts if one.figure_kg == FIGURES_KG[0]), None)


def called_above(lift: Lift) -> bool:
    """Called above guidance, with a reason, and still judged so: each lifter is asked for their own yes (R20)."""
    best = best_verdict(lift)
    return lift.above_reason is not None and best is not None and best.verdict == "above guidance"


def verdict_wants(lift: Lift, reason: str | None) -> LiftWant | None:
    """What its verdict wants and has not got: refused has no way through, above guidance a recorded reason (R20).

    Each lifter's own yes is asked for with their place, wherever there is such a reason.
    """
    best = best_verdict(lift)
    if best is None or best.verdict == "within guidance" or (best.verdict == "above guidance" and reason):
        return None
    first = max(
        best.passed, key=lambda one: Fraction(one.share_kg) / max(Fraction(one.limit_kg), Fraction(1, 10))
    )
    place = place_words(lift.plan, first.place) if first.place else "the people together"
    code = "over_guidance" if best.verdict == "refused" else "above_guidance"
    return LiftWant(code, {"place": place, "share_kg": first.share_kg, "limit_kg": first.limit_kg})


def lift_wants(state: State, lift: Lift, now_ms: int, phones_alive: Collection[str]) -> list[LiftWant]:
    """What is missing before the load may go up, in the order in which a caller would mend it (R18)."""
    if lift.unfit is not None:
        return [LiftWant(lift.unfit, {"lift": lift.plan.title})]
    if (wanted := verdict_wants(lift, lift.above_reason)) is not None:
        return [wanted]
    empty = empty_places(state, lift, now_ms)
    wants = [LiftWant("place_empty", {"place": place_words(lift.plan, place)}) for place in empty]
    wants += _people(state, lift, empty)
    wants += [LiftWant("not_ready_person", {"person": person}) for person in unready(lift)]
    unanswered = [lift.places[place] for place in unticked(lift) if place in lift.places]
    wants += [LiftWant("roll_missing", {"person": person}) for person in dict.fromkeys(unanswered)]
    if any(now_ms - tick.at_ms > ROLL_MS for place, tick in lift.roll.items() if answers_roll(lift, place)):
        wants.append(LiftWant("roll_old"))
    return wants + _floor(state, lift, now_ms) + _task(state, lift, now_ms) + _phones(lift, phones_alive)


def _people(state: State, lift: Lift, empty: list[str]) -> list[LiftWant]:
    wants = []
    for place, person in sorted(lift.places.items()):
        member = state.find(Member, person)
        if member is not None and member.minor is not None:
            wants.append(LiftWant("minor_no_place", {"person": person}))
        if place == caller_place(lift.plan) and member is not None and not may_call(member):
            wants.append(LiftWant("caller_skill", {"person": person}))
    task = state.find(Task, lift.task) if lift.task else None
    counted = {
        lift.places.get(p) for p in lifter_places(lift.plan) + guide_places(lift.plan) if p not in empty
    }
    if task is not None and not empty and len(counted) < task.plan.must_people:
        wants.append(LiftWant("too_few", {"have": len(counted), "need": task.plan.must_people}))
    return wants


@dataclass(frozen=True)
class FloorSaid:
    """What the caller said of the floor, as far as it counts: with the roll call it is good for five minutes, and a child
    who signs in is not among those who were sent out."""

    children_out: bool
    nobody_beneath: bool


def floor_said(state: State, lift: Lift, now_ms: int) -> FloorSaid:
    said_ms = lift.floor_ms
    if said_ms is None or now_ms - said_ms > ROLL_MS:
        return FloorSaid(children_out=False, nobody_beneath=False)
    came_since = any(child.in_since_ms > said_ms for child in children_in(state))
    return FloorSaid(lift.children_out and not came_since, lift.nobody_beneath)


def children_in(state: State) -> list[Visit]:
    return [visit for visit in state.all(Visit) if visit.what == "child" and visit.out_ms is None]


def _floor(state: State, lift: Lift, now_ms: int) -> list[LiftWant]:
    wants = [
        LiftWant("somebody_under", {"under_person": under.id})
        for under in sorted(state.all(Under), key=lambda u: u.id)
    ]
    said = floor_said(state, lift, now_ms)
    children = children_in(state)
    if children and not said.children_out:
        wants.append(LiftWant("children_in", {"count": len(children)}))
    if not said.nobody_beneath:
        wants.append(LiftWant("floor_not_clear"))
    return wants


def _task(state: State, lift: Lift, now_ms: int) -> list[LiftWant]:
    task = state.find(Task, lift.task) if lift.task else None
    if task is None or task.state != "open":
        return []
    from yokemate.rules.availability import availability  # late: it reads lifts too

    ready = availability(state, task, now_ms)
    return (
        []
        if ready.ready
        else [LiftWant("task_waits", {"task": task.id, "waits_for": [w.about for w in ready.waits]})]
    )


def _phones(lift: Lift, phones_alive: Collection[str]) -> list[LiftWant]:
    """The phones of caller and lookout answered a beat a moment ago: a stop would reach them (R18)."""
    people = [caller_of(lift), *([lift.places.get("lookout")] if lift.plan.lookout else [])]
    return [
        LiftWant("phone_silent", {"person": p}) for p in dict.fromkeys(people) if p and p not in phones_alive
    ]
