"""Half a chance by then, four in five by then: the plan played through with durations and attendance as they may turn out.

Durations are beta-PERT between quick, likely and slow. Two ways:

- *pooled* (10,000 samples): the plan's order is kept; each task begins at the first time at which enough of those who
  may do it are in, whoever they are. Leaving the hours out would understate the slip about tenfold; holding each task to
  its planned team would overstate it without end, since some teams never meet again.
- *replay* (some hundreds): each sample is planned anew by the simple method. Dearer, and nearer to a crew that plans
  again when something slips: on crews made up at random of 200 tasks it came out about a tenth sooner than pooled, which
  keeps everybody's order whatever happens.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from yokemate.planning.counting import at_least, mask_within, runs
from yokemate.planning.jobs import end_of
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Gate, Odds, Problem, Range, Schedule, Span, Task

_NEVER = 2**40
_CROWDS = 20  # different attendances among the pooled samples
_DRIVERS = 5


def odds(
    problem: Problem, schedule: Schedule, samples: int = 10_000, seed: int = 0, replay: bool = False
) -> Odds:
    """Ranges for finish and gates. The same seed gives the same answer. samples: 1..100,000; replays cost one plan each."""
    import numpy as np

    chance = np.random.default_rng(seed)
    tasks = {task.id: task for task in problem.tasks}
    order = [t for t in dict.fromkeys(s.task for s in schedule.stints) if t in tasks]
    drawn = {t: _durations(np, chance, tasks[t], samples) for t in order}
    ends = (_replayed if replay else _pooled)(np, chance, problem, schedule, order, drawn, samples)
    nothing = np.zeros(samples, dtype=np.int64)
    finish = np.maximum.reduce([ends[t] for t in order]) if order else nothing
    everything = set(order)
    gates = {}
    for gate in problem.gates:
        there = (
            np.maximum.reduce([ends[t] for t in sorted(gate.tasks)])
            if gate.tasks and gate.tasks <= everything
            else None
        )
        gates[gate.id] = _range(np, there, gate)
    return Odds(
        _range(np, finish, None), gates, _drivers(np, order, drawn, finish), samples,
        round(100 * float(np.mean(finish >= _NEVER))),
    )  # fmt: skip


def _durations(np: Any, chance: Any, task: Task, samples: int) -> Any:
    """Beta-PERT: mean (quick + 4 likely + slow) / 6, whole slots rounded up."""
    quick = task.duration if task.quick is None else task.quick
    slow = task.duration if task.slow is None else task.slow
    if slow <= quick:
        return np.full(samples, task.duration, dtype=np.int64)
    width = slow - quick
    draws = chance.beta(
        1 + 4 * (task.duration - quick) / width, 1 + 4 * (slow - task.duration) / width, samples
    )
    return np.maximum(1, np.ceil(quick + width * draws - 1e-9)).astype(np.int64)


def _range(np: Any, there: Any, gate: Gate | None) -> Range:
    if there is None:
        return Range(None, None, None if gate is None or gate.wanted is None else 0)
    half, most = (int(np.percentile(there, q, method="higher")) for q in (50, 80))
    in_time = (
        None if gate is None or gate.wanted is None else round(100 * float(np.mean(there <= gate.wanted)))
    )
    return Range(half if half < _NEVER else None, most if most < _NEVER else None, in_time)


def _drivers(np: Any, order: list[str], drawn: dict[str, Any], finish: Any) -> tuple[tuple[str, int], ...]:
    """Shares of what each duration explains of the finish (squared correlation), the largest first."""
    there = finish < _NEVER
    if there.sum() < 10 or finish[there].std() == 0:
        return ()
    explained = {}
    for task in order:
        lengths = drawn[task][there]
        if lengths.std() > 0:
            with_finish = float(np.corrcoef(lengths, finish[there])[0, 1])
            explained[task] = with_finish**2 if with_finish > 0 else 0.0
    total = sum(explained.values())
    if total <= 0:
        return ()
    best = sorted(explained.items(), key=lambda item: -item[1])[:_DRIVERS]
    return tuple((task, round(100 * part / total)) for task, part in best if part > 0)


# -- pooled


def _pooled(
    np: Any,
    chance: Any,
    problem: Problem,
    schedule: Schedule,
    order: list[str],
    drawn: dict[str, Any],
    samples: int,
) -> dict[str, Any]:
    tasks = {task.id: task for task in problem.tasks}
    links = _links(problem, schedule)
    unsure = any(person.comes_percent < 100 for person in problem.people)
    crowds = np.array_split(np.arange(samples), min(_CROWDS, samples) if unsure else 1)
    ends = {t: np.zeros(samples, dtype=np.int64) for t in order}
    for crowd in crowds:
        hours = _attendance(chance, problem)
        here = [[mask_within(theirs, day) for theirs in hours] for day in problem.days]
        open_times: dict[Any, tuple[Any, Any]] = {}
        for name in order:
            task = tasks[name]
            lengths = drawn[name][crowd]
            ready = np.full(len(crowd), max(problem.now, task.release), dtype=np.int64)
            for before, lag in links[name]:
                if before in ends:
                    ready = np.maximum(ready, ends[before][crowd] + lag)
            if task.fixed is not None:
                ends[name][crowd] = task.fixed.start + lengths
                continue
            key = (task.people, task.needs, task.eligible, task.holders, task.present)
            if key not in open_times:
                open_times[key] = _open(np, problem, here, task)
            ends[name][crowd] = _through(np, ready, lengths, *open_times[key], task.part is not None)
    return ends


def _attendance(chance: Any, problem: Problem) -> list[tuple[Span, ...]]:
    """Who keeps what they said, stretch by stretch."""
    return [
        p.hours
        if p.comes_percent >= 100
        else tuple(s for s in p.hours if chance.random() * 100 < p.comes_percent)
        for p in problem.people
    ]


def _open(np: Any, problem: Problem, here: list[list[int]], task: Task) -> tuple[Any, Any]:
    """Stretches in which enough of those who may do a task are in: their starts and ends. here: who is in, as a mask by
    day and person."""
    if not task.people or not problem.days:
        spans = [(d.start, d.end) for d in problem.days] or [(0, max(1, end_of(problem)))]
    else:
        spans = []
        for day, masks in zip(problem.days, here, strict=True):
            adult = [n for n, p in enumerate(problem.people) if not p.minor]
            asked = [n for n in adult if task.eligible is None or problem.people[n].id in task.eligible]
            mask = at_least(task.people, (masks[n] for n in asked))
            for need in task.needs:
                mask &= at_least(
                    need.count, (masks[n] for n in asked if need.skill in problem.people[n].skills)
                )
            for n in adult:
                if problem.people[n].id in task.holders:
                    mask &= masks[n]
            if task.present > 1:
                mask &= at_least(task.present, (masks[n] for n in adult))
            spans += [(day.start + a, day.start + b) for a, b in runs(mask)]
    return np.array([a for a, _ in spans], dtype=np.int64), np.array([b for _, b in spans], dtype=np.int64)


def _through(np: Any, ready: Any, lengths: Any, starts: Any, ends: Any, split: bool) -> Any:
    """Ends of a task that is ready then and takes so long. In one go; what fits into no stretch at all goes on over several."""
    if not len(starts):
        return np.full(len(ready), _NEVER, dtype=np.int64)
    longest = int((ends - starts).max())
    before = np.concatenate(([0], np.cumsum(ends - starts)))
    found = np.full(len(ready), _NEVER, dtype=np.int64)
    over = np.full(len(ready), split) | (lengths > longest)
    at = np.searchsorted(ends, ready, side="right")
    inside = at < len(starts)
    place = np.minimum(at, len(starts) - 1)
    spent = before[place] + np.maximum(0, ready - starts[place]) + lengths
    last = np.searchsorted(before, spent, side="left") - 1
    fits = over & inside & (last < len(starts))
    last = np.clip(last, 0, len(starts) - 1)
    found = np.where(fits, starts[last] + spent - before[last], found)
    waiting = np.flatnonzero(~over & inside)
    while len(waiting):
        begin = np.maximum(ready[waiting], starts[at[waiting]])
        done = begin + lengths[waiting] <= ends[at[waiting]]
        found[waiting[done]] = (begin + lengths[waiting])[done]
        waiting = waiting[~done]
        at[waiting] += 1
        waiting = waiting[at[waiting] < len(starts)]
    return found


def _links(problem: Problem, schedule: Schedule) -> dict[str, list[tuple[str, int]]]:
    """What each task waits for when the plan's order is kept: predecessors, its people's work before, tools, hazards."""
    tasks = {task.id: task for task in problem.tasks}
    links: dict[str, list[tuple[str, int]]] = {
        t.id: [(a.task, a.lag) for a in t.after] for t in problem.tasks
    }
    of_person: dict[str, str] = {}
    of_tool: dict[str, list[str]] = {}
    seen: list[str] = []
    for stint in schedule.stints:
        if stint.task not in tasks:
            continue
        task = tasks[stint.task]
        fresh = stint.task not in seen
        for person in stint.team:
            if fresh and person in of_person and of_person[person] != stint.task:
                links[stint.task].append((of_person[person], 0))
            of_person[person] = stint.task
        if not fresh:
            continue
        for use in task.tools:
            holders = of_tool.setdefault(use.tool, [])
            there = max(1, problem.tools.get(use.tool, 1))  # none is fit any more, and what goes on has one
            if len(holders) >= there:
                links[stint.task].append((holders[-there], 0))
            holders.append(stint.task)
        for other in seen:
            if any(
                frozenset((a, b)) in problem.never_beside for a in task.hazards for b in tasks[other].hazards
            ):
                links[stint.task].append((other, 0))
        seen.append(stint.task)
    return links


# -- replay


def _replayed(
    np: Any,
    chance: Any,
    problem: Problem,
    schedule: Schedule,
    order: list[str],
    drawn: dict[str, Any],
    samples: int,
) -> dict[str, Any]:
    ends = {t: np.full(samples, _NEVER, dtype=np.int64) for t in order}
    longest = max((d.end - d.start for d in problem.days), default=_NEVER)
    for n in range(samples):
        tasks = tuple(
            _as_drawn(t, int(drawn[t.id][n]), longest) if t.id in drawn else t for t in problem.tasks
        )
        people = tuple(
            replace(p, hours=hours)
            for p, hours in zip(problem.people, _attendance(chance, problem), strict=True)
        )
        for stint in list_schedule(replace(problem, tasks=tasks, people=people, last=None)).stints:
            there = ends.get(stint.task)
            if there is not None:
                there[n] = max(stint.end, 0 if there[n] == _NEVER else int(there[n]))
    return ends


def _as_drawn(task: Task, length: int, longest: int) -> Task:
    """The task with its drawn duration; longer than any day it goes on over several."""
    learner = None if task.with_learner is None else max(length, task.with_learner * length // task.duration)
    part = task.part if length <= longest or task.fixed is not None else max(1, longest // 2)
    return replace(
        task,
        duration=length,
        with_learner=learner,
        quick=None,
        slow=None,
        part=None if part is None else min(part, length),
    )
