"""A torque against what its bolt bears: share of proof load, nut factor, a unit that looks mistaken, a scale too coarse.

A figure without property class is set by a seat or a seal: it makes no preload that could be judged here.
"""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.scale import scale_fit
from yokemate.calc.threads import bolt_strength, thread
from yokemate.calc.torque import Plausibility, nut_factor, read_in_each_unit
from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Plan, TorqueSpec, TorqueWrenchPlan
from yokemate.planfile.told import Told
from yokemate.rules.plan_figures import tolerance_of
from yokemate.rules.thread_words import Condition, condition_of, thread_of
from yokemate.rules.torque_advice import highest, judged
from yokemate.units import UNITS, convert_exact

BY = "Proof load by ISO 898-1 or SAE J429, nut factors as published; 75, 90 and 100 % are this project's levels."
HARDLY_PERCENT = 15  # a tenth of a usual figure, as a slip of the decimal mark makes it, lies well below


def torque_doubts(plan: Plan, told: Told) -> None:
    names = {spec.id: [g.name for g in plan.groups if g.spec == spec.id] for spec in plan.specs}
    for n, spec in enumerate(plan.specs):
        loc: Loc = ("specs", n)
        if spec.property_class is not None and spec.target.kind in ("torque", "castle"):
            _bolt(spec, spec.property_class, loc, _held(names[spec.id]), told)
        if spec.property_class is not None and spec.target.kind == "torque_angle":
            _before_angles(spec, spec.property_class, (*loc, "target", "torque"), _held(names[spec.id]), told)
        _marks(plan, spec, loc, told)


def _held(groups: list[str]) -> str:
    """Which bolts hang on it, in a few words."""
    if not groups:
        return ""
    more = f" and {len(groups) - 2} more" if len(groups) > 2 else ""
    return f" It holds for {'; '.join(groups[:2])}{more}."


def _bolt(spec: TorqueSpec, strength: str, loc: Loc, held: str, told: Told) -> None:
    try:
        proof = bolt_strength(thread_of(spec.thread), strength).proof_kn
    except CalcError as error:
        told.doubt("bolt_unknown", (*loc, "property_class"), f"{error.message} Its torque is not judged.{held}",
                   error.remedy, BY)  # fmt: skip
        return
    if proof is None:  # stainless bolts: no standard defines a proof load
        return
    condition = condition_of(spec.lubrication)
    if condition is None:
        told.doubt(
            "lubrication_unclear", (*loc, "lubrication"),
            f'"{spec.lubrication}" does not say plainly whether the thread is dry or what is on it: the same torque squeezes it half again '
            f"as hard when oiled.{held}",
            "Say it as the manual does: dry, dry zinc, oiled, anti-seize, thread locker.", BY,
        )  # fmt: skip
        return
    _factor(spec, condition, loc, told)
    found = judged(spec)
    if found is not None:
        _share(spec, strength, condition, found, (*loc, "target", "torque"), held, told)


def _before_angles(spec: TorqueSpec, strength: str, loc: Loc, held: str, told: Told) -> None:
    """What comes before the angles only seats the joint: they make the preload, which is not judged here."""
    seating = spec.target.model_copy(update={"kind": "torque", "angles_deg": []})
    found = judged(spec.model_copy(update={"target": seating}))
    if found is not None and found.level != "ok":
        told.doubt(
            "high_before_angle", loc,
            f"{spec.target.torque} {UNITS[spec.target.unit].label} alone makes {found.percent:.0f} % of the proof load of "
            f"{thread_of(spec.thread)} {strength}, {spec.lubrication}, and it is then turned on.{held}",
            "Look at figure and unit in the manual, and whether the angles belong to it.",
            f"{BY} A torque before angles only seats the joint (common practice).",
        )  # fmt: skip


def _factor(spec: TorqueSpec, condition: Condition, loc: Loc, told: Told) -> None:
    """A stated nut factor that is not one of such threads."""
    if spec.nut_factor is None:
        return
    usual = nut_factor(condition)
    if not usual.low <= float(spec.nut_factor) <= usual.high:
        told.doubt(
            "nut_factor_unlike", (*loc, "nut_factor"),
            f'K {spec.nut_factor} does not go with "{spec.lubrication}": published tables have {usual.low} to '
            f"{usual.high} for it.",
            "Look in the figure's source: other threads may be meant.", usual.source,
        )  # fmt: skip


