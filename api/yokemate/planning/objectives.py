"""What the solver is asked to make small, as expressions over a model."""

from __future__ import annotations

from typing import Any

from yokemate.planning.figures import MOVED, RETEAMED, gate_weights, slot_told
from yokemate.planning.model import Model

_LATE = 16


def gates_and_finish(model: Model) -> Any:
    """Lateness at the gates by weight, then the finish of all."""
    return _LATE * late(model) + model.finish


def late(model: Model, told: dict[str, int] | None = None) -> Any:
    """Slots behind what was wanted of each gate, by weight; or behind what was told where that is later, all alike."""
    of_task: dict[str, list[int]] = {}
    for job in model.jobs:
        of_task.setdefault(job.task.id, []).append(job.number)
    total: Any = 0
    for gate, weight in zip(model.problem.gates, gate_weights(model.problem), strict=True):
        by = model.work(gate.wanted) if gate.wanted is not None else 0
        if told is not None:
            by, weight = max(by, told.get(gate.id, 0)), 1
        behind = model.m.new_int_var(0, model.origin[-1], "")
        for task in gate.tasks:
            for n in of_task[task]:
                if n in model.end:
                    model.m.add(behind >= model.end[n] - by)
        total = total + weight * behind
    return total


def least_disturbance(
    model: Model,
    told_starts: dict[int, tuple[int, tuple[int, ...]]],
    told_finish: int,
    told_gates: dict[str, int],
) -> Any:
    """Gates with a date no more days behind it than in the start plan; then as little later than told, and as few starts and people
    changed, as can be."""
    _keep_dates(model, told_gates)
    over = model.m.new_int_var(0, model.origin[-1], "")
    model.m.add(over >= model.finish - told_finish)
    cost: Any = slot_told(model.problem) * (late(model, told_gates) + over)
    for job in model.free:
        if job.number not in told_starts:
            continue
        start, team = told_starts[job.number]
        moved = model.m.new_bool_var("")
        model.m.add(model.begin[job.number] == model.work(start)).only_enforce_if(~moved)
        model.m.add_hint(moved, model.start[job.number][0] != start)
        cost = cost + MOVED * moved
        for p in team:
            if (job.number, p) in model.does:
                cost = cost + RETEAMED * (1 - model.does[job.number, p])
    return cost


def _keep_dates(model: Model, told: dict[str, int]) -> None:
    for gate in model.problem.gates:
        ends = [job.number for job in model.free if job.task.id in gate.tasks]
        if gate.wanted is not None and ends:
            reached = max(model.work(model.start[n][1]) for n in ends)
            by = model.day_end(max(reached, model.work(gate.wanted), told.get(gate.id, 0)))
            for n in ends:
                model.m.add(model.end[n] <= by)


def peak_load(model: Model) -> Any:
    """The highest share, in percent, of anybody's offered hours that is planned."""
    peak = model.m.new_int_var(0, 10_000, "")
    for p, person in enumerate(model.problem.people):
        offered = sum(span.end - span.start for span in person.hours)
        settled = sum(
            job.length for job in model.jobs if job.fixed is not None and person.id in job.fixed.team
        )
        work = sum(
            job.length * model.does[job.number, p] for job in model.free if (job.number, p) in model.does
        )
        if offered:
            model.m.add(offered * peak >= 100 * (work + settled))
    return peak


def trips_load_and_lifts(model: Model) -> Any:
    """Person-days, and how late in the day lifts begin: an hour's later lift weighs as much as a trip. Among plans
    that are alike in this, the fairest load."""
    cost: Any = 0
    comes: dict[tuple[int, int], Any] = {}
    for job in model.free:
        on: dict[int, Any] = {}
        for d in model.days_for(job):
            literal = on[d] = model.m.new_bool_var("")
            model.m.add_linear_constraint(
                model.begin[job.number], model.origin[d], model.origin[d + 1] - 1
            ).only_enforce_if(literal)
            for p in range(len(model.problem.people)):
                if (job.number, p) in model.does and model.board.free[d][p]:
                    if (p, d) not in comes:
                        comes[p, d] = model.m.new_bool_var("")
                    model.m.add_bool_or(~literal, ~model.does[job.number, p], comes[p, d])
        model.m.add_exactly_one(on.values())
        if job.task.lift:
            cost = cost + model.begin[job.number] - sum(model.origin[d] * lit for d, lit in on.items())
    return 100 * (cost + 12 * sum(comes.values())) + peak_load(model)
