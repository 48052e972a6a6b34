"""Screw threads by their usual names, and the strength of bolts by class."""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError

# Nominal diameter mm: pitches mm, coarse first. ISO 261; coarse column also in ISO 898-1 and bd-warehouse
# 0.4.0.
_METRIC: dict[str, tuple[str, ...]] = {
    "3": ("0.5",),
    "4": ("0.7",),
    "5": ("0.8",),
    "6": ("1", "0.75"),
    "8": ("1.25", "1"),
    "10": ("1.5", "1.25", "1"),
    "12": ("1.75", "1.5", "1.25"),
    "14": ("2", "1.5"),
    "16": ("2", "1.5"),
    "18": ("2.5", "2", "1.5"),
    "20": ("2.5", "2", "1.5"),
    "22": ("2.5", "2", "1.5"),
    "24": ("3", "2"),
    "27": ("3", "2"),
    "30": ("3.5", "2"),
}
# Size: threads per inch, coarse (UNC) first, then fine (UNF). ASME B1.1.
_UNIFIED: dict[str, tuple[int, int]] = {
    "10": (24, 32),
    "1/4": (20, 28),
    "5/16": (18, 24),
    "3/8": (16, 24),
    "7/16": (14, 20),
    "1/2": (13, 20),
    "9/16": (12, 18),
    "5/8": (11, 18),
    "3/4": (10, 16),
    "7/8": (9, 14),
    "1": (8, 12),
}
_METRIC_NAME = re.compile(r"[Mm]([0-9]{1,2})(?: ?[xX×] ?([0-9](?:[.,][0-9]{1,2})?))?")
_UNIFIED_NAME = re.compile(r"#?([0-9]{1,2}(?:/[0-9]{1,2})?)-([0-9]{1,2})(?: ?(UNC|UNF))?")


@dataclass(frozen=True)
class Thread:
    """A screw thread.

    Fields:
        name [-]: its full name, always with the pitch
        coarse [-]: whether it is the coarse one of its size
        unified [-]: true for an inch thread
        diameter_mm [mm]: major diameter d
        pitch_mm [mm]: pitch P
        pitch_diameter_mm [mm]: d2 = d - 0.649519 P
        minor_diameter_mm [mm]: d1 = d - 1.082532 P
        root_diameter_mm [mm]: d3 = d - 1.226869 P
        stress_area_mm2 [mm2]: tensile stress area As
    """

    name: str
    coarse: bool
    unified: bool
    diameter_mm: float
    pitch_mm: float
    pitch_diameter_mm: float
    minor_diameter_mm: float
    root_diameter_mm: float
    stress_area_mm2: float


@dataclass(frozen=True)
class Strength:
    """What a bolt bears by its class; minima.

    Fields:
        tensile_mpa [mpa]: tensile strength Rm
        yield_mpa [mpa]: yield or 0.2 % proof strength
        proof_mpa [mpa]: stress under proof load Sp; none where the standard defines none
        tensile_kn [kn]: Rm times the stress area
        yield_kn [kn]: yield times the stress area
        proof_kn [kn]: proof load
    """

    tensile_mpa: float
    yield_mpa: float
    proof_mpa: float | None
    tensile_kn: float
    yield_kn: float
    proof_kn: float | None


def thread(thread: str) -> Thread:
    """The dimensions of a thread by its name; `M12` with no pitch is the coarse M12x1.75.

    Formula: ISO: As = π/4·((d2 + d3)/2)²; Unified: As = 0.7854·(D - 0.9743/n)² in²
    Args:
        thread [-]: like M10, M12x1.25, 1/4-28, 10-32
    Returns: Thread
    Source: ISO 261 sizes and pitches M3 to M30 in common use; ISO 724 profile; ISO 898-1 stress area; ASME
        B1.1 10 to 1 in
    Example:
        >>> round(thread("M10").stress_area_mm2, 2)
        57.99
    """
    name = thread.strip()
    if match := _METRIC_NAME.fullmatch(name):
        size, pitch = match.group(1), (match.group(2) or "").replace(",", ".")
        pitches = _METRIC.get(size)
        if pitches is None:
            raise CalcError("thread", f"M{size} is not in the table.", f"Sizes: M{', M'.join(_METRIC)}.")
        chosen = (
            pitches[0] if not pitch else next((p for p in pitches if Fraction(p) == Fraction(pitch)), None)
        )
        if chosen is None:
            raise CalcError("thread", f"M{size} has no pitch {pitch}.", f"Pitches: {', '.join(pitches)}.")
        return _thread(f"M{size}x{chosen}", chosen == pitches[0], float(size), float(chosen), unified=False)
    if match := _UNIFIED_NAME.fullmatch(name):
        size, count = match.group(1), int(match.group(2))
        counts = _UNIFIED.get(size)
        if counts is None or count not in counts:
            known = ", ".join(f"{s}-{n}" for s, pair in _UNIFIED.items() for n in pair)
            raise CalcError("thread", f"{name} is not in the table.", f"Threads: {known}.")
        series = "UNC" if count == counts[0] else "UNF"
        if match.group(3) not in (None, series):
            raise CalcError("thread", f"{size}-{count} is {series}.", "Count its threads with a gauge.")
        diameter = 0.19 if size == "10" else float(Fraction(size))
        return _thread(f"{size}-{count}", count == counts[0], diameter * 25.4, 25.4 / count, unified=True)
    raise CalcError(
        "thread", f"'{name}' is not the name of a thread.", "Write it like M10, M12x1.25 or 3/8-24."
    )


