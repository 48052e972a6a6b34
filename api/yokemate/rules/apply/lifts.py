"""What lift entries change."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.planfile.model import LiftPhase, Support
from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.lifts import Lift, LiftState, Roll, Share, Verdict

_NO_ROLL: dict[str, Any] = {"roll": {}, "children_out": False, "nobody_beneath": False, "floor_ms": None}
_NO_CREW: dict[str, Any] = {"places": {}, "ready": {}, "answers": {}, **_NO_ROLL}


@applies("lift.weighed")
def weighed(
    draft: Draft,
    at: At,
    *,
    lift: str,
    mass_kg: str,
    mass_plus_minus_kg: str,
    cg_x_mm: str,
    cg_y_mm: str,
    cg_plus_minus_mm: str,
    cg_above_hands_mm: str | None = None,
    how_known: str | None = None,
    how_known_text: str | None = None,
    shares: list[dict[str, Any]],
    shares_by: str,
    unfit: str | None,
    verdicts: list[dict[str, Any]] | None = None,
    round: int | None = None,
) -> None:
    """`round`: everybody is asked anew, and this is what tells it from before (entries of before raised none)."""
    old = draft.get(Lift, lift)
    load = {
        "mass_kg": mass_kg,
        "mass_plus_minus_kg": mass_plus_minus_kg,
        "cg_x_mm": cg_x_mm,
        "cg_y_mm": cg_y_mm,
        "cg_plus_minus_mm": cg_plus_minus_mm,
        "cg_above_hands_mm": old.plan.cg_above_hands_mm if cg_above_hands_mm is None else cg_above_hands_mm,
        "how_known": how_known,
    }
    draft.change(
        Lift,
        lift,
        plan=old.plan.model_copy(update=load),
        how_known_text=how_known_text,
        planned=old.planned or old.plan,
        shares=[Share(**share) for share in shares],
        shares_by=shares_by,
        unfit=unfit,
        verdicts=[Verdict(**verdict) for verdict in verdicts or []],
        round=old.round if round is None else round,
        **_NO_CREW,
    )


@applies("lift.rearranged")
def rearranged(
    draft: Draft,
    at: At,
    *,
    lift: str,
    way: str,
    supports: list[dict[str, Any]],
    phases: list[dict[str, Any]],
    guides: int,
    method: str | None,
    shares: list[dict[str, Any]],
    shares_by: str,
    unfit: str | None,
    verdicts: list[dict[str, Any]],
) -> None:
    """The load stays what it is; who and what bears it is new. `way`: what was done, in words."""
    old = draft.get(Lift, lift)
    borne = {
        "supports": [Support.model_validate(one) for one in supports],
        "phases": [LiftPhase.model_validate(one) for one in phases],
        "guides": guides,
        "method": method,
    }
    draft.change(
        Lift,
        lift,
        plan=old.plan.model_copy(update=borne),
        planned=old.planned or old.plan,
        shares=[Share(**share) for share in shares],
        shares_by=shares_by,
        unfit=unfit,
        verdicts=[Verdict(**verdict) for verdict in verdicts],
        **_NO_CREW,
    )


@applies("lift.called")
def called(draft: Draft, at: At, *, lift: str, when_ms: int, above_reason: str | None = None) -> None:
    draft.change(
        Lift,
        lift,
        state="called",
        when_ms=when_ms,
        above_reason=above_reason,
        called_by=at.by,
        round=draft.get(Lift, lift).round + 1,
        stood_down=None,
        stood_down_why=None,
        stopped=None,
        **_NO_CREW,
    )


@applies("lift.answered")
def answered(draft: Draft, at: At, *, lift: str, will_come: bool) -> None:
    old = draft.get(Lift, lift)
    draft.change(Lift, lift, answers={**old.answers, at.by: "will_come" if will_come else "declined"})


@applies("lift.place_taken")
def place_taken(draft: Draft, at: At, *, lift: str, place: str) -> None:
    old = draft.get(Lift, lift)
    draft.change(
        Lift,
        lift,
        places={**old.places, place: at.by},
        answers={**old.answers, at.by: "will_come"},
    )


@applies("lift.place_left")
def place_left(draft: Draft, at: At, *, lift: str, places: list[str], person: str | None = None) -> None:
    """`person`: whose, where the crew's list says that they may hold none."""
    old = draft.get(Lift, lift)
    draft.change(
        Lift,
        lift,
        places=_without(old.places, *places),
        roll=_without(old.roll, *places),
        ready=_without(old.ready, person or at.by) if places else old.ready,
    )


@applies("lift.stands")
def stands(draft: Draft, at: At, *, lift: str, state: LiftState) -> None:
    draft.change(Lift, lift, state=state)


