"""What a torque does to its bolt, and what threads found otherwise than the figure assumed would change.

Advice for the torque screen and the plan's doubts: it computes and shows its rule, converts nothing by itself and
stops nobody. A figure set by a seat or a seal (no property class) has no preload to judge; where turns follow the
torque, they and not it make the preload.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, log10

from yokemate.calc.errors import CalcError
from yokemate.calc.torque import Plausibility, lubrication_change, nut_factor, plausibility
from yokemate.planfile.model import TorqueSpec
from yokemate.rules.thread_words import Condition, condition_of, thread_of
from yokemate.units import QuantityError, convert_exact, format_decimal

# As found on the first pass, as the nut factor tables know it. Thread locker counts as a lubricant (common practice).
FOUND: dict[str, Condition] = {
    "clean_dry": "dry",
    "oiled": "oiled",
    "locker": "oiled",
    "anti_seize": "anti_seize",
}
# Threads found clean and dry say nothing against a figure for any of these: the finish is the bolt's own.
_DRY: frozenset[Condition] = frozenset({"dry", "zinc_dry", "galvanised_dry", "stainless_dry"})


def judged(spec: TorqueSpec) -> Plausibility | None:
    """Preload and share of proof load over the range of K, the middle one at the plan's own K where it says one. A
    castle nut may be turned on to the end of its range, and is judged there.

    None where thread, class or lubrication is not known.
    """
    condition = condition_of(spec.lubrication)
    if condition is None or spec.property_class is None or spec.turns_deg:
        return None
    try:
        torque_n_m = convert_exact(Fraction(highest(spec)), spec.target.unit, "n_m")
        stated = float(spec.nut_factor) if spec.nut_factor is not None else None
        return plausibility(thread_of(spec.thread), spec.property_class, float(torque_n_m), condition, stated)
    except (CalcError, QuantityError):
        return None


def highest(spec: TorqueSpec) -> str:
    """The greatest torque that the figure allows: a castle nut's upper end, else the target itself."""
    return spec.target.torque_max or spec.target.torque


def same_preload(spec: TorqueSpec, found: str) -> tuple[str, str] | None:
    """With threads found so: the torque for the same preload (spec's unit; "46 to 60" for a castle nut), and how many times
    the preload the given torque would make, to two figures: K is known as a range. From the K that the figure's source
    states, else from the usual one. None where it makes no difference or nothing is known.
    """
    given, now = condition_of(spec.lubrication), FOUND.get(found)
    if given is None or now is None or spec.property_class is None or spec.turns_deg:
        return None
    if given == now or {given, now} <= _DRY:
        return None
    before = Fraction(spec.nut_factor or str(nut_factor(given).usual))
    after = Fraction(str(nut_factor(now).usual))
    if before == after:
        return None
    try:
        ends = [
            _about(lubrication_change(Fraction(torque), before, after))
            for torque in dict.fromkeys([spec.target.torque, highest(spec)])
        ]
    except CalcError:
        return None
    return " to ".join(ends), _about(before / after)


def _about(value: Fraction) -> str:
    """Two figures, three where the first is a 1; whole numbers stay whole."""
    begins = floor(log10(value))
    figures = 3 if value < 2 * Fraction(10) ** begins else 2
    return format_decimal(value, max(figures - 1 - begins, 0))
