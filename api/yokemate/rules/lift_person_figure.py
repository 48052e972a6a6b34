"""What one phase of a lift allows one person of a published class, and which published figure decided (R20).

The least of the lifting filter's zone figure, and of the lifting equation where the hands take the load and where they
set it down. Hands whose heights the plan does not tell are taken to be in the filter's best zone.
"""

from __future__ import annotations

from dataclasses import dataclass

from yokemate.calc.errors import CalcError
from yokemate.calc.lifting_filter import Figure, figure_at_heights, filter_figure
from yokemate.calc.niosh import weight_limit
from yokemate.planfile.model import LiftPhase
from yokemate.rules.rows.lifts import DecidedBy

SOURCE: dict[DecidedBy, str] = {
    "largest": "HSE L23, no hand heights in the plan",
    "zone": "HSE L23 for these hand heights",
    "equation": "lifting equation, NIOSH 94-110, where it is taken",
    "equation_set_down": "lifting equation, NIOSH 94-110, where it is set down",
}
_CLASSES: dict[str, Figure] = {"25": "25 kg", "16": "16 kg"}
_BEST_HEIGHT_CM, _BEST_REACH_CM, _LEAST_TRAVEL_CM = 75.0, 25.0, 25.0


@dataclass(frozen=True)
class PersonFigure:
    kg: float
    by: DecidedBy


def person_figure(phase: LiftPhase, figure_kg: str) -> PersonFigure:
    """The least figure for a person of this class; of two alike the one named first."""
    start, ends = _number(phase.hands_height_cm), _ends(phase)
    near = _number(phase.reach_cm)
    far = _number(phase.set_down_reach_cm)
    far = near if far is None else far
    found = [_zone(phase, figure_kg, start, ends, near, far)]
    if start is not None and near is not None:
        found.append(PersonFigure(_equation(phase, start, near, _travel(phase, start, ends)), "equation"))
    if far is not None:
        found += [
            PersonFigure(_equation(phase, end, far, _travel(phase, start, [end])), "equation_set_down")
            for end in ends
        ]
    return min(found, key=lambda one: one.kg)


def _ends(phase: LiftPhase) -> list[float]:
    """Where hands may end. A travel without direction may go either way, but not below the floor: the worse counts."""
    end, start = _number(phase.set_down_height_cm), _number(phase.hands_height_cm)
    travel = _number(phase.vertical_travel_cm)
    if end is not None:
        return [end]
    if start is None or not travel:
        return []
    return [start + travel, *([start - travel] if travel <= start else [])]


def _travel(phase: LiftPhase, start: float | None, ends: list[float]) -> float:
    """At least the way from beginning to end; more where hands go over something."""
    said = _number(phase.vertical_travel_cm) or _LEAST_TRAVEL_CM
    return max([said, *(abs(end - start) for end in ends if start is not None)])


def _zone(
    phase: LiftPhase,
    figure_kg: str,
    start: float | None,
    ends: list[float],
    near: float | None,
    far: float | None,
) -> PersonFigure:
    heights = [height for height in (start, *ends) if height is not None]
    reaches = [reach for reach in (near, far) if reach is not None]
    known = bool(heights or reaches or phase.twist_deg is not None)
    low, high = (min(heights), max(heights)) if heights else (_BEST_HEIGHT_CM, _BEST_HEIGHT_CM)
    try:
        zone = figure_at_heights(low, high, max(reaches, default=_BEST_REACH_CM), _CLASSES[figure_kg])
        kg = filter_figure(zone, twist_deg=float(phase.twist_deg or 0))
    except CalcError:
        kg = 0.0  # hands where nobody has them: nothing is allowed there
    return PersonFigure(kg, "zone" if known else "largest")


def _equation(phase: LiftPhase, height: float, reach: float, travel: float) -> float:
    twist = float(phase.twist_deg or 0)
    try:
        return weight_limit(reach, height, travel, twist, coupling=phase.grip or "fair").limit_kg
    except CalcError:
        return 0.0


def _number(text: str | None) -> float | None:
    return None if text is None else float(text)