def _share(
    spec: TorqueSpec,
    strength: str,
    condition: Condition,
    found: Plausibility,
    loc: Loc,
    held: str,
    told: Told,
) -> None:
    bolt = f"{thread_of(spec.thread)} {strength}, {spec.lubrication}"
    figure = f"{highest(spec)} {UNITS[spec.target.unit].label}"
    if found.level != "ok":
        told.doubt(
            "over_proof" if found.level == "block" else "near_proof", loc,
            f"{figure} makes {found.percent:.0f} % of the proof load of {bolt}. {found.sentence}{held}",
            "Look at figure, unit, class and lubrication in the manual.", BY,
        )  # fmt: skip
        return
    if found.level_worst == "block" and spec.nut_factor is None:
        low = nut_factor(condition).low
        told.doubt(
            "over_proof_if_slippery", loc,
            f"{figure} makes {found.percent:.0f} % of the proof load of {bolt} at the usual nut factor, but "
            f"{found.percent_high:.0f} % at {low}, the lowest that is published for it.{held}",
            "Find which K the figure assumes and write `nut_factor: ...`.", BY,
        )  # fmt: skip
    _unit(spec, strength, condition, found, loc, held, told)


def _unit(
    spec: TorqueSpec,
    strength: str,
    condition: Condition,
    found: Plausibility,
    loc: Loc,
    held: str,
    told: Told,
) -> None:
    """A figure that would make sense in another unit, and the 74 that makes sense in two."""
    said, figure = spec.target.unit, float(highest(spec))
    likely = [
        one for one in read_in_each_unit(figure, thread_of(spec.thread), strength, condition) if one.likely
    ]
    units = [one.unit for one in likely]
    bolt = f"{thread_of(spec.thread)} {strength}"
    if said in units:
        if (
            round(figure) == 74
            and round(thread(thread_of(spec.thread)).diameter_mm) == 12
            and {"n_m", "lbf_ft"} <= {*units}
        ):
            told.doubt(
                "two_units_likely", loc,
                f"74 on M12 is printed in both units: 74 lbf·ft is 100 N·m, and {bolt} may be meant to have either.{held}",
                "Look in the manual which unit stands there, and at the class on the head.",
                "An engine maker's table has M12 8.8 = 74 N·m and M12 10.9 = 100 N·m.",
            )  # fmt: skip
    elif likely:
        other = likely[0]
        told.doubt(
            "other_unit_likely", loc,
            f"{highest(spec)} {UNITS[said].label} makes {found.percent:.0f} % of the proof load of {bolt}; "
            f"in {UNITS[other.unit].label} it would make {other.percent:.0f} %.{held}",
            "Look at the unit in the manual.", f"{BY} From 40 to 90 % is likely: common practice.",
        )  # fmt: skip
    elif found.percent < HARDLY_PERCENT:
        told.doubt(
            "hardly_squeezes", loc,
            f"{highest(spec)} {UNITS[said].label} makes only {found.percent:.0f} % of the proof load of {bolt}.{held}",
            "Look where the decimal mark stands in the manual.", BY,
        )  # fmt: skip


def _marks(plan: Plan, spec: TorqueSpec, loc: Loc, told: Told) -> None:
    """No torque wrench that reaches the figure has a mark inside its tolerance."""
    reach = [
        tool.torque_wrench for tool in plan.tools if tool.torque_wrench and _reaches(tool.torque_wrench, spec)
    ]
    if not reach or any(_fits(wrench, spec, plan.default_tolerance_percent) for wrench in reach):
        return
    (minus, plus), _default = tolerance_of(spec, plan.default_tolerance_percent)
    told.doubt(
        "marks_too_coarse", (*loc, "target", "torque"),
        f"no torque wrench that reaches {spec.target.torque} {UNITS[spec.target.unit].label} has a mark within "
        f"-{minus} and +{plus} of it.",
        "Borrow one with a finer scale, or ask the maker for the tolerance.", "Arithmetic on the scale's marks.",
    )  # fmt: skip


def _castle_range(spec: TorqueSpec) -> Fraction:
    """How far above its figure a castle nut may be turned on to the next pin hole."""
    if spec.target.torque_max is None:
        return Fraction(0)
    return Fraction(spec.target.torque_max) - Fraction(spec.target.torque)


def _reaches(wrench: TorqueWrenchPlan, spec: TorqueSpec) -> bool:
    wanted = convert_exact(Fraction(spec.target.torque), spec.target.unit, wrench.unit)
    return Fraction(wrench.lowest) <= wanted <= Fraction(wrench.highest)


def _fits(wrench: TorqueWrenchPlan, spec: TorqueSpec, default_percent: str) -> bool:
    (minus, plus), _default = tolerance_of(spec, default_percent)
    figures = [
        convert_exact(Fraction(one), spec.target.unit, wrench.unit)
        for one in (spec.target.torque, minus, Fraction(plus) + _castle_range(spec))
    ]
    try:
        scale = Fraction(wrench.step), Fraction(wrench.lowest), Fraction(wrench.highest)
        return scale_fit(figures[0], figures[1], figures[2], *scale).fits
    except CalcError:
        return True  # a scale that can't be judged is no reason for a doubt
