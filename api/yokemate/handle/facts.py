"""What stands outside the ledger and is never written down: filled in for one command or one view."""

from __future__ import annotations

from fractions import Fraction

from sqlalchemy import Connection

from yokemate.rules.frame import State
from yokemate.rules.lift_crew import called_above
from yokemate.rules.rows import Lift, Member
from yokemate.store import people


def suits(
    connection: Connection, state: State, lift_id: str | None, only: str | None = None
) -> dict[tuple[str, str], bool]:
    """(person, place) -> whether the place's worst share is within what suits that person (R20, R21).

    Nobody without one is unsuited by it. `only`: for this person alone, as in what they are shown.
    """
    lift = state.find(Lift, lift_id) if lift_id else None
    if lift is None:
        return {}
    worst: dict[str, Fraction] = {}
    for share in lift.shares:
        worst[share.support] = max(worst.get(share.support, Fraction(0)), Fraction(share.worst_kg))
    ids = [only] if only else [member.id for member in state.all(Member) if not member.left]
    limits = {id: bound for id in ids if (bound := _bound(people.private(connection, id), lift)) is not None}
    return {(id, place): id not in limits or kg <= limits[id] for id in ids for place, kg in worst.items()}


def own_kg(connection: Connection, state: State, lift_id: str, person: str) -> Fraction | None:
    """What one person bears at most in this lift, for what is shown to them alone (R21)."""
    lift = state.find(Lift, lift_id)
    return _bound(people.private(connection, person), lift) if lift is not None else None


def _bound(private: people.Private, lift: Lift) -> Fraction | None:
    """Their own stated limit; and the published figure that suits them, unless the lift was called above guidance,
    where each says yes to their own share (R20).

    Nothing, where the lift is within guidance only for people of the other figure: they bear it together, and who else
    lifts is of whichever figure is nobody's to tell (R21).
    """
    figures = [Fraction(private.limit_kg)] if private.limit_kg is not None else []
    if private.guideline_kg is not None and not called_above(lift):
        figures.append(Fraction(private.guideline_kg))
        theirs = next((one for one in lift.verdicts if one.figure_kg == str(private.guideline_kg)), None)
        if theirs is not None and theirs.verdict != "within guidance":
            figures.append(Fraction(0))
    return min(figures, default=None)
