"""From plan to crew: weighing, calling, answering, taking a place, standing down (R18, R20, R21)."""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.model import LiftPlan
from yokemate.rules.commands.lifts import (
    AnswerLift,
    CallLift,
    LeavePlace,
    RearrangeLift,
    StandDown,
    TakePlace,
    WeighLoad,
)
from yokemate.rules.frame import Deciding, decides, settles
from yokemate.rules.lift_crew import (
    GATHERING,
    LATE_MS,
    called_above,
    caller_of,
    caller_place,
    is_empty,
    lifter_places,
    may_call,
    may_share_person,
    place_words,
    places_of,
    stands_at,
    unsuited_code,
    verdict_wants,
)
from yokemate.rules.lift_shares import MOST_ABOVE_MM, work_out_shares, worst_share_kg
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.lift_ways import way_called
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Lift, Member, Task
from yokemate.rules.transitions_lifts import has_effect, need_round, need_state, same_round
from yokemate.units import QuantityError, exact_decimal, parse_number


@decides(WeighLoad)
def weigh(d: Deciding, cmd: WeighLoad) -> None:
    """New figures, new shares: everybody is asked for a place anew (R21).

    A called lift that could not be called like this is called off: what was given at the call was given for another
    load (R20).
    """
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.weigh")
    mass, mass_by = _figure("mass_kg", cmd.mass_kg), _figure("mass_plus_minus_kg", cmd.mass_plus_minus_kg)
    cg_by = _figure("cg_plus_minus_mm", cmd.cg_plus_minus_mm)
    if mass <= 0:
        raise _bad("mass_kg", "A load has a mass above nothing.", "Type what the scales showed, in kg.")
    if not 0 <= mass_by < mass:
        raise _bad(
            "mass_plus_minus_kg",
            "It must be less than the mass.",
            "Type how far off the scales may be, in kg.",
        )
    if cg_by < 0:
        raise _bad("cg_plus_minus_mm", "It can't be below nothing.", "Type how far off it may be, in mm.")
    above = None if cmd.cg_above_hands_mm is None else _figure("cg_above_hands_mm", cmd.cg_above_hands_mm)
    if above is not None and abs(above) > MOST_ABOVE_MM:
        raise _bad(
            "cg_above_hands_mm", "No such height is reckoned with.", "Type mm: -2000 to 2000, below the hands with a minus."
        )  # fmt: skip
    figures = {
        "mass_kg": exact_decimal(mass),
        "mass_plus_minus_kg": exact_decimal(mass_by),
        "cg_x_mm": exact_decimal(_figure("cg_x_mm", cmd.cg_x_mm)),
        "cg_y_mm": exact_decimal(_figure("cg_y_mm", cmd.cg_y_mm)),
        "cg_plus_minus_mm": exact_decimal(cg_by),
        **({} if above is None else {"cg_above_hands_mm": exact_decimal(above)}),
    }
    weighed = lift.plan.model_copy(update=figures)
    shares, unfit, version = work_out_shares(weighed)
    if unfit == "mass_unknown":
        raise _bad(
            "mass_kg",
            "No such load is reckoned with.",
            "Type kilograms: 0.1 to 20000, and at most 2000 either way.",
        )
    d.tell(
        "lift.weighed",
        lift=lift.id,
        **figures,
        how_known_text=cmd.how_known_text,
        shares=[share.model_dump(mode="json") for share in shares],
        shares_by=version,
        unfit=unfit,
        verdicts=[verdict.model_dump(mode="json") for verdict in judge_lift(weighed, shares)],
        round=lift.round + 1,
    )
    found = d.get(Lift, lift.id)
    if found.state in GATHERING and (found.unfit or verdict_wants(found, found.above_reason)):
        d.tell("lift.stood_down", lift=lift.id, reason="weighed", counts=True)


