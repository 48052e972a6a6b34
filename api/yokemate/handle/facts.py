"""What stands outside the ledger and is never written down: filled in for one command or one view."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from sqlalchemy import Connection

from yokemate.rules.frame import State
from yokemate.rules.lift_crew import called_above
from yokemate.rules.lift_verdict import FIGURES_KG
from yokemate.rules.rows import Lift, Member
from yokemate.store import people

LARGER_KG, LOWER_KG = (int(figure) for figure in FIGURES_KG)


@dataclass(frozen=True)
class Suited:
    """(person, place) -> whether the place's worst share is within what suits that person; and of those it is not, which
    only because the person has not said which published figure is theirs.
    """

    suits: dict[tuple[str, str], bool]
    figure_unsaid: frozenset[tuple[str, str]]


def suited(connection: Connection, state: State, lift_id: str | None, only: str | None = None) -> Suited:
    """What suits whom in a lift (R20, R21). `only`: for this person alone, as in what they are shown."""
    lift = state.find(Lift, lift_id) if lift_id else None
    if lift is None:
        return Suited({}, frozenset())
    worst: dict[str, Fraction] = {}
    for share in lift.shares:
        worst[share.support] = max(worst.get(share.support, Fraction(0)), Fraction(share.worst_kg))
    ids = [only] if only else [member.id for member in state.all(Member) if not member.left]
    suits: dict[tuple[str, str], bool] = {}
    unsaid: set[tuple[str, str]] = set()
    for id in ids:
        private = people.private(connection, id)
        bound, if_larger = _bound(private, lift), _bound(_as_larger(private), lift)
        for place, kg in worst.items():
            suits[(id, place)] = _within(kg, bound)
            if not _within(kg, bound) and _within(kg, if_larger):
                unsaid.add((id, place))
    return Suited(suits, frozenset(unsaid))


def own_kg(connection: Connection, state: State, lift_id: str, person: str) -> Fraction | None:
    """What one person bears at most in this lift, for what is shown to them alone (R21)."""
    lift = state.find(Lift, lift_id)
    return _bound(people.private(connection, person), lift) if lift is not None else None


def _bound(private: people.Private, lift: Lift) -> Fraction | None:
    """Their own stated limit; and the published figure that suits them, unless the lift was called above guidance,
    where each says yes to their own share (R20). Who has not said which figure is theirs is taken to be of the lower one.

    Nothing, where the lift is within guidance only for people of the other figure: they bear it together, and who else
    lifts is of whichever figure is nobody's to tell (R21).
    """
    figures = [Fraction(private.limit_kg)] if private.limit_kg is not None else []
    if not called_above(lift):
        figure_kg = LOWER_KG if private.guideline_kg is None else private.guideline_kg
        figures.append(Fraction(figure_kg))
        theirs = next((one for one in lift.verdicts if one.figure_kg == str(figure_kg)), None)
        if theirs is not None and theirs.verdict != "within guidance":
            figures.append(Fraction(0))
    return min(figures, default=None)


def _as_larger(private: people.Private) -> people.Private:
    """As if who said no figure had said the larger one."""
    return replace(private, guideline_kg=LARGER_KG) if private.guideline_kg is None else private


def _within(kg: Fraction, bound: Fraction | None) -> bool:
    return bound is None or kg <= bound
