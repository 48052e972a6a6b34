"""What holds a gate that a plan reaches later than wanted.

Two causes, told apart by planning as if nobody were ever busy with anything else:

- *chain*: even then it is too late. The chain of tasks, lags and part dates behind it is the reason, and no more people
  who come at the same hours would help.
- *busy*: then it would be in time. People, tools or zones are busy with other work, in the order in which the chain of
  the plan shows it.
"""

from __future__ import annotations

from yokemate.planning.board import Board
from yokemate.planning.figures import figures
from yokemate.planning.jobs import days_of, end_of, ends_of, in_order, jobs_of, worked
from yokemate.planning.problem import Problem, Schedule
from yokemate.planning.reasons import Reason, Remedy


def late_gates(problem: Problem, schedule: Schedule) -> list[Reason]:
    """A reason for each gate with a date that the plan misses, in order of importance. `slots`: calendar slots late."""
    found = figures(problem, schedule)
    heads, why, _ = _heads(problem)
    days = days_of(problem)
    reasons = []
    for gate in problem.gates:
        reached = found.gates[gate.id]
        if gate.wanted is None or reached is None or reached <= gate.wanted or not gate.tasks:
            continue
        last = max(sorted(gate.tasks), key=lambda t: heads[t][1])
        earliest = heads[last][1]
        cause = "chain" if earliest > gate.wanted else "busy"
        if cause == "busy":
            ends = ends_of(schedule)
            last = max(sorted(gate.tasks), key=lambda t: ends.get(t, 0))
        chain = [last]
        while (before := why[chain[-1]]) is not None:
            chain.append(before)
        chain.reverse()
        task = next(t for t in problem.tasks if t.id == chain[0])
        part = (
            task.waits_for
            if task.waits_for is not None and heads[task.id][0] >= task.release > problem.now
            else None
        )
        about: dict[str, str | int | tuple[str, ...]] = {
            "gate": gate.id, "slots": reached - gate.wanted, "chain": tuple(chain), "part": part or "", "cause": cause,
        }  # fmt: skip
        remedies: tuple[Remedy, ...] = ()
        if cause == "chain" and part is not None:
            over = worked(days, earliest) - worked(days, gate.wanted)
            back = [d for d in days if worked(days, d.start) <= worked(days, task.release) - over]
            if back:
                remedies = (
                    Remedy("part", {"part": part, "slots": task.release - back[-1].start}, tried=False),
                )
        reasons.append(Reason("late_gate", last, about, remedies))
    return reasons


def path_bound(problem: Problem) -> int:
    """No plan of all tasks can finish earlier, in working time: the longest chain, as if nobody were ever busy."""
    heads, _, _ = _heads(problem)
    return worked(days_of(problem), max((end for _, end in heads.values()), default=0))


def earliest_ends(problem: Problem) -> dict[str, int | None]:
    """No plan can have a task over before that; None: it has no place at all before the end."""
    heads, _, lost = _heads(problem)
    return {task: None if task in lost else end for task, (_, end) in heads.items()}


def _heads(problem: Problem) -> tuple[dict[str, tuple[int, int]], dict[str, str | None], set[str]]:
    """Earliest start and end of each task if nothing else were going on but what is fixed; which predecessor it waits
    for longest, None where that is its part or nothing; and the tasks that have no place even so."""
    jobs = jobs_of(problem)
    board = Board(problem, jobs)
    for job in jobs:
        job.apart = []  # who did what is of no weight here: only what no choice of people could better
        if job.fixed is not None:
            board.put_fixed(job)
    heads: dict[str, tuple[int, int]] = {}
    why: dict[str, str | None] = {}
    lost: set[str] = set()
    for number in in_order(jobs):
        job = jobs[number]
        name = job.task.id
        if job.fixed is None:
            place = board.find(job)
            lost |= {name} if place is None else set()
            # Noted as placed, but nobody is marked as busy: others are found as if it did not happen.
            board.placed[number] = place if place is not None else (end_of(problem), end_of(problem), ())
        start, end, _ = board.placed[number]
        heads[name] = (min(start, heads[name][0]) if name in heads else start, end)
        if job.part_of is None:
            waits = [
                (board.placed[b][1] + lag, jobs[b].task.id) for b, lag in job.before if b in board.placed
            ]
            longest = max(waits, default=(-1, ""))
            why[name] = longest[1] if longest[0] > max(job.task.release, problem.now) else None
    return heads, why, lost
