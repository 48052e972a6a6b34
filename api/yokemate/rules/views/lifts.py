"""The lift screens: all lifts, and one lift with everything its crew needs, for one viewer (R18 to R22).

What a place asks is shown to everybody; whether it suits, to its viewer alone (R21). The shares are figures:
the verdicts beside them use published figures only (R20).
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel

from yokemate.planfile.model import LiftPath
from yokemate.rules.frame import State
from yokemate.rules.lift_crew import (
    BEFORE_UP,
    ROLL_MS,
    caller_of,
    children_in,
    floor_said,
    lift_wants,
    lifter_places,
    may_sign_landed,
    place_words,
    places_of,
    unanswered,
    verdict_wants,
)
from yokemate.rules.lift_let_go import let_go_words
from yokemate.rules.lift_proposal import proposed_place
from yokemate.rules.lift_shares import tilt_deg, worst_share_kg
from yokemate.rules.lift_unjudged import unjudged
from yokemate.rules.lift_ways import fewest_words, goal_of, lightest_words, ways
from yokemate.rules.rows import Lift, Member, Under
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.lifts import LiftState, Share, Verdict
from yokemate.rules.transitions_lifts import has_effect
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.lift_places import PlaceView, nominal_kg, place_view
from yokemate.rules.views.saying import Saying, saying

BEAT_MS = 2_000  # how long a word about a phone being alive is good


class LiftLine(ViewPart):
    id: str
    title: str
    task: str | None
    state: LiftState
    when_ms: int | None
    places: int
    taken: int
    my_places: list[str]
    my_answer: Literal["will_come", "declined"] | None
    unfit: Saying | None
    signature_due: bool  # set down, and one more who was there must sign


class LiftsView(View):
    lifts: list[LiftLine]


class SupportView(ViewPart):
    id: str
    say: str
    kind: Literal["lifter", "crane", "jack", "dolly", "stand"]
    x_mm: str
    y_mm: str
    rated_kg: str | None
    nominal_kg: str | None
    worst_kg: str | None
    person: str | None


class WayView(ViewPart):
    """A change that makes the lift work, or a marking to be typed. `mark_kg`: what its machine must be marked for."""

    id: str
    kind: Literal["machine", "move", "person", "marking"]
    does: str
    says: str
    figure_kg: str
    mark_kg: str | None


class LoadView(ViewPart):
    mass_kg: str | None
    mass_plus_minus_kg: str
    cg_x_mm: str | None
    cg_y_mm: str | None
    cg_plus_minus_mm: str
    cg_above_hands_mm: str | None
    tilted: bool  # in some phase: then that height counts
    how_known: str | None
    how_known_text: str | None  # payload id
    outline_mm: list[tuple[str, str]]


class LiftView(View):
    id: str
    title: str
    task: str | None
    state: LiftState
    round: int  # an answer says which one it is to
    when_ms: int | None
    called_by: str | None
    load: LoadView
    supports: list[SupportView]
    shares: list[Share]  # phase by phase
    shares_by: str
    verdicts: list[Verdict]  # by published figures only (R20, R21)
    above_reason: str | None  # payload id
    ways: list[WayView]  # before the call, for who may call it
    hints: list[str]  # fewest people, lightest load: beside the ways
    let_go: list[str]  # what happens when one who lifts lets go
    unjudged: list[str]  # what these figures leave out
    rearranged: bool  # borne otherwise than the plan file has it
    unfit: Saying | None
    path: LiftPath | None
    method: str | None
    briefing: list[str]
    words: list[str]
    stop_word: str
    places: list[PlaceView]
    people: int  # lifters and guides
    caller: str | None
    will_come: list[str]
    declined: list[str]
    no_answer: list[str]
    my_answer: Literal["will_come", "declined"] | None
    my_places: list[str]
    i_am_ready: bool
    i_call: bool
    children_in: int
    under: list[str]
    children_out: bool
    nobody_beneath: bool
    wants: list[Saying]  # what stands between the crew and *Lift*, or *Go on*
    held: Pair | None
    stopped: Pair | None
    lowering: bool
    set_down: Pair | None
    set_down_by_caller: bool
    landed_elsewhere: str | None
    landed: Pair | None
    by_voice: bool
    voice_marks: list[Saying]
    can: list[str]  # kinds of command that this viewer may send now


class LiftParams(BaseModel):
    lift: str


@view("lifts", "/lifts", NoParams, LiftsView)
def lifts(state: State, viewer: Viewer, params: NoParams) -> LiftsView:
    """All lifts of the plan: where each stands, when, how many places are taken."""
    rows = sorted(state.all(Lift), key=lambda lift: (lift.when_ms is None, lift.when_ms or 0, lift.id))
    return LiftsView(as_of_ms=viewer.now_ms, lifts=[_line(lift, viewer.person) for lift in rows])


def _line(lift: Lift, me: str) -> LiftLine:
    places = places_of(lift.plan)
    return LiftLine(
        id=lift.id,
        title=lift.plan.title,
        task=lift.task,
        state=lift.state,
        when_ms=lift.when_ms,
        places=len(places),
        taken=sum(1 for place in places if place in lift.places),
        my_places=[place for place in places if lift.places.get(place) == me],
        my_answer=lift.answers.get(me),
        unfit=_unfit(lift),
        signature_due=lift.set_down is not None and lift.landed is None,
    )


def _unfit(lift: Lift) -> Saying | None:
    return saying(lift.unfit, {"lift": lift.plan.title}) if lift.unfit else None


@view("lift", "/lifts/{lift}", LiftParams, LiftView)
def one_lift(state: State, viewer: Viewer, params: LiftParams) -> LiftView:
    """One lift: load, shares, places, briefing, roll call, what is missing, what the viewer may do."""
    lift = state.get(Lift, params.lift)
    plan, me = lift.plan, viewer.person
    i_call = caller_of(lift) == me
    near = lift.state in ("called", "crewed", "in_place", "held")
    alive = viewer.facts.phones_alive
    people = {*lift.places.values()} if not i_call else alive  # only the caller watches phones
    wants = lift_wants(state, lift, viewer.now_ms, people) if near else []
    tried, hints = _ways(state, lift, viewer)
    floor = floor_said(state, lift, viewer.now_ms)
    proposed = proposed_place(state, lift, me, viewer.facts.own_kg) if near else None
    return LiftView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=_valid_until(lift, viewer, i_call) if near else None,
        id=lift.id,
        title=plan.title,
        task=lift.task,
        state=lift.state,
        round=lift.round,
        when_ms=lift.when_ms,
        called_by=lift.called_by,
        load=LoadView(
            mass_kg=plan.mass_kg,
            mass_plus_minus_kg=plan.mass_plus_minus_kg,
            cg_x_mm=plan.cg_x_mm,
            cg_y_mm=plan.cg_y_mm,
            cg_plus_minus_mm=plan.cg_plus_minus_mm,
            cg_above_hands_mm=plan.cg_above_hands_mm,
            tilted=any(tilt_deg(phase) > 0 for phase in plan.phases),
            how_known=plan.how_known,
            how_known_text=lift.how_known_text,
            outline_mm=list(plan.outline_mm),
        ),
        supports=_supports(lift),
        shares=lift.shares,
        shares_by=lift.shares_by,
        verdicts=lift.verdicts,
        above_reason=lift.above_reason,
        ways=tried,
        hints=hints,
        let_go=let_go_words(plan) if lift.state in BEFORE_UP and lift.unfit is None else [],
        unjudged=[f"{one.says} {one.remedy}" for one in unjudged(plan)],
        rearranged=_rearranged(lift),
        unfit=_unfit(lift),
        path=plan.path,
        method=plan.method,
        briefing=plan.briefing,
        words=plan.words,
        stop_word=plan.stop_word,
        places=[place_view(state, lift, place, viewer, proposed) for place in places_of(plan)],
        people=len(lifter_places(plan)) + plan.guides,
        caller=caller_of(lift),
        will_come=sorted(p for p, word in lift.answers.items() if word == "will_come"),
        declined=sorted(p for p, word in lift.answers.items() if word == "declined"),
        no_answer=unanswered(state, lift),
        my_answer=lift.answers.get(me),
        my_places=[place for place in places_of(plan) if lift.places.get(place) == me],
        i_am_ready=me in lift.ready,
        i_call=i_call,
        children_in=len(children_in(state)),
        under=sorted(under.id for under in state.all(Under)),
        children_out=floor.children_out,
        nobody_beneath=floor.nobody_beneath,
        wants=[saying(want.code, want.params) for want in wants],
        held=lift.held,
        stopped=lift.stopped,
        lowering=lift.lowering,
        set_down=lift.set_down,
        set_down_by_caller=lift.set_down_by_caller,
        landed_elsewhere=lift.landed_elsewhere,
        landed=lift.landed,
        by_voice=lift.by_voice,
        voice_marks=[_mark(lift, code) for code in lift.voice_marks],
        can=_can(state, lift, viewer),
    )


def _mark(lift: Lift, code: str) -> Saying:
    """What the rules would have said to a lift by voice, with what its sentence needs."""
    empty = [place_words(lift.plan, place) for place in places_of(lift.plan) if place not in lift.places]
    verdict = verdict_wants(lift, reason=None)
    params = verdict.params if verdict is not None and verdict.code == code else {"lift": lift.plan.title}
    return saying(code, {"place": ", ".join(empty)} if code == "place_empty" else params)


def _leads(state: State, viewer: Viewer) -> bool:
    me = state.find(Member, viewer.person)
    return me is not None and me.role == "lead"


def _ways(state: State, lift: Lift, viewer: Viewer) -> tuple[list[WayView], list[str]]:
    """What would make it work, while it can still be rearranged; by published figures only (R20, R21)."""
    if not has_effect(lift, "lift.rearrange") or not _leads(state, viewer):
        return [], []
    found = [
        WayView(id=w.id, kind=w.kind, does=w.does, says=w.says, figure_kg=w.figure_kg, mark_kg=w.mark_kg)
        for w in ways(lift.plan, lift.verdicts)
    ]
    goal = goal_of(lift.verdicts)
    if goal is None:
        return found, []
    passed = next(one for one in lift.verdicts if one.figure_kg == goal)
    hints = [fewest_words(passed), lightest_words(lift.plan, lift.verdicts)]
    return found, [hint for hint in hints if hint is not None]


def _rearranged(lift: Lift) -> bool:
    planned = lift.planned or lift.plan
    return (planned.supports, planned.guides) != (lift.plan.supports, lift.plan.guides)


def _supports(lift: Lift) -> list[SupportView]:
    return [
        SupportView(
            id=support.id,
            say=support.say,
            kind=support.kind,
            x_mm=support.x_mm,
            y_mm=support.y_mm,
            rated_kg=support.rated_kg,
            nominal_kg=nominal_kg(lift, support.id),
            worst_kg=worst_share_kg(lift.shares, support.id),
            person=lift.places.get(support.id),
        )
        for support in lift.plan.supports
    ]


def _valid_until(lift: Lift, viewer: Viewer, i_call: bool) -> int | None:
    if i_call:
        return viewer.now_ms + BEAT_MS
    ends = [tick.at_ms + ROLL_MS + 1 for tick in lift.roll.values()]
    ends += [lift.floor_ms + ROLL_MS + 1] if lift.floor_ms is not None else []
    return min((end for end in ends if end > viewer.now_ms), default=None)


def _can(state: State, lift: Lift, viewer: Viewer) -> list[str]:
    """What the viewer's screen may offer. The commands judge again."""
    me = state.find(Member, viewer.person)
    if me is None or me.left:
        return []
    crew, has_place = me.role != "viewer", viewer.person in lift.places.values()
    in_charge = _leads(state, viewer)
    calls = caller_of(lift) == viewer.person
    was_there = viewer.person in {*lift.there, *lift.places.values()}
    may = {
        "lift.weigh": me.role in ("lead", "builder"),
        "lift.rearrange": in_charge,
        "lift.call": in_charge and lift.unfit is None,
        "lift.answer": crew and me.minor is None,
        "lift.leave_place": has_place,
        "lift.ready": has_place,
        "lift.roll": calls,
        "lift.clear_floor": calls,
        "lift.lift": calls,
        "lift.stop": True,
        "lift.lower": calls,
        "lift.go_on": calls and lift.set_down is None,
        "lift.set_down": was_there,
        "lift.sign_landed": lift.set_down is not None
        and crew
        and may_sign_landed(lift, viewer.person)
        and lift.set_down.by != viewer.person,
        "lift.stand_down": in_charge or calls,
        "lift.report_by_voice": crew,
    }
    return [kind for kind, allowed in may.items() if allowed and has_effect(lift, kind)]
