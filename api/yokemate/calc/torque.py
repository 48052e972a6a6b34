"""Torque and preload: what a figure does to a bolt, given what is on its thread.

Torque is only a proxy for the squeeze it makes: with the same torque a greased thread may be squeezed half
again as hard as a dry one. So the nut factor K is a range here, and every answer says which end it used.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from yokemate.calc.errors import CalcError, check_choice, check_range
from yokemate.calc.threads import bolt_strength, thread
from yokemate.units import UNITS, units_of

Condition = Literal[
    "dry", "oiled", "zinc_dry", "cadmium", "waxed", "anti_seize", "moly", "galvanised_dry", "stainless_dry"
]
Level = Literal["ok", "warn", "strong_warn", "block"]

MOST_N_M = 20000  # what the short form is used for here

# Condition: (low, usual, high, source). The sources disagree, which is why these are ranges.
_NUT_FACTORS: dict[str, tuple[float, float, float, str]] = {
    "dry": (0.18, 0.20, 0.27, "plain steel as received: four published tables"),
    "oiled": (0.10, 0.15, 0.26, "light oil: four published tables"),
    "zinc_dry": (0.17, 0.20, 0.35, "zinc plated, dry: published tables disagree (0.17, 0.20)"),
    "cadmium": (0.15, 0.17, 0.19, "cadmium plated: three published tables"),
    "waxed": (0.10, 0.10, 0.10, "waxed nut: one fastener dealer's chart"),
    "anti_seize": (0.11, 0.12, 0.13, "anti-seize: two published tables, a third from memory"),
    "moly": (0.11, 0.11, 0.11, "molybdenum anti-seize: one published table"),
    "galvanised_dry": (0.25, 0.25, 0.25, "hot-dip galvanised, dry: one fastener dealer's chart"),
    "stainless_dry": (0.30, 0.40, 0.50, "stainless on stainless, dry: one published table"),
}
_SENTENCES: dict[str, str] = {
    "ok": "At most 75 % of proof load: the usual level for joints that will be undone.",
    "warn": "Above 75 % of proof load: check the class, the lubrication and the unit.",
    "strong_warn": "Above 90 % of proof load: don't tighten before the figure's source is checked.",
    "block": "Above proof load: the bolt would stretch for good.",
}
# ISO 10684 Annex A gives these sizes lower loads than ISO 898-1: their threads are cut deeper for the zinc. How much lower
# we could not verify, so it is said and not reckoned with.
_LOWER_GALVANISED = ("M8x1.25", "M10x1.5")
_GALVANISED = " Hot-dip galvanised it bears less than that (ISO 10684 Annex A); how much is not in these tables: ask the maker."


@dataclass(frozen=True)
class NutFactor:
    """The nut factor K of T = K·d·F.

    Fields:
        low [-]: gives the most preload for a torque
        usual [-]: the figure most often printed
        high [-]: gives the least
        source [-]: where the range comes from
    """

    low: float
    usual: float
    high: float
    source: str


@dataclass(frozen=True)
class Plausibility:
    """What a torque does to a bolt.

    Fields:
        preload_low_kn [kn]: at the highest nut factor
        preload_kn [kn]: at the usual one
        preload_high_kn [kn]: at the lowest
        percent_low [percent]: of proof load, at the highest nut factor
        percent [percent]: of proof load, at the usual one
        percent_high [percent]: of proof load, at the lowest
        level [-]: ok up to 75 %, warn up to 90, strong_warn up to 100, block above; at the usual nut factor
        level_worst [-]: the same at the lowest nut factor
        sentence [-]: what the level means
    """

    preload_low_kn: float
    preload_kn: float
    preload_high_kn: float
    percent_low: float
    percent: float
    percent_high: float
    level: str
    level_worst: str
    sentence: str


@dataclass(frozen=True)
class ReadAs:
    """A bare figure read in one unit.

    Fields:
        unit [-]: unit id
        torque_n_m [n_m]: what it would be
        percent [percent]: of proof load, at the usual nut factor
        level [-]: as in plausibility
        likely [-]: between 40 and 90 % of proof load
    """

    unit: str
    torque_n_m: float
    percent: float
    level: str
    likely: bool


def nut_factor(condition: Condition) -> NutFactor:
    """The nut factor K for what is on the thread, as a range.

    Formula: table
    Args:
        condition [-]: what is on the thread and under the head
    Returns: NutFactor
    Figures: 2 because the nut factor is known as a range only
    Source: published nut factor tables of fastener makers and dealers; they disagree, hence ranges
    Example:
        >>> nut_factor("dry").usual
        0.2
    """
    check_choice("condition", condition, tuple(_NUT_FACTORS))
    return NutFactor(*_NUT_FACTORS[condition])


def short_torque(nut_factor: float, diameter_mm: float, preload_kn: float) -> float:
    """The torque for a wanted preload, short form.

    Formula: T = K·d·F
    Args:
        nut_factor [-]: K; 0.05..0.6
        diameter_mm [mm]: major diameter; 1..100
        preload_kn [kn]: wanted; 0..2000
    Returns:
        torque_n_m [n_m]: tightening torque
    Figures: 2 because the nut factor is known as a range only
    Source: short form in use with every nut factor table
    Example:
        >>> round(short_torque(0.2, 10, 25.08), 2)
        50.16
    """
    check_range("nut_factor", nut_factor, 0.05, 0.6)
    check_range("diameter_mm", diameter_mm, 1, 100)
    check_range("preload_kn", preload_kn, 0, 2000)
    return nut_factor * diameter_mm * preload_kn


def short_preload(torque_n_m: float, nut_factor: float, diameter_mm: float) -> float:
    """The preload that a torque makes, short form.

    Formula: F = T/(K·d)
    Args:
        torque_n_m [n_m]: tightening torque; 0..20000
        nut_factor [-]: K; 0.05..0.6
        diameter_mm [mm]: major diameter; 1..100
    Returns:
        preload_kn [kn]: squeeze in the joint
    Figures: 2 because the nut factor is known as a range only
    Source: short form in use with every nut factor table
    Example:
        >>> round(short_preload(50.165, 0.2, 10), 2)
        25.08
    """
    check_range("torque_n_m", torque_n_m, 0, MOST_N_M)
    check_range("nut_factor", nut_factor, 0.05, 0.6)
    check_range("diameter_mm", diameter_mm, 1, 100)
    return torque_n_m / (nut_factor * diameter_mm)


def torque_for_preload(
    thread_name: str, strength_class: str, percent_of_proof: float = 75, nut_factor: float = 0.2
) -> float:
    """The torque that loads a bolt to a part of its proof load.

    Formula: T = K·d·(p·Sp·As)
    Args:
        thread_name [-]: like M10
        strength_class [-]: one with a proof stress, like 8.8 or grade 5
        percent_of_proof [percent]: wanted; 1..100
        nut_factor [-]: K; 0.05..0.6
    Returns:
        torque_n_m [n_m]: tightening torque
    Figures: 2 because the nut factor is known as a range only
    Source: 75 % of proof for joints that will be undone (fastener dealers' charts); ISO 898-1, SAE J429 proof
        loads
    Example:
        >>> round(torque_for_preload("M10", "8.8"), 1)
        50.5
    """
    check_range("percent_of_proof", percent_of_proof, 1, 100)
    preload = _proof_kn(thread_name, strength_class) * percent_of_proof / 100
    return short_torque(nut_factor, thread(thread_name).diameter_mm, preload)


def level(percent_of_proof: float) -> Level:
    """How near a preload is to what the bolt bears, in four levels from ok to block.

    Formula: up to 75, 90, 100 % of proof load, above
    Args:
        percent_of_proof [percent]: preload over proof load; 0..100000
    Returns:
        level [-]: ok, warn, strong_warn or block
    Source: judgement of this project around the 75 % rule; not a standard
    Example:
        >>> level(85)
        'warn'
    """
    check_range("percent_of_proof", percent_of_proof, 0, 100000)
    if percent_of_proof <= 75:
        return "ok"
    if percent_of_proof <= 90:
        return "warn"
    return "strong_warn" if percent_of_proof <= 100 else "block"


def plausibility(
    thread_name: str,
    strength_class: str,
    torque_n_m: float,
    condition: Condition = "dry",
    stated_factor: float | None = None,
) -> Plausibility:
    """What a given torque does to a bolt with a given class and lubrication.

    Formula: F = T/(K·d) over the range of K; percent = F/(Sp·As)
    Args:
        thread_name [-]: like M10
        strength_class [-]: one with a proof stress, like 8.8 or grade 5
        torque_n_m [n_m]: the figure to judge; 0.01..20000
        condition [-]: what is on the thread and under the head
        stated_factor [-]: K that the figure's own source states; none takes the usual one; 0.05..0.6
    Returns: Plausibility
    Figures: 2 because the nut factor is known as a range only
    Source: ISO 898-1, SAE J429; nut factor tables; levels are this project's judgement; lower loads of galvanised M8 and
        M10 by ISO 10684 Annex A are said only
    Example:
        >>> plausibility("M10", "8.8", 50.165, "dry").level
        'ok'
    """
    check_range("torque_n_m", torque_n_m, 0.01, 20000)
    k, bolt = nut_factor(condition), thread(thread_name)
    usual = k.usual if stated_factor is None else stated_factor
    check_range("stated_factor", usual, 0.05, 0.6)
    proof = _proof_kn(thread_name, strength_class)
    factors = (max(k.high, usual), usual, min(k.low, usual))
    low, mid, high = (short_preload(torque_n_m, factor, bolt.diameter_mm) for factor in factors)
    lower = condition == "galvanised_dry" and bolt.name in _LOWER_GALVANISED
    found = level(mid / proof * 100)
    worst = level(high / proof * 100)
    return Plausibility(
        low,
        mid,
        high,
        low / proof * 100,
        mid / proof * 100,
        high / proof * 100,
        found,
        worst,
        _SENTENCES[found] + (_GALVANISED if lower else ""),
    )


def read_in_each_unit(
    figure: float,
    thread_name: str,
    strength_class: str,
    condition: Condition = "dry",
    stated_factor: float | None = None,
) -> tuple[ReadAs, ...]:
    """A figure whose unit is not known, read in each unit of torque: which would make sense on this bolt?

    Two likely units are a reason to ask, never to choose: 74 lbf·ft is 100 N·m, and an M12 may be meant to
    have either. What would be more than 20 000 N·m is left out: the short form ends there, and no bolt here bears it.

    Formula: as plausibility, once per unit
    Args:
        figure [-]: the bare number; 0.01..20000
        thread_name [-]: like M12
        strength_class [-]: one with a proof stress
        condition [-]: what is on the thread and under the head
        stated_factor [-]: K that the figure's own source states; none takes the usual one; 0.05..0.6
    Returns: ReadAs
    Figures: 3 because the nut factor is known as a range only
    Source: an engine maker's table has M12 8.8 = 74 and M12 10.9 = 100 N·m; 40 to 90 % as likely is common
        practice
    Example:
        >>> [r.unit for r in read_in_each_unit(74, "M12", "10.9") if r.likely]
        ['n_m', 'lbf_ft']
    """
    check_range("figure", figure, 0.01, 20000)
    factor = nut_factor(condition).usual if stated_factor is None else stated_factor
    check_range("stated_factor", factor, 0.05, 0.6)
    readings = []
    for unit in units_of("torque"):
        torque = figure * float(UNITS[unit.id].factor)
        if torque > MOST_N_M:
            continue
        mid = short_preload(torque, factor, thread(thread_name).diameter_mm)
        percent = mid / _proof_kn(thread_name, strength_class) * 100
        readings.append(ReadAs(unit.id, torque, percent, level(percent), 40 <= percent <= 90))
    return tuple(readings)


def lubrication_change(torque: Fraction, nut_factor_given: Fraction, nut_factor_now: Fraction) -> Fraction:
    """The torque for the same preload when the thread is lubricated otherwise than the figure assumed.

    Formula: T_new = T_old·K_new/K_old
    Args:
        torque [-]: the given figure, any unit; 0..100000
        nut_factor_given [-]: K that the figure assumed; 0.05..0.6
        nut_factor_now [-]: K of the thread as it is; 0.05..0.6
    Returns:
        torque [-]: same unit, by exactly that ratio
    Figures: 2 because the nut factor is known as a range only
    Source: from T = K·d·F; published cuts in percent conflict, so none is used
    Example:
        >>> lubrication_change(Fraction(100), Fraction("0.2"), Fraction("0.15"))
        Fraction(75, 1)
    """
    check_range("torque", torque, 0, 100000)
    check_range("nut_factor_given", nut_factor_given, Fraction("0.05"), Fraction("0.6"))
    check_range("nut_factor_now", nut_factor_now, Fraction("0.05"), Fraction("0.6"))
    return torque * nut_factor_now / nut_factor_given


def scatter(tightening_factor: float) -> float:
    """How far preload scatters about its middle, from the tightening factor.

    Formula: ±(a - 1)/(a + 1), a = F_max/F_min
    Args:
        tightening_factor [-]: a; 1..4
    Returns:
        scatter_percent [percent]: either way
    Figures: 2 because a tightening factor is an estimate
    Source: VDI 2230 tightening factor (a fastener maker's sheet prints 17 to 23 % for torque wrenches, a =
        1.4 to 1.6)
    Example:
        >>> round(scatter(1.6), 1)
        23.1
    """
    check_range("tightening_factor", tightening_factor, 1, 4)
    return (tightening_factor - 1) / (tightening_factor + 1) * 100


def _proof_kn(thread_name: str, strength_class: str) -> float:
    proof = bolt_strength(thread_name, strength_class).proof_kn
    if proof is None:
        raise CalcError(
            "strength_class",
            f"no proof load is defined for {strength_class} bolts.",
            "Use the maker's own figure.",
        )
    return proof