@applies("lift.ready_said")
def ready_said(draft: Draft, at: At, *, lift: str, ready: bool) -> None:
    old = draft.get(Lift, lift)
    if ready:
        draft.change(Lift, lift, ready={**old.ready, at.by: at.at_ms})
    else:
        mine = [place for place, person in old.places.items() if person == at.by]
        draft.change(Lift, lift, ready=_without(old.ready, at.by), roll=_without(old.roll, *mine))


@applies("lift.roll_ticked")
def roll_ticked(draft: Draft, at: At, *, lift: str, place: str, person: str, here: bool) -> None:
    old = draft.get(Lift, lift)
    roll = {**old.roll, place: Roll(person=person, at_ms=at.at_ms)} if here else _without(old.roll, place)
    draft.change(Lift, lift, roll=roll)


@applies("lift.floor_said")
def floor_said(draft: Draft, at: At, *, lift: str, children_out: bool, nobody_beneath: bool) -> None:
    draft.change(Lift, lift, children_out=children_out, nobody_beneath=nobody_beneath, floor_ms=at.at_ms)


@applies("lift.lifted")
def lifted(draft: Draft, at: At, *, lift: str, there: list[str]) -> None:
    draft.change(
        Lift,
        lift,
        state="lifting",
        lifting_since_ms=at.at_ms,
        there=there,
        held=None,
        stopped=None,
        lowering=False,
        set_down=None,
    )


@applies("lift.stopped")
def stopped(draft: Draft, at: At, *, lift: str, effect: Literal["held", "roll_emptied", "none"]) -> None:
    """A stop after *set down* takes that word back: something is still moving."""
    here = Pair(by=at.by, at_ms=at.at_ms)
    draft.change(Lift, lift, stopped=here)
    if effect == "held":
        draft.change(Lift, lift, state="held", held=here, lowering=False, set_down=None, **_NO_ROLL)
    elif effect == "roll_emptied":
        draft.change(Lift, lift, **_NO_ROLL)


@applies("lift.lowering")
def lowering(draft: Draft, at: At, *, lift: str, counts: bool) -> None:
    if counts:
        draft.change(Lift, lift, lowering=True)


@applies("lift.went_on")
def went_on(draft: Draft, at: At, *, lift: str, there: list[str]) -> None:
    draft.change(Lift, lift, state="lifting", held=None, lowering=False, there=there)


@applies("lift.set_down")
def set_down(
    draft: Draft, at: At, *, lift: str, counts: bool, by_caller: bool, elsewhere: str | None
) -> None:
    if counts:
        draft.change(
            Lift,
            lift,
            set_down=Pair(by=at.by, at_ms=at.at_ms),
            set_down_by_caller=by_caller,
            landed_elsewhere=elsewhere,
        )


@applies("lift.landed")
def landed(draft: Draft, at: At, *, lift: str) -> None:
    draft.change(Lift, lift, state="landed", landed=Pair(by=at.by, at_ms=at.at_ms))


@applies("lift.reopened")
def reopened(draft: Draft, at: At, *, lift: str) -> None:
    """Its task was undone (R26): it is as before its first call, with the load as it is known now."""
    old = draft.get(Lift, lift)
    draft.change(
        Lift,
        lift,
        state="drafted",
        crossed_out=[*old.crossed_out, *([old.landed] if old.landed else [])],
        when_ms=None,
        called_by=None,
        above_reason=None,
        there=[],
        lifting_since_ms=None,
        held=None,
        stopped=None,
        lowering=False,
        set_down=None,
        set_down_by_caller=False,
        landed_elsewhere=None,
        landed=None,
        by_voice=False,
        voice_marks=[],
        **_NO_CREW,
    )


@applies("lift.stood_down")
def stood_down(draft: Draft, at: At, *, lift: str, reason: str, counts: bool) -> None:
    if counts:
        draft.change(
            Lift,
            lift,
            state="stood_down",
            stood_down=Pair(by=at.by, at_ms=at.at_ms),
            stood_down_why=reason,
            **_NO_ROLL,
        )


@applies("lift.reported_by_voice")
def reported_by_voice(
    draft: Draft,
    at: At,
    *,
    lift: str,
    counts: bool,
    places: dict[str, str],
    there: list[str],
    lifted_ms: int,
    set_down_ms: int,
    by_caller: bool,
    marks: list[str],
) -> None:
    if counts:
        draft.change(
            Lift,
            lift,
            state="lifting",
            by_voice=True,
            voice_marks=marks,
            places=places,
            there=there,
            lifting_since_ms=lifted_ms,
            set_down=Pair(by=at.by, at_ms=set_down_ms),
            set_down_by_caller=by_caller,
            held=None,
            lowering=False,
            **_NO_ROLL,
        )


def _without(of: dict[str, Any], *keys: str) -> dict[str, Any]:
    return {key: value for key, value in of.items() if key not in keys}
