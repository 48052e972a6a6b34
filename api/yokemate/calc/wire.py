"""Wire: sizes, voltage drop over the loop, the fuse that protects the wire, splices."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range

COPPER = 1000 / 58  # mohm·mm2/m at 20 °C (58 MS/m, IEC 60028)
_PER_DEGREE = 0.00393
# mm2: greatest resistance mohm/m at 20 °C, IEC 60228 class 5, plain copper
_CLASS_5 = {
    0.5: 39.0,
    0.75: 26.0,
    1: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4: 4.95,
    6: 3.30,
    10: 1.91,
    16: 1.21,
    25: 0.780,
    35: 0.554,
}
_FUSES = (1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40)
# AWG: A, a single short wire in free air (chassis wiring chart)
_CHASSIS_A = {20: 11, 18: 16, 16: 22, 14: 32, 12: 41, 10: 55}
LOOM_MM2 = (0.518, 8)  # what that chart covers: 20 AWG to short of 8 AWG
_GAUGES = (24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)

Circuit = Literal["safety", "other"]
_ALLOWED: dict[str, float] = {"safety": 3.0, "other": 10.0}  # percent of the supply


@dataclass(frozen=True)
class Gauge:
    """A solid wire by its gauge number.

    Fields:
        name [-]: like 16 or 2/0
        diameter_mm [mm]: bare
        area_mm2 [mm2]: copper
        resistance_mohm_per_m [mohm_per_m]: at 20 °C
    """

    name: str
    diameter_mm: float
    area_mm2: float
    resistance_mohm_per_m: float


@dataclass(frozen=True)
class Drop:
    """Voltage lost in a wire.

    Fields:
        resistance_mohm [mohm]: of the whole loop
        drop_v [v]: lost
        percent [percent]: of the supply
        heat_w_per_m [w_per_m]: shed by the wire
    """

    resistance_mohm: float
    drop_v: float
    percent: float
    heat_w_per_m: float


@dataclass(frozen=True)
class Fuse:
    """A fuse for a load and a wire.

    Fields:
        fuse_a [a]: next size up from load/0.8
        protects_wire [-]: whether it is no larger than the wire's rating
        sentence [-]: what to do
    """

    fuse_a: float
    protects_wire: bool
    sentence: str


@dataclass(frozen=True)
class TwelveGauge:
    """What a gauge number may mean on a roll.

    Fields:
        awg_mm2 [mm2]: by AWG
        sae_mm2 [mm2]: SAE vehicle wire of the same number, where known; none else
        question [-]: what to ask
    """

    awg_mm2: float
    sae_mm2: float | None
    question: str


def awg(gauge: str) -> Gauge:
    """A wire by its AWG number.

    Formula: d = 0.005 in · 92^((36 - n)/39); 1/0 .. 4/0 are n = 0 .. -3; R = ρ/A, ρ = 1/58 Ω·mm²/m
    Args:
        gauge [-]: 40 to 1, 1/0 to 4/0
    Returns: Gauge
    Source: ASTM B258 gauge law; IEC 60028 resistivity
    Example:
        >>> round(awg("16").area_mm2, 3)
        1.309
    """
    name = gauge.strip()
    zeros = {"0": 0, "1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
    if name in zeros:
        n = zeros[name]
    elif name.isascii() and name.isdigit() and 1 <= int(name) <= 40:
        n = int(name)
    else:
        raise CalcError("gauge", f"'{gauge}' is not a gauge.", "Give 40 to 1, or 1/0 to 4/0.")
    return _gauge(n)


def _gauge(n: int) -> Gauge:
    diameter = 0.127 * 92 ** ((36 - n) / 39)
    area = math.pi / 4 * diameter**2
    return Gauge(str(n) if n > 0 else f"{1 - n}/0", diameter, area, COPPER / area)


def resistance_at(resistance_mohm: float, temperature_deg_c: float) -> float:
    """The resistance of copper at a temperature, from that at 20 °C.

    Formula: R = R20·(1 + 0.00393 (T - 20))
    Args:
        resistance_mohm [mohm]: at 20 °C; 0..100000
        temperature_deg_c [deg_c]: of the wire; -40..150
    Returns:
        resistance_mohm [mohm]: at that temperature
    Source: about 0.4 %/K (a note on IEC 60028); 0.00393 from memory; cable tables with 0.004 are 0.3 % apart
    Example:
        >>> round(resistance_at(1, 60), 4)
        1.1572
    """
    check_range("resistance_mohm", resistance_mohm, 0, 100000)
    check_range("temperature_deg_c", temperature_deg_c, -40, 150)
    return resistance_mohm * (1 + _PER_DEGREE * (temperature_deg_c - 20))


def voltage_drop(
    current_a: float,
    loop_m: float,
    area_mm2: float,
    supply_v: float = 12,
    temperature_deg_c: float = 20,
    table: Literal["pure", "class 5"] = "pure",
) -> Drop:
    """Voltage lost in a wire: the length is out and back, unless the frame is the return.

    Formula: V = I·R, R = ρ·L/A at 20 °C, corrected for temperature; class 5 takes the greatest resistance
        allowed
    Args:
        current_a [a]: load; 0.001..1000
        loop_m [m]: out and back; 0.01..200
        area_mm2 [mm2]: copper; 0.05..150
        supply_v [v]: supply; 1..60
        temperature_deg_c [deg_c]: of the wire; -40..150
        table [-]: pure copper of this area, or a metric flexible cable's greatest resistance
    Returns: Drop
    Source: IEC 60028; IEC 60228 class 5
    Example:
        >>> round(voltage_drop(22, 6.8, 4).drop_v, 3)
        0.645
    """
    check_range("current_a", current_a, 0.001, 1000)
    check_range("loop_m", loop_m, 0.01, 200)
    check_range("area_mm2", area_mm2, 0.05, 150)
    check_range("supply_v", supply_v, 1, 60)
    check_choice("table", table, ("pure", "class 5"))
    if table == "pure":
        per_m = COPPER / area_mm2
    elif area_mm2 in _CLASS_5:
        per_m = _CLASS_5[area_mm2]
    else:
        raise CalcError(
            "area_mm2", "is not a size of the class 5 table.", f"Sizes: {', '.join(map(str, _CLASS_5))}."
        )
    per_m = resistance_at(per_m, temperature_deg_c)
    drop = current_a * per_m * loop_m / 1000
    return Drop(per_m * loop_m, drop, drop / supply_v * 100, current_a**2 * per_m / 1000)


def drop_allowed(circuit: Circuit) -> float:
    """How much of the supply a wire may lose, by what hangs on it. No law for road vehicles sets a figure.

    Formula: table
    Args:
        circuit [-]: what hangs on it; any other circuit may lose more
    Returns:
        allowed_percent [percent]: of the supply
    Source: boat practice, ABYC E-11, as two dealers give it: 3 % for circuits that matter for safety, 10 % for the
        rest
    Example:
        >>> drop_allowed("safety")
        3.0
    """
    check_choice("circuit", circuit, tuple(_ALLOWED))
    return _ALLOWED[circuit]


def extended_resistance(tail_m: float, tail_mm2: float, added_m: float, added_mm2: float) -> float:
    """The resistance of a donor tail with a piece added; the added piece is never smaller than the tail.

    Formula: R = ρ·(L1/A1 + L2/A2)
    Args:
        tail_m [m]: donor tail; 0..100
        tail_mm2 [mm2]: its copper; 0.05..150
        added_m [m]: piece added; 0..100
        added_mm2 [mm2]: its copper; 0.05..150
    Returns:
        resistance_mohm [mohm]: both, at 20 °C
    Source: IEC 60028
    Example:
        >>> round(extended_resistance(1.2, 1.3087, 0.9, 2.0809), 2)
        23.27
    """
    check_range("tail_m", tail_m, 0, 100)
    check_range("tail_mm2", tail_mm2, 0.05, 150)
    check_range("added_m", added_m, 0, 100)
    check_range("added_mm2", added_mm2, 0.05, 150)
    if added_mm2 < tail_mm2 - 1e-9:
        raise CalcError("added_mm2", "is smaller than the donor tail.", "Take a wire at least as large.")
    return COPPER * (tail_m / tail_mm2 + added_m / added_mm2)


def gauge_for(area_mm2: float) -> Gauge:
    """The AWG size that may replace a metric wire: never a smaller one.

    Formula: smallest even gauge (1, 1/0 .. 4/0 too) whose area is at least the metric one
    Args:
        area_mm2 [mm2]: metric copper; 0.05..100
    Returns: Gauge
    Source: ASTM B258 gauge law; never smaller is common practice
    Example:
        >>> gauge_for(1.5).name
        '14'
    """
    check_range("area_mm2", area_mm2, 0.05, 100)
    return next(g for n in _GAUGES if (g := _gauge(n)).area_mm2 >= area_mm2)


def which_gauge(gauge: int) -> TwelveGauge:
    """What a gauge number on a roll may mean: AWG, or SAE vehicle wire with less copper.

    Formula: AWG by its law; SAE 12 = 5833 circular mils
    Args:
        gauge [-]: the number on the roll; 8..24
    Returns: TwelveGauge
    Source: a marine dealer's voltage drop page (SAE 12: 5833 against 6530 circular mils); other SAE sizes not
        verified
    Example:
        >>> round(which_gauge(12).sae_mm2, 2)
        2.96
    """
    check_range("gauge", gauge, 8, 24)
    sae = 5833 * math.pi / 4 * 0.0254**2 if gauge == 12 else None
    return TwelveGauge(
        _gauge(gauge).area_mm2, sae, "Is the roll marked AWG or SAE? SAE wire holds less copper."
    )


def fuse_for(load_a: Fraction, wire_a: Fraction) -> Fuse:
    """The fuse for a load; it protects the wire, so it may not be larger than the wire's rating.

    Formula: next standard size at or above load/0.8; size at most the wire's rating
    Args:
        load_a [a]: steady load; 0.1..32
        wire_a [a]: what the wire may carry as it is laid; 0.5..300
    Returns: Fuse
    Source: ISO 8820-3 blade fuses; the 80 % rule is common practice
    Example:
        >>> fuse_for(Fraction(22), Fraction(32)).fuse_a
        30.0
    """
    check_range("load_a", load_a, Fraction(1, 10), 32)
    check_range("wire_a", wire_a, Fraction(1, 2), 300)
    size = next(fuse for fuse in _FUSES if Fraction(fuse) >= load_a / Fraction("0.8"))
    if size <= wire_a:
        return Fuse(float(size), True, "The fuse protects the wire and carries the load.")
    return Fuse(float(size), False, "The fuse would not protect this wire: take a larger wire.")


def loom_current(area_mm2: float) -> float:
    """What a wire bears in a taped loom: half of what the chart allows a single short wire in free air.

    Formula: chassis wiring figure of the largest gauge that is no larger, halved
    Args:
        area_mm2 [mm2]: copper; 0.518..8
    Returns:
        current_a [a]: steady
    Source: a chassis wiring chart, 20 to 10 AWG (stored fusible-link page); half for a taped loom is common
        practice; charts disagree by two to three times
    Example:
        >>> loom_current(2.5)
        16.0
    """
    check_range("area_mm2", area_mm2, *LOOM_MM2)
    chosen = min(n for n in _CHASSIS_A if _gauge(n).area_mm2 <= area_mm2 + 1e-9)
    return _CHASSIS_A[chosen] / 2


def strand_area(strands: int, strand_mm: float) -> float:
    """The copper of a stranded wire.

    Formula: n·π/4·d²
    Args:
        strands [-]: how many; 1..5000
        strand_mm [mm]: each one's diameter; 0.02..5
    Returns:
        area_mm2 [mm2]: copper
    Source: geometry
    Example:
        >>> round(strand_area(32, 0.2), 3)
        1.005
    """
    check_range("strands", strands, 1, 5000)
    check_range("strand_mm", strand_mm, 0.02, 5)
    return strands * math.pi / 4 * strand_mm**2


def splice_area(side_a_mm2: Sequence[float], side_b_mm2: Sequence[float]) -> float:
    """The size of a splice barrel, which holds the wires of both sides.

    Formula: sum of all areas on both sides; pick the barrel at or above it
    Args:
        side_a_mm2 [mm2]: wires on one side; 0.05..150
        side_b_mm2 [mm2]: wires on the other; 0.05..150
    Returns:
        area_mm2 [mm2]: copper in the barrel
    Source: splice makers' sizing by total area (parallel splice)
    Example:
        >>> splice_area([0.75, 1.5], [2.5])
        4.75
    """
    for field, areas in (("side_a_mm2", side_a_mm2), ("side_b_mm2", side_b_mm2)):
        if not areas:
            raise CalcError(field, "holds no wire.", "Give the wires of both sides.")
        for area in areas:
            check_range(field, area, 0.05, 150)
    return sum(side_a_mm2) + sum(side_b_mm2)
