"""What happens to the others when one who lifts lets go, in words: they must still be able to set the load down.

A person may bear twice the published figure for that moment; a machine, stand or jack never more than its marking.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.let_go import LetGo, let_go
from yokemate.calc.statics import Support as Rest
from yokemate.planfile.model import LiftPhase, LiftPlan, Support
from yokemate.rules.lift_crew import lifter_places, place_words
from yokemate.rules.lift_person_figure import person_figure
from yokemate.rules.lift_shares import LoadAt, loads_of, phases_of
from yokemate.rules.lift_verdict import FIGURES_KG
from yokemate.units import format_decimal

MOST = 2  # nobody above twice the published figure, even for a moment (common practice)


@dataclass(frozen=True)
class _Case:
    """Somebody lets go in one phase. `over`: the published classes whose people then bear over twice their figure there.
    `machines`: what then bears more than it is marked for, and how much.
    """

    let_go: LetGo
    over: tuple[str, ...]
    machines: tuple[tuple[Support, str], ...]


def let_go_words(plan: LiftPlan) -> list[str]:
    """One sentence for the places whose going tips the load, one for each of the others; empty without lifters."""
    worst: dict[str, _Case] = {}
    for case in _cases(plan):
        before = worst.get(case.let_go.name)
        if before is None or _badness(case) > _badness(before):
            worst[case.let_go.name] = case
    tips = [_place(plan, name) for name, case in worst.items() if not case.let_go.holds]
    said = []
    if tips:
        who = tips[0] if len(tips) == 1 else f"{', '.join(tips[:-1])} or {tips[-1]}"
        said.append(f"Whoever lets go at {who}: the others can't balance it, it tips.")
    for name, case in worst.items():
        if case.let_go.holds:
            said.append(
                f"Whoever lets go at {_place(plan, name)}: {_place(plan, case.let_go.heaviest)} bears "
                f"{case.let_go.heaviest_kg:.1f} kg for that moment.{_over_words(case)}{_machine_words(plan, case)}"
            )
    return said


def _badness(case: _Case) -> tuple[bool, int, float]:
    return not case.let_go.holds, len(case.over) + len(case.machines), case.let_go.heaviest_kg


def _over_words(case: _Case) -> str:
    if not case.over:
        return ""
    whose = "for one person" if len(case.over) == len(FIGURES_KG) else f"for people of {case.over[0]} kg"
    return f" Over twice the figure {whose}."


def _machine_words(plan: LiftPlan, case: _Case) -> str:
    return "".join(
        f" It is marked for {one.rated_kg} kg."
        if one.id == case.let_go.heaviest
        else f" {_place(plan, one.id)} bears {kg} kg, and is marked for {one.rated_kg} kg."
        for one, kg in case.machines
    )


def _place(plan: LiftPlan, place: str) -> str:
    return f"“{place_words(plan, place)}”"


def _cases(plan: LiftPlan) -> list[_Case]:
    """Phase by phase: the figure for one person hangs on where the hands are."""
    if plan.mass_kg is None or plan.cg_x_mm is None or plan.cg_y_mm is None:
        return []
    cases: list[_Case] = []
    known: dict[
        tuple[frozenset[str], LoadAt], tuple[LetGo, ...]
    ] = {}  # most phases rest on the same supports
    for phase in phases_of(plan):
        names = frozenset(phase.supports)
        for load in loads_of(plan, phase):
            if (names, load) not in known:
                known[(names, load)] = _each(plan, names, load)
            cases += [
                _Case(case, _over(plan, phase, case), _machines(plan, phase, case))
                for case in known[(names, load)]
            ]
    return cases


def _each(plan: LiftPlan, names: frozenset[str], load: LoadAt) -> tuple[LetGo, ...]:
    assert plan.mass_kg is not None
    rests = [
        Rest(one.id, float(one.x_mm), float(one.y_mm), stiff=one.kind != "lifter")
        for one in plan.supports
        if one.id in names
    ]
    if all(rest.stiff for rest in rests):
        return ()
    mass = float(plan.mass_kg) + float(plan.mass_plus_minus_kg)
    try:
        return let_go(mass, rests, load.x_mm, load.y_mm, max(load.off_x_mm, load.off_y_mm))
    except CalcError:
        return ()  # one person alone, or it tips from the start: said elsewhere


def _over(plan: LiftPlan, phase: LiftPhase, case: LetGo) -> tuple[str, ...]:
    if case.heaviest not in lifter_places(plan):
        return ()
    return tuple(
        figure
        for figure in FIGURES_KG
        if round(case.heaviest_kg, 1) > MOST * round(person_figure(phase, figure).kg, 1)
    )


def _machines(plan: LiftPlan, phase: LiftPhase, case: LetGo) -> tuple[tuple[Support, str], ...]:
    if not case.holds:
        return ()
    left = [one for one in plan.supports if one.id in phase.supports and one.id != case.name]
    borne = [(one, format_decimal(Fraction(kg), 1)) for one, kg in zip(left, case.borne_kg, strict=True)]
    return tuple((one, kg) for one, kg in borne if _over_marking(one, kg))


def _over_marking(one: Support, kg: str) -> bool:
    return one.kind != "lifter" and one.rated_kg is not None and Fraction(kg) > Fraction(one.rated_kg)