def _figure(field: str, typed: str) -> Fraction:
    try:
        value = parse_number(typed, field)
        exact_decimal(value, field)
    except QuantityError as error:
        raise Refused("bad_input", field=error.field, problem=error.message, remedy=error.remedy) from error
    return value


def _bad(field: str, problem: str, remedy: str) -> Refused:
    return Refused("bad_input", field=field, problem=problem, remedy=remedy)


@decides(RearrangeLift)
def rearrange(d: Deciding, cmd: RearrangeLift) -> None:
    """Only what `lift_ways` has tried, worked out again for the lift as it stands now."""
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.rearrange")
    if cmd.way == "as_planned":
        return _bear(d, lift, "As the plan has it", _as_planned(lift))
    way = way_called(lift.plan, lift.verdicts, cmd.way)
    if way is None:
        raise Refused("way_gone")
    plan = way.plan
    if way.mark_kg is not None:
        plan = _marked(plan, way.changed, way.mark_kg, cmd.rated_kg)
    if way.kind == "marking":
        return _bear(d, lift, way.does, plan)
    return _bear(d, lift, way.does, plan.model_copy(update={"method": f"{way.does}. {way.says}"[:2000]}))


def _as_planned(lift: Lift) -> LiftPlan:
    """Places and machines of the plan file, with the load as it was weighed since."""
    planned = lift.planned or lift.plan
    borne = ("supports", "phases", "guides", "method")
    return lift.plan.model_copy(update={field: getattr(planned, field) for field in borne})


def _marked(plan: LiftPlan, machine: str, least_kg: str, rated_kg: str | None) -> LiftPlan:
    """The marking decides, and whoever brings the machine has read it."""
    if rated_kg is None:
        raise _bad(
            "rated_kg",
            "What the machine is marked for is missing.",
            "Read it off the machine: of a boom, at the hole used.",
        )
    rated = _figure("rated_kg", rated_kg)
    if rated < Fraction(least_kg):
        raise Refused("over_rating", lift=plan.title)
    marked = [
        one.model_copy(update={"rated_kg": exact_decimal(rated)}) if one.id == machine else one
        for one in plan.supports
    ]
    return plan.model_copy(update={"supports": marked})


def _bear(d: Deciding, lift: Lift, way: str, plan: LiftPlan) -> None:
    shares, unfit, version = work_out_shares(plan)
    d.tell(
        "lift.rearranged",
        lift=lift.id,
        way=way,
        supports=[one.model_dump(mode="json") for one in plan.supports],
        phases=[one.model_dump(mode="json") for one in plan.phases],
        guides=plan.guides,
        method=plan.method,
        shares=[share.model_dump(mode="json") for share in shares],
        shares_by=version,
        unfit=unfit,
        verdicts=[verdict.model_dump(mode="json") for verdict in judge_lift(plan, shares)],
    )


@decides(CallLift)
def call(d: Deciding, cmd: CallLift) -> None:
    """Private limits act from here on, when places are offered; never while shares are tried out (R21)."""
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.call")
    task = d.find(Task, lift.task) if lift.task else None
    if task is not None and task.state == "left_out":
        raise Refused(
            "not_in_state",
            what=lift.plan.title,
            state="left out",
            remedy="Its task is not part of this build.",
        )
    if lift.outdated:
        raise Refused("lift_outdated", lift=lift.plan.title)
    if lift.unfit is not None:
        raise Refused(lift.unfit, lift=lift.plan.title)
    if cmd.when_ms < d.now_ms - LATE_MS:
        raise Refused("when_past")
    if (want := verdict_wants(lift, cmd.above_reason_text)) is not None:
        raise Refused(want.code, **want.params)
    d.tell("lift.called", lift=lift.id, when_ms=cmd.when_ms, above_reason=cmd.above_reason_text)


@decides(AnswerLift)
def answer(d: Deciding, cmd: AnswerLift) -> None:
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.answer")
    need_round(lift, cmd.round)
    if not cmd.will_come:
        _leave(d, lift)
    d.tell("lift.answered", lift=lift.id, will_come=cmd.will_come)


