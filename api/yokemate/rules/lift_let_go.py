"""What happens to the others when one who lifts lets go, in words: they must still be able to set the load down."""

from __future__ import annotations

from yokemate.calc.errors import CalcError
from yokemate.calc.let_go import LetGo, let_go
from yokemate.calc.statics import Support as Rest
from yokemate.planfile.model import LiftPlan
from yokemate.rules.lift_crew import lifter_places, place_words
from yokemate.rules.lift_shares import phases_of
from yokemate.rules.lift_verdict import FIGURES_KG

MOST_KG = 2 * float(
    FIGURES_KG[0]
)  # nobody above twice the published figure, even for a moment (common practice)


def let_go_words(plan: LiftPlan) -> list[str]:
    """One sentence for the places whose going tips the load, one for each of the others; empty without lifters."""
    worst: dict[str, LetGo] = {}
    for case in _cases(plan):
        before = worst.get(case.name)
        if before is None or (before.holds and (not case.holds or case.heaviest_kg > before.heaviest_kg)):
            worst[case.name] = case
    tips = [_place(plan, name) for name, case in worst.items() if not case.holds]
    said = []
    if tips:
        who = tips[0] if len(tips) == 1 else f"{', '.join(tips[:-1])} or {tips[-1]}"
        said.append(f"Whoever lets go at {who}: the others can't balance it, it tips.")
    for name, case in worst.items():
        if case.holds:
            much = " Over twice the figure for one person." if _too_much(plan, case) else ""
            said.append(
                f"Whoever lets go at {_place(plan, name)}: {_place(plan, case.heaviest)} bears {case.heaviest_kg:.1f} kg for "
                f"that moment.{much}"
            )
    return said


def _place(plan: LiftPlan, place: str) -> str:
    return f"“{place_words(plan, place)}”"


def _too_much(plan: LiftPlan, case: LetGo) -> bool:
    return case.heaviest in lifter_places(plan) and case.heaviest_kg > MOST_KG


def _cases(plan: LiftPlan) -> list[LetGo]:
    if plan.mass_kg is None or plan.cg_x_mm is None or plan.cg_y_mm is None:
        return []
    mass = float(plan.mass_kg) + float(plan.mass_plus_minus_kg)
    cases: list[LetGo] = []
    for names in dict.fromkeys(tuple(phase.supports) for phase in phases_of(plan)):
        rests = [
            Rest(one.id, float(one.x_mm), float(one.y_mm), stiff=one.kind != "lifter")
            for one in plan.supports
            if one.id in names
        ]
        if all(rest.stiff for rest in rests):
            continue
        try:
            cases += let_go(mass, rests, float(plan.cg_x_mm), float(plan.cg_y_mm))
        except CalcError:
            continue  # one person alone, or it tips from the start: said elsewhere
    return cases
