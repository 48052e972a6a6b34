"""Ratings of European slings by how they are used. Their angles are to the VERTICAL; US ones are
to the horizontal.
"""

from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

Use = Literal["straight", "choked", "basket", "two legs", "three or four legs", "endless choked"]

# Use: factor to 45° to the vertical, factor from 45 to 60°; none where the use has no such row.
_WEB: dict[str, tuple[float, float | None]] = {
    "straight": (1.0, None),
    "choked": (0.8, None),
    "basket": (2.0, None),
    "two legs": (1.4, 1.0),
    "three or four legs": (2.1, 1.5),
}
_ROPE: dict[str, tuple[float, float | None]] = {
    "straight": (1.0, None),
    "two legs": (1.4, 1.0),
    "three or four legs": (2.1, 1.5),
    "endless choked": (1.6, None),
}


def sling_limit(
    rated_kg: float, use: Use, vertical_deg: float | None = None, kind: Literal["web", "rope"] = "web"
) -> float:
    """What a European sling may lift, from the rating of one straight leg. The label on the sling rules.

    Formula: rating times the factor of its use
    Args:
        rated_kg [kg]: one straight leg; 50..50000
        use [-]: how it is rigged; three and four legs are rated alike
        vertical_deg [deg]: leg to the VERTICAL, wanted where there are several legs; 0..60
        kind [-]: web sling, or wire rope
    Returns:
        limit_kg [kg]: for the whole sling
    Picture: sling
    Source: EN 1492-1 as in a maker's manual; EN 13414-1 table 4
    Example:
        >>> sling_limit(2000, "two legs", 40)
        2800.0
    """
    check_range("rated_kg", rated_kg, 50, 50000)
    if vertical_deg is not None:
        check_range("vertical_deg", vertical_deg, 0, 60)
    check_choice("kind", kind, ("web", "rope"))
    table = _WEB if kind == "web" else _ROPE
    check_choice("use", use, tuple(table))
    near, far = table[use]
    if far is not None:
        if vertical_deg is None:
            raise CalcError(
                "vertical_deg",
                "the angle decides what several legs may lift.",
                "Measure it, leg to the vertical.",
            )
        return rated_kg * (near if vertical_deg <= 45 else far)
    if vertical_deg is not None and vertical_deg > 5:
        raise CalcError("vertical_deg", f"'{use}' is rated for a straight pull.", "Count the legs again.")
    return rated_kg * near
