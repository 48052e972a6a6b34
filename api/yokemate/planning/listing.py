"""The simple method: jobs one after the other, each at the first time at which everything it needs is free.

A plan in milliseconds without any solver; also the solver's start and what stands when the solver finds nothing.
What is taken so far stands on a `board`.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable

from yokemate.planning.attend import attend
from yokemate.planning.board import Board, Place
from yokemate.planning.figures import figures, rank
from yokemate.planning.jobs import Job, jobs_of, last_places, place_of_fixed, stints_of
from yokemate.planning.problem import Problem, Schedule

_LATER = 6  # how many later times are tried so that a countersign can follow soon


def list_schedule(
    problem: Problem, passes: int = 1, seed: int = 0, should_stop: Callable[[], bool] | None = None
) -> Schedule:
    """A plan that keeps every rule, and what found no place.

    passes: tries with slightly different orders; the best by the objectives stands. With `problem.last`, the first try
    keeps everybody's time and team wherever that still holds; a plan that still holds as a whole comes back as it was.
    """
    jobs = jobs_of(problem)
    best = _one_pass(problem, jobs, None)
    best_rank = rank(problem, figures(problem, best))
    state = (
        seed * 2 + 1
    )  # chance by a linear congruence (Knuth's MMIX figures): the room may ask nobody for it
    for n in range(1, passes):
        if should_stop is not None and should_stop():
            break
        if problem.last is not None and not _worth_more(best_rank):
            break
        shifts = []
        for _ in jobs:
            state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
            shifts.append((state >> 33) / 2**31)
        found = _one_pass(problem, jobs, shifts)
        found_rank = rank(problem, figures(problem, found))
        if found_rank < best_rank:
            best, best_rank = found, found_rank
    return best


def _worth_more(found: tuple[int, ...]) -> bool:
    return any(found[:2]) or found[2] > 0


def _one_pass(problem: Problem, jobs: list[Job], shifts: list[float] | None) -> Schedule:
    board = Board(problem, jobs)
    kept = last_places(jobs, problem.last) if problem.last is not None else {}
    keep = shifts is None
    spread = max(1, sum(job.length for job in jobs) // 20)
    heads = {n: (kept[n][0] if keep and n in kept else None) for n in range(len(jobs))}

    def key(number: int) -> tuple[float, float, int]:
        job = jobs[number]
        shift = shifts[number] * spread if shifts is not None else 0.0
        told = heads[number]
        return (
            0.0 if told is not None else 1.0,
            float(told) if told is not None else job.due - job.length + shift,
            number,
        )

    waits = [len(job.before) for job in jobs]
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    heap = [key(job.number) for job in jobs if not job.before]
    heapq.heapify(heap)
    lost: set[int] = set()
    while heap:
        _, _, number = heapq.heappop(heap)
        job = jobs[number]
        if job.fixed is None and number not in board.placed and number not in lost:
            if any(before in lost for before, _ in job.before):
                lost.add(number)
            else:
                place = board.find_as_told(job, kept[number]) if number in kept else None
                if place is None:
                    place = _find_with_checks(board, job)
                if place is None:
                    lost.add(number)
                else:
                    board.put(job, place)
        for follower, _ in job.followers:
            waits[follower] -= 1
            if not waits[follower]:
                heapq.heappush(heap, key(follower))
    names = [person.id for person in problem.people]
    gone = {jobs[n].task.id for n in lost}
    places = {
        n: (start, end, tuple(sorted(names[p] for p in team)))
        for n, (start, end, team) in board.placed.items()
        if jobs[n].task.id not in gone
    }
    for job in jobs:
        if job.fixed is not None:
            places[job.number] = place_of_fixed(job, job.fixed)
    return attend(
        problem, Schedule(stints_of(jobs, places), tuple(t.id for t in problem.tasks if t.id in gone))
    )


def _find_with_checks(board: Board, job: Job) -> Place | None:
    """The first time; or a little later one, where only then a check can follow soon."""
    first = place = board.find(job)
    checks = [board.jobs[c] for c in job.checks]
    checks = [
        c
        for c in checks
        if c.fixed is None and all(b == job.number or b in board.placed for b, _ in c.before)
    ]
    for _ in range(_LATER):
        if place is None or not checks:
            break
        board.put(job, place)
        wait = 0
        for check in checks:
            then = board.find(check)
            if then is not None and check.soon is not None:
                wait = max(wait, then[0] - place[1] - check.soon)
        board.undo(job)
        if wait <= 0:
            return place
        place = board.find(job, place[0] + wait)
    return first
