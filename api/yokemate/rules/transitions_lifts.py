"""In which states of a lift a command has its effect; else an ask is refused, a report only kept (R18, R19).

    drafted → called → crewed → in place → lifting → landed
    aside: held (from lifting), stood down (before lifting)

Between called, crewed and in place a lift moves by itself, as places fill and the roll call is read.
"""

from __future__ import annotations

from typing import get_args

from yokemate.rules.refusals import Refused
from yokemate.rules.rows.lifts import Lift, LiftState

_BEFORE: frozenset[LiftState] = frozenset({"called", "crewed", "in_place"})
_UP: frozenset[LiftState] = frozenset({"lifting", "held"})

EFFECT: dict[str, frozenset[LiftState]] = {
    "lift.weigh": _BEFORE | {"drafted", "stood_down"},
    "lift.rearrange": frozenset({"drafted", "stood_down"}),
    "lift.call": frozenset({"drafted", "stood_down"}),
    "lift.answer": _BEFORE,
    "lift.take_place": _BEFORE | {"held"},
    "lift.leave_place": _BEFORE | {"held"},
    "lift.ready": _BEFORE | {"held"},
    "lift.roll": frozenset({"crewed", "in_place", "held"}),
    "lift.clear_floor": frozenset({"crewed", "in_place", "held"}),
    "lift.lift": _BEFORE,
    "lift.stop": _BEFORE | _UP,
    "lift.lower": frozenset({"held"}),
    "lift.go_on": frozenset({"held"}),
    "lift.set_down": _UP,
    "lift.sign_landed": _UP,
    "lift.stand_down": _BEFORE,
    "lift.report_by_voice": _BEFORE | {"drafted", "stood_down", "lifting"},
}
STATES: tuple[LiftState, ...] = get_args(LiftState)
_WORDS = {"in_place": "in place", "stood_down": "stood down"}
_REMEDY = {
    "drafted": "It is called first.",
    "stood_down": "It is called again first.",
    "landed": "It has landed; there is nothing more to do.",
    "called": "Its places are filled first.",
    "crewed": "The roll is called first.",
    "in_place": "The caller lifts, or stands it down.",
    "lifting": "It is set down first.",
    "held": "Lower it, or go on after a fresh roll call.",
}


def has_effect(lift: Lift, command: str) -> bool:
    """Of loads that are *lifting* only one that went by voice is reported by voice: it is said anew, until it is signed."""
    if command == "lift.report_by_voice" and lift.state == "lifting":
        return lift.by_voice and lift.set_down is not None
    return lift.state in EFFECT[command]


def need_state(lift: Lift, command: str) -> None:
    """Refuse an ask that the lift's state does not allow."""
    if not has_effect(lift, command):
        raise not_in_state(lift)


def same_round(lift: Lift, round: int | None) -> bool:
    """Whether it is about this call of the lift, and the load as it is known now. Phones of before say no round."""
    return round is None or round == lift.round


def need_round(lift: Lift, round: int | None) -> None:
    """Refuse what was answered to the call before (R21)."""
    if not same_round(lift, round):
        raise Refused("asked_anew", lift=lift.plan.title)


def not_in_state(lift: Lift) -> Refused:
    return Refused(
        "not_in_state",
        what=lift.plan.title,
        state=_WORDS.get(lift.state, lift.state),
        remedy=_REMEDY[lift.state],
    )
