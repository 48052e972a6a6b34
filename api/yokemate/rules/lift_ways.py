"""What would make a lift work: one change at a time, each tried by `calc` and told with the shares it would give.

Only published figures judge, for people of 25 kg, or of 16 kg where those of 25 are within guidance already (R20).
Nobody's own figure is known here, so nothing can be read off by trying (R21).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from math import hypot
from typing import Literal

from yokemate.calc.lifting import fewest_people
from yokemate.planfile.model import LiftPhase, LiftPlan, Support
from yokemate.rules.lift_crew import lifter_places, place_words
from yokemate.rules.lift_shares import unmarked, work_out_shares, worst_share_kg
from yokemate.rules.lift_verdict import FIGURES_KG, judge_lift
from yokemate.rules.rows.lifts import Share, Verdict

STEPS = 8  # between where a support stands and the centre of gravity
BESIDE_MM = 500  # one more person stands so far from the other
MOST_LIFTERS = 3  # the best three count (HSE L23 prints no factor for four)
MOST_GUIDES = 6
SHOWN = 4


@dataclass(frozen=True)
class Way:
    """One change that makes the lift work for people of `figure_kg`.

    `does` is the button, `says` what follows from it with figures; `mark_kg` is what a machine whose marking is not known
    yet must be marked for at the least; `plan`, `shares` and `verdicts` are the lift as it would then be.
    """

    id: str
    kind: Literal["machine", "move", "person", "marking"]
    does: str
    says: str
    figure_kg: str
    changed: str
    mark_kg: str | None
    plan: LiftPlan
    shares: list[Share]
    verdicts: list[Verdict]


def goal_of(verdicts: list[Verdict]) -> str | None:
    """The published figure whose people the lift does not suit yet, the larger first; None when both are within."""
    return next((one.figure_kg for one in verdicts if one.verdict != "within guidance"), None)


def ways(plan: LiftPlan, verdicts: list[Verdict]) -> list[Way]:
    """The changes that work, machines first; of one kind the one that takes fewest people off comes first.

    While a marking is unknown nothing is judged, and saying it is all there is to do.
    """
    if markings := list(_markings(plan)):
        return markings
    goal = goal_of(verdicts)
    if goal is None or plan.mass_kg is None or plan.cg_x_mm is None or plan.cg_y_mm is None:
        return []
    found: dict[tuple[str, tuple[str, ...]], Way] = {}
    for way in (*_moves(plan, goal), *_machines(plan, goal), *_persons(plan, goal)):
        alike = (
            way.kind,
            tuple(sorted(share.worst_kg for share in way.shares)),
        )  # its mirror image says nothing new
        found.setdefault(alike, way)
    return list(found.values())[:SHOWN]


def way_called(plan: LiftPlan, verdicts: list[Verdict], id: str) -> Way | None:
    return next((way for way in ways(plan, verdicts) if way.id == id), None)


def fewest_words(verdict: Verdict) -> str | None:
    """How many people of one figure what they bear would want, by the team factors alone."""
    share, each_kg = float(verdict.team_share_kg), verdict.person_kg or verdict.figure_kg
    if verdict.team_limit_kg is None or share < 0.1 or float(each_kg) < 1:
        return None
    found = fewest_people(min(share, 2000), float(each_kg))
    lower = "" if float(each_kg) == float(verdict.figure_kg) else f" ({each_kg} kg each there)"
    borne = f"{verdict.team_share_kg} kg borne by hand"
    if found.people is None:
        return (
            f"{borne} want a machine: three people of the {verdict.figure_kg} kg figure{lower} may bear {found.limit_kg:.1f} kg "
            "together, and a fourth adds steadiness, not capacity."
        )
    who = "one person" if found.people == 1 else f"{found.people} people"
    return f"{borne} want {who} of the {verdict.figure_kg} kg figure{lower} at the least; they may bear {found.limit_kg:.1f} kg together."


def lightest_words(plan: LiftPlan, verdicts: list[Verdict]) -> str | None:
    """Up to which mass the lift is within guidance with its supports as they are; what would have to come off first."""
    goal = goal_of(verdicts)
    if goal is None or plan.mass_kg is None:
        return None
    heavy = Decimal(plan.mass_kg)
    low, high = 0, int(heavy)  # whole kilograms; shares grow with the mass
    while low < high:
        middle = (low + high + 1) // 2
        if _works(plan.model_copy(update={"mass_kg": str(middle)}), goal) is None:
            high = middle - 1
        else:
            low = middle
    if low < heavy / 2:
        return None  # what is left would be another load
    return f"Up to {low} kg it is within guidance for people of the {goal} kg figure: {heavy - low} kg would have to come off."


def _works(plan: LiftPlan, goal: str) -> tuple[list[Share], list[Verdict]] | None:
    shares, unfit, _by = work_out_shares(plan)
    if unfit not in (None, "rating_unknown"):
        return None
    verdicts = judge_lift(_marked_for_that(plan, shares), shares)
    suits = next((one for one in verdicts if one.figure_kg == goal), None)
    return (shares, verdicts) if suits is not None and suits.verdict == "within guidance" else None


def _marked_for_that(plan: LiftPlan, shares: list[Share]) -> LiftPlan:
    """A machine that would be new here comes with its marking, which must be what it then bears or more."""
    new = {one.id for one in unmarked(plan, shares)}
    return _with(
        plan,
        [
            one.model_copy(update={"rated_kg": worst_share_kg(shares, one.id)}) if one.id in new else one
            for one in plan.supports
        ],
    )


def _markings(plan: LiftPlan) -> Iterator[Way]:
    """For each machine of the plan without a marking: say what it is marked for."""
    shares, _unfit, _by = work_out_shares(plan)
    for machine in unmarked(plan, shares):
        worst = worst_share_kg(shares, machine.id)
        yield Way(
            f"mark:{machine.id}", "marking", f"Say what “{_small(machine.say)}” is marked for", f"It bears {worst} kg at worst.",
            FIGURES_KG[0], machine.id, worst, plan, shares, [],
        )  # fmt: skip


def _moves(plan: LiftPlan, goal: str) -> Iterator[Way]:
    """A machine that is there already, moved towards the centre of gravity as little as will do."""
    for support in plan.supports:
        if support.kind == "lifter":
            continue
        for x, y in _towards(plan, float(support.x_mm), float(support.y_mm), start=1):
            moved = support.model_copy(update={"x_mm": str(x), "y_mm": str(y)})
            tried = _with(plan, [moved if one.id == support.id else one for one in plan.supports])
            worked = _works(tried, goal)
            if worked is None:
                continue
            inward = _apart_mm(x, y, float(support.x_mm), float(support.y_mm))
            yield _way(
                f"move:{support.id}:{x}:{y}", "move", f"Move “{_small(support.say)}” in by {inward} mm", moved, goal,
                tried, worked,
            )  # fmt: skip
            break


def _machines(plan: LiftPlan, goal: str) -> Iterator[Way]:
    """A crane instead of one person, of everybody at one end, or of all: as far out as it may stand."""
    for gone in _sets(plan):
        x0 = sum(float(one.x_mm) for one in gone) / len(gone)
        y0 = sum(float(one.y_mm) for one in gone) / len(gone)
        everybody = len(gone) == len(lifter_places(plan))
        alone = everybody and all(one.kind == "lifter" for one in plan.supports)
        places = [(_mm(plan.cg_x_mm), _mm(plan.cg_y_mm))] if alone else _towards(plan, x0, y0, start=0)
        for x, y in places:
            crane = Support(
                id=_new_id(plan, "crane"), say=_crane(plan), kind="crane", x_mm=str(x), y_mm=str(y)
            )
            tried = _replaced(plan, gone, crane)
            worked = _works(tried, goal)
            if worked is None:
                continue
            inward = _apart_mm(x, y, x0, y0)
            further = f", {inward} mm further in" if inward else ""
            does = (
                "Engine crane over the centre of gravity, and nobody lifts"
                if alone
                else f"Engine crane instead of {_listed(gone)}{further}"
            )
            names = ",".join(one.id for one in gone)
            yield _way(f"crane:{names}:{x}:{y}", "machine", does, crane, goal, tried, worked)
            break


def _persons(plan: LiftPlan, goal: str) -> Iterator[Way]:
    """One more person beside one who lifts, where the places may be reckoned with."""
    lifters = [one for one in plan.supports if one.kind == "lifter"]
    if len(lifters) >= MOST_LIFTERS:
        return
    for beside in lifters:
        best: tuple[Decimal, Support, LiftPlan, tuple[list[Share], list[Verdict]]] | None = None
        for dx, dy in ((0, BESIDE_MM), (0, -BESIDE_MM), (BESIDE_MM, 0), (-BESIDE_MM, 0)):
            x, y = round(float(beside.x_mm) + dx), round(float(beside.y_mm) + dy)
            if not _within_outline(plan, x, y):
                continue
            one_more = Support(
                id=_new_id(plan, beside.id), say=f"One more beside {_small(beside.say)}", kind="lifter",
                x_mm=str(x), y_mm=str(y),
            )  # fmt: skip
            phases = [_also(phase, beside.id, one_more.id) for phase in plan.phases]
            tried = plan.model_copy(update={"supports": [*plan.supports, one_more], "phases": phases})
            worked = _works(tried, goal)
            if worked is None:
                continue
            heaviest = max(Decimal(worst_share_kg(worked[0], one) or "0") for one in lifter_places(tried))
            if best is None or heaviest < best[0]:
                best = (heaviest, one_more, tried, worked)
        if best is not None:
            _heaviest, one_more, tried, worked = best
            does = f"One more person beside “{_small(beside.say)}”"
            yield _way(
                f"person:{beside.id}:{one_more.x_mm}:{one_more.y_mm}",
                "person",
                does,
                one_more,
                goal,
                tried,
                worked,
            )


def _sets(plan: LiftPlan) -> Iterator[list[Support]]:
    """Who may be relieved together: each alone, the heaviest first; all at one end; all."""
    lifters = [one for one in plan.supports if one.kind == "lifter"]
    shares, _unfit, _by = work_out_shares(plan)
    heavy = sorted(lifters, key=lambda one: -Decimal(worst_share_kg(shares, one.id) or "0"))
    seen: set[frozenset[str]] = set()
    middle = float(_mm(plan.cg_x_mm))
    ends = ([one for one in lifters if (float(one.x_mm) > middle) == behind] for behind in (True, False))
    for gone in (*([one] for one in heavy), *ends, lifters):
        names = frozenset(one.id for one in gone)
        if gone and names not in seen:
            seen.add(names)
            yield gone


def _towards(plan: LiftPlan, x: float, y: float, *, start: int) -> list[tuple[int, int]]:
    """From a place to the centre of gravity in equal steps, in whole tens of mm, the place itself as step 0."""
    cg_x, cg_y = float(_mm(plan.cg_x_mm)), float(_mm(plan.cg_y_mm))
    return [
        (round((x + (cg_x - x) * n / STEPS) / 10) * 10, round((y + (cg_y - y) * n / STEPS) / 10) * 10)
        for n in range(start, STEPS + 1)
    ]


def _apart_mm(x: float, y: float, x0: float, y0: float) -> int:
    return round(hypot(x - x0, y - y0))


def _mm(text: str | None) -> int:
    return round(float(text or "0"))


def _with(plan: LiftPlan, supports: list[Support]) -> LiftPlan:
    return plan.model_copy(update={"supports": supports})


def _replaced(plan: LiftPlan, gone: list[Support], crane: Support) -> LiftPlan:
    """Whoever is relieved guides instead: nobody is sent home, and somebody works the crane."""
    names = {one.id for one in gone}
    supports = [one for one in plan.supports if one.id not in names]
    phases = [
        phase.model_copy(
            update={"supports": [*(one for one in phase.supports if one not in names), crane.id]}
        )
        if names & set(phase.supports)
        else phase
        for phase in plan.phases
    ]
    guides = min(plan.guides + len(gone), MOST_GUIDES)
    return plan.model_copy(update={"supports": [*supports, crane], "phases": phases, "guides": guides})


def _also(phase: LiftPhase, beside: str, one_more: str) -> LiftPhase:
    if beside not in phase.supports:
        return phase
    return phase.model_copy(update={"supports": [*phase.supports, one_more]})


def _within_outline(plan: LiftPlan, x: int, y: int) -> bool:
    """Whether there is load to hold at that place; where the plan draws no outline nothing speaks against it."""
    if not plan.outline_mm:
        return True
    xs, ys = [float(p[0]) for p in plan.outline_mm], [float(p[1]) for p in plan.outline_mm]
    return min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys)


def _new_id(plan: LiftPlan, stem: str) -> str:
    taken = {one.id for one in plan.supports}
    return next(name for n in range(1, 99) if (name := f"{stem[:30]}-{n}") not in taken)


def _way(
    id: str, kind: Literal["machine", "move", "person"], does: str, changed: Support, goal: str, plan: LiftPlan,
    worked: tuple[list[Share], list[Verdict]],
) -> Way:  # fmt: skip
    shares, verdicts = worked
    says = _follows(plan, changed, shares, verdicts, goal)
    mark = worst_share_kg(shares, changed.id) if kind == "machine" else None
    return Way(id, kind, does, says, goal, changed.id, mark, plan, shares, verdicts)


def _follows(
    plan: LiftPlan, changed: Support, shares: list[Share], verdicts: list[Verdict], goal: str
) -> str:
    worst = worst_share_kg(shares, changed.id) or "0"
    said = [f"{_capital(changed.say)} then bears {worst} kg at worst."]
    if changed.kind != "lifter":
        mark = (
            f", and is marked for {changed.rated_kg} kg"
            if changed.rated_kg
            else "; it must be marked for that"
        )
        said = [f"The machine then bears {worst} kg at worst{mark}."]
    people = [place for place in lifter_places(plan) if place != changed.id]
    bear = [(worst_share_kg(shares, place) or "0", place) for place in people]
    if bear:
        heaviest, place = max(bear, key=lambda one: Decimal(one[0]))
        said.append(f"Most by hand: {heaviest} kg, at “{_small(place_words(plan, place))}”.")
    elif changed.kind != "lifter":
        said.append("Machines bear it all; people guide.")
    both = all(one.verdict == "within guidance" for one in verdicts)
    said.append(
        f"Within guidance for people of {' and '.join(f'{one} kg' for one in FIGURES_KG)}."
        if both
        else f"Within guidance for people of the {goal} kg figure."
    )
    return " ".join(said)


def _crane(plan: LiftPlan) -> str:
    return "Another engine crane" if any(one.kind == "crane" for one in plan.supports) else "Engine crane"


def _listed(gone: Iterable[Support]) -> str:
    """Places in quotes: their own words may hold commas."""
    names = [f"“{_small(one.say)}”" for one in gone]
    if len(names) == 1:
        return f"the person at {names[0]}"
    return f"the people at {', '.join(names[:-1])} and {names[-1]}"


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