@decides(TakePlace)
def take_place(d: Deciding, cmd: TakePlace) -> None:
    """Everybody takes their own place.

    Only their own ask meets their private limit (R21): others who could type the yes to a share of the load
    would find the limit by trying.
    """
    lift = d.get(Lift, cmd.lift)
    need_state(lift, "lift.take_place")
    need_round(lift, cmd.round)
    if cmd.place not in places_of(lift.plan):
        raise Refused("unknown", what="place", id=cmd.place)
    me = d.get(Member, d.who)
    if me.minor is not None:
        raise Refused("minor_no_place", person=d.who)
    holder = lift.places.get(cmd.place)
    if holder == d.who:
        return d.tell("lift.place_taken", lift=lift.id, place=cmd.place)
    if holder is not None and not is_empty(d, lift, cmd.place, d.now_ms):
        raise Refused("place_taken", person=holder, place=place_words(lift.plan, cmd.place))
    mine = [place for place, person in lift.places.items() if person == d.who]
    if any(not may_share_person(lift.plan, cmd.place, place) for place in mine):
        raise Refused("one_place")
    if cmd.place == caller_place(lift.plan) and not may_call(me):
        raise Refused("caller_skill", person=d.who)
    if cmd.place in lifter_places(lift.plan):
        if d.ctx.typed_by is not None:
            raise Refused("own_yes")
        if not d.ctx.facts.suits.get((d.who, cmd.place), True):
            raise Refused(unsuited_code(d.ctx.facts, d.who, cmd.place))
        bears = worst_share_kg(lift.shares, cmd.place)
        if called_above(lift) and not cmd.yes_to_my_share:
            raise Refused("yes_wanted", share_kg=bears)
        if bears and cmd.my_share_kg and _figure("my_share_kg", cmd.my_share_kg) != Fraction(bears):
            raise Refused("share_changed", share_kg=bears)
    d.tell("lift.place_taken", lift=lift.id, place=cmd.place)
    return None


@decides(LeavePlace)
def leave_place(d: Deciding, cmd: LeavePlace) -> None:
    lift = d.get(Lift, cmd.lift)
    if not same_round(lift, cmd.round) or not _leave(d, lift):
        d.tell("lift.place_left", lift=lift.id, places=[])


def _leave(d: Deciding, lift: Lift) -> bool:
    places = sorted(place for place, person in lift.places.items() if person == d.who)
    if not places or not has_effect(lift, "lift.leave_place"):
        return False
    d.tell("lift.place_left", lift=lift.id, places=places)
    return True


def free_places_of(d: Deciding, person: str) -> None:
    """Somebody who may hold no place any more gives up those of loads that are not up (R18)."""
    for lift in list(d.all(Lift)):
        places = sorted(place for place, who in lift.places.items() if who == person)
        if places and has_effect(lift, "lift.leave_place"):
            d.tell("lift.place_left", lift=lift.id, places=places, person=person)


@decides(StandDown)
def stand_down(d: Deciding, cmd: StandDown) -> None:
    """Lead or caller; kept without effect from anybody else, about the call before, or when the load is up (R19, R30)."""
    lift, me = d.get(Lift, cmd.lift), d.get(Member, d.who)
    may = me.role == "lead" or caller_of(lift) == d.who
    counts = may and has_effect(lift, "lift.stand_down") and same_round(lift, cmd.round)
    d.tell("lift.stood_down", lift=lift.id, reason=cmd.reason, counts=counts)


@settles
def move_with_its_crew(d: Deciding) -> None:
    """called, crewed, in place: follows from places, readiness and the roll call."""
    for lift in list(d.all(Lift)):
        if lift.state in GATHERING and (now := stands_at(d, lift, d.now_ms)) != lift.state:
            d.tell("lift.stands", lift=lift.id, state=now)
