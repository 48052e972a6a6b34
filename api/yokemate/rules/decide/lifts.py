"""The lift itself: ready, roll call, lift, stop, lower, go on, set down, landed (R18, R19, R22)."""

from __future__ import annotations

from typing import Literal

from yokemate.rules.commands.lifts import (
    ClearFloor,
    GoOnLifting,
    LiftIt,
    Lower,
    ReportByVoice,
    SayReady,
    SetDown,
    SignLanded,
    Stop,
    TickRoll,
)
from yokemate.rules.decide.loose_ends import open_landed_elsewhere, open_propped
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.lift_crew import (
    LATE_MS,
    caller_of,
    caller_place,
    floor_said,
    is_empty,
    lift_wants,
    may_sign_landed,
    place_words,
    places_of,
    verdict_wants,
)
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Lift, Member
from yokemate.rules.transitions_lifts import has_effect, need_round, need_state, not_in_state

StopEffect = Literal["held", "roll_emptied", "none"]


@decides(SayReady)
def say_ready(d: Deciding, cmd: SayReady) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.ready")
    need_round(lift, cmd.round)
    if d.who not in lift.places.values():
        raise Refused("no_place")
    d.tell("lift.ready_said", lift=lift.id, ready=cmd.ready)


@decides(TickRoll)
def tick_roll(d: Deciding, cmd: TickRoll) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.roll")
    _need_caller(d, lift)
    if cmd.place not in places_of(lift.plan):
        raise Refused("unknown", what="place", id=cmd.place)
    person = lift.places.get(cmd.place)
    if person is None:
        raise Refused("place_empty", place=place_words(lift.plan, cmd.place))
    if cmd.here and person != d.who and person not in lift.ready:
        raise Refused("not_ready_person", person=person)
    d.tell("lift.roll_ticked", lift=lift.id, place=cmd.place, person=person, here=cmd.here)


@decides(ClearFloor)
def clear_floor(d: Deciding, cmd: ClearFloor) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.clear_floor")
    _need_caller(d, lift)
    if cmd.children_out is None and cmd.nobody_beneath is None:
        raise Refused(
            "bad_input",
            field="nobody_beneath",
            problem="Neither word was said.",
            remedy="Say one of the two, or both.",
        )
    before = floor_said(d, lift, d.now_ms)
    d.tell(
        "lift.floor_said",
        lift=lift.id,
        children_out=before.children_out if cmd.children_out is None else cmd.children_out,
        nobody_beneath=before.nobody_beneath if cmd.nobody_beneath is None else cmd.nobody_beneath,
    )


@decides(LiftIt)
def lift_it(d: Deciding, cmd: LiftIt) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.lift")
    _need_all(d, lift)
    if lift.state != "in_place":
        raise not_in_state(lift)
    d.tell("lift.lifted", lift=lift.id, there=sorted(set(lift.places.values())))


@decides(GoOnLifting)
def go_on(d: Deciding, cmd: GoOnLifting) -> None:
    """STOP emptied the roll call, so whoever answered has answered since (R19)."""
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.go_on")
    if lift.set_down is not None:
        raise Refused("is_set_down", lift=lift.plan.title)
    _need_all(d, lift)
    d.tell("lift.went_on", lift=lift.id, there=sorted({*lift.there, *lift.places.values()}))


@decides(Stop)
def stop(d: Deciding, cmd: Stop) -> None:
    """Never refused, by anybody, in any state (R19)."""
    lift = d.get(Lift, cmd.lift)
    effect: StopEffect = "none"
    if has_effect(lift, "lift.stop"):
        effect = "held" if lift.state in ("lifting", "held") else "roll_emptied"
    d.tell("lift.stopped", lift=lift.id, effect=effect)


@decides(Lower)
def lower(d: Deciding, cmd: Lower) -> None:
    lift = d.get(Lift, cmd.lift)
    d.tell("lift.lowering", lift=lift.id, counts=has_effect(lift, "lift.lower") and caller_of(lift) == d.who)


@decides(SetDown)
def set_down(d: Deciding, cmd: SetDown) -> None:
    """Said by the caller; from another who is there (a dead phone) it counts and is marked so (R22)."""
    lift = d.get(Lift, cmd.lift)
    by_caller = caller_of(lift) == d.who
    counts = has_effect(lift, "lift.set_down") and (
        by_caller or d.who in {*lift.there, *lift.places.values()}
    )
    d.tell("lift.set_down", lift=lift.id, counts=counts, by_caller=by_caller, elsewhere=cmd.elsewhere_text)
    if counts:
        open_propped(d, lift)
    if cmd.elsewhere_text is not None:
        open_landed_elsewhere(d, lift, cmd.elsewhere_text)


@decides(SignLanded)
def sign_landed(d: Deciding, cmd: SignLanded) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.sign_landed")
    if lift.set_down is None:
        raise not_in_state(lift)
    if lift.set_down.by == d.who:
        raise Refused("somebody_else")
    if not may_sign_landed(lift, d.who):
        raise Refused("was_not_there")
    d.tell("lift.landed", lift=lift.id)


@decides(ReportByVoice)
def report_by_voice(d: Deciding, cmd: ReportByVoice) -> None:
    """It has happened: kept as said, with what the rules would have had against it as marks (R18)."""
    lift = d.get(Lift, cmd.lift)
    places = places_of(lift.plan)
    for place, person in cmd.places.items():
        if place not in places:
            raise Refused("unknown", what="place", id=place)
        d.get(Member, person)
    if not 0 < cmd.lifted_ms <= cmd.set_down_ms:
        raise Refused(
            "bad_input",
            field="set_down_ms",
            problem="It can't be set down before it was lifted.",
            remedy="Give both times, the earlier one first.",
        )
    if cmd.set_down_ms > d.now_ms + LATE_MS:
        raise Refused(
            "bad_input",
            field="set_down_ms",
            problem="It is still to come.",
            remedy="Report it once it is down; or put the phone's clock right.",
        )
    counts = has_effect(lift, "lift.report_by_voice")
    d.tell(
        "lift.reported_by_voice",
        lift=lift.id,
        counts=counts,
        places=dict(sorted(cmd.places.items())),
        there=sorted({*cmd.places.values(), *lift.there}),
        lifted_ms=cmd.lifted_ms,
        set_down_ms=cmd.set_down_ms,
        by_caller=cmd.places.get(caller_place(lift.plan)) == d.who,
        marks=_marks(d, lift, cmd.places),
    )
    if counts:
        open_propped(d, lift)


def _marks(d: Deciding, lift: Lift, places: dict[str, str]) -> list[str]:
    marks = set()
    if lift.unfit is not None:
        marks.add(lift.unfit)
    if any(place not in places for place in places_of(lift.plan)):
        marks.add("place_empty")
    if len(set(places.values())) < len(places) and not lift.plan.caller_lifts:
        marks.add("one_place")
    if any(d.get(Member, person).minor is not None for person in places.values()):
        marks.add("minor_no_place")
    if (want := verdict_wants(lift, lift.above_reason)) is not None:
        marks.add(want.code)
    return sorted(marks)


def _need_caller(d: Deciding, lift: Lift) -> None:
    caller = caller_of(lift)
    if caller != d.who:
        raise Refused("only_the_caller", caller_person=caller)


def _need_all(d: Deciding, lift: Lift) -> None:
    """Every condition of R18, or the first that is missing. An empty caller's place is one of them."""
    if not is_empty(d, lift, caller_place(lift.plan), d.now_ms):
        _need_caller(d, lift)
    for want in lift_wants(d, lift, d.now_ms, d.ctx.facts.phones_alive):
        raise Refused(want.code, **want.params)