def _thread(name: str, coarse: bool, d: float, p: float, *, unified: bool) -> Thread:
    d2, d1, d3 = d - 0.649519 * p, d - 1.082532 * p, d - 1.226869 * p
    area = math.pi / 4 * ((d - 0.9743 * p) ** 2 if unified else ((d2 + d3) / 2) ** 2)
    return Thread(name, coarse, unified, d, p, d2, d1, d3, area)


_KSI = 6.894757293168361
# Class: rows of (up to mm, Rm, yield, Sp) in MPa; the yield of 4.8, 5.8 and 6.8 is Rpf, informative. Where the
# proof stress is None no standard defines one.
_METRIC_CLASSES: dict[str, tuple[tuple[float, float, float, float | None], ...]] = {
    "4.6": ((39, 400, 240, 225),),
    "4.8": ((39, 420, 340, 310),),
    "5.6": ((39, 500, 300, 280),),
    "5.8": ((39, 520, 420, 380),),
    "6.8": ((39, 600, 480, 440),),
    "8.8": ((16, 800, 640, 580), (39, 830, 660, 600)),
    "9.8": ((16, 900, 720, 650),),
    "10.9": ((39, 1040, 940, 830),),
    "12.9": ((39, 1220, 1100, 970),),
    "A2-70": ((24, 700, 450, None),),
    "A4-70": ((24, 700, 450, None),),
    "A2-80": ((24, 800, 600, None),),
    "A4-80": ((24, 800, 600, None),),
}
# Grade: (from in, up to in, Rm, yield, Sp) in ksi.
_SAE_GRADES: dict[str, tuple[float, float, float, float, float]] = {
    "grade 2": (0.25, 0.75, 74, 57, 55),
    "grade 5": (0.25, 1, 120, 92, 85),
    "grade 8": (0.25, 1.5, 150, 130, 120),
}
CLASSES = (*_METRIC_CLASSES, *_SAE_GRADES)
_AS_TYPED = {name.casefold(): name for name in CLASSES}  # a phone begins a field with a capital: Grade 5


def bolt_strength(thread_name: str, strength_class: str) -> Strength:
    """The strength of a bolt by its thread and class; what is not defined is refused.

    Formula: load = stress · stress area
    Args:
        thread_name [-]: like M10, M12x1.25, 3/8-24
        strength_class [-]: 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9, A2-70, A4-80, grade 2, grade 5,
            grade 8 and the like
    Returns: Strength
    Source: ISO 898-1:2013 (8.8 steps at 16 mm; 9.8 ends there); ISO 3506-1 for stainless; SAE J429
    Example:
        >>> round(bolt_strength("M12", "8.8").proof_kn, 1)
        48.9
    """
    t = thread(thread_name)
    strength_class = _AS_TYPED.get(strength_class.strip().replace(",", ".").casefold(), strength_class)
    if strength_class in _METRIC_CLASSES:
        if t.unified:
            raise CalcError(
                "strength_class", f"{strength_class} is for metric threads.", "Give a grade, like grade 5."
            )
        for to, rm, re_, sp in _METRIC_CLASSES[strength_class]:
            if t.diameter_mm <= to:
                return _strength(t, rm, re_, sp)
        raise CalcError(
            "strength_class", f"{strength_class} is not defined for {t.name}.", "Read the head again."
        )
    if strength_class in _SAE_GRADES:
        if not t.unified:
            raise CalcError(
                "strength_class", f"{strength_class} is for inch threads.", "Give a class, like 8.8."
            )
        low, high, rm, re_, sp_ = _SAE_GRADES[strength_class]
        if low <= round(t.diameter_mm / 25.4, 9) <= high:
            return _strength(t, rm * _KSI, re_ * _KSI, sp_ * _KSI)
        raise CalcError(
            "strength_class", f"{strength_class} is not in the table for {t.name}.", "Read the head again."
        )
    raise CalcError("strength_class", f"'{strength_class}' is not known.", f"Known: {', '.join(CLASSES)}.")


def _strength(t: Thread, rm: float, re_: float, sp: float | None) -> Strength:
    area = t.stress_area_mm2 / 1000
    return Strength(rm, re_, sp, rm * area, re_ * area, None if sp is None else sp * area)
