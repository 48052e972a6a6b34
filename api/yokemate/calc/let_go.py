"""What happens to the others when one person lets go: they must still be able to set the load down."""

from collections.abc import Sequence
from dataclasses import dataclass

from yokemate.calc.errors import CalcError, check_range
from yokemate.calc.statics import Share, Support, support_shares


@dataclass(frozen=True)
class LetGo:
    """One person lets go.

    Fields:
        name [-]: who
        holds [-]: whether the load surely stays on the others
        heaviest [-]: the person who then bears most, or the stiff support where no person is left; empty when it tips
        heaviest_kg [kg]: what that place bears at worst; 0 when the load tips
        borne_kg [kg]: what each of the others bears at worst, in the order given; none when the load tips
    """

    name: str
    holds: bool
    heaviest: str
    heaviest_kg: float
    borne_kg: tuple[float, ...]


def let_go(
    mass_kg: float,
    supports: Sequence[Support],
    cog_x_mm: float,
    cog_y_mm: float = 0.0,
    cog_plus_minus_mm: float = 0.0,
) -> tuple[LetGo, ...]:
    """For each person in turn (not the stiff supports): do the others hold the load, and what is the most one
    of them bears?

    Formula: shares of the remaining supports at worst, as in support_shares
    Args:
        mass_kg [kg]: the whole load at its heaviest; 0.1..20000
        supports [-]: 2 to 8 places
        cog_x_mm [mm]: centre of gravity along the load; -100000..100000
        cog_y_mm [mm]: centre of gravity across the load; -100000..100000
        cog_plus_minus_mm [mm]: it may be this far off, any way; 0..5000
    Returns: LetGo
    Picture: lift_from_above of support_shares
    Source: common practice: the rest must be able to set down, nobody above twice their limit
    Example:
        >>> corners = [Support("a", 0), Support("b", 2000), Support("c", 2000, 1000), Support("d", 0, 1000)]
        >>> [case.holds for case in let_go(80, corners, 900, 400)]
        [False, False, True, True]
    """
    if len(supports) < 2:
        raise CalcError("supports", "one person alone can only let go.", "Give at least two places.")
    check_range("cog_plus_minus_mm", cog_plus_minus_mm, 0, 5000)
    # figures out of range, or a load that tips from the start
    _shares(mass_kg, supports, cog_x_mm, cog_y_mm, cog_plus_minus_mm)
    cases = []
    for gone in supports:
        if gone.stiff:
            continue
        rest = [support for support in supports if support is not gone]
        try:
            shares = _shares(mass_kg, rest, cog_x_mm, cog_y_mm, cog_plus_minus_mm)
        except CalcError:
            cases.append(LetGo(gone.name, False, "", 0.0, ()))
            continue
        people = {support.name for support in rest if not support.stiff}
        most = max(shares, key=lambda share: (share.name in people, share.judged_kg))
        borne = tuple(share.judged_kg for share in shares)
        cases.append(LetGo(gone.name, True, most.name, most.judged_kg, borne))
    return tuple(cases)


def _shares(
    mass_kg: float, supports: Sequence[Support], x_mm: float, y_mm: float, off_mm: float
) -> tuple[Share, ...]:
    return support_shares(mass_kg, supports, x_mm, y_mm, off_mm, off_mm, region="ellipse").shares
