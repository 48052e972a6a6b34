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
from yokemate.planning.jobs import Job, ends_of, jobs_of, last_places, place_of_fixed, stints_of
from yokemate.planning.problem import Problem, Schedule

_TURNS = 4  # so often each job may be moved again, where what it waits for moved
_LATER = 6  # how many later times are tried so that a countersign can follow soon


def list_schedule(
    problem: Problem, passes: int = 1, seed: int = 0, should_stop: Callable[[], bool] | None = None
) -> Schedule:
    """A plan that keeps every rule, and what found no place.

    passes: tries with slightly different orders; the best by the objectives stands. With `problem.last`, the first try
    keeps everybody's time and team wherever that still holds; a plan that still holds as a whole comes back as it was.
    Without, each try after the first is justified twice: see `_late_starts`; and each next order is that of the best so far,
    a little shaken (an iterated local search; four PSPLIB projects, 100 tries, three seeds: 1 to 5 % shorter than by orders
    that all come from the latest starts).
    """
    jobs = jobs_of(problem)
    best = _one_pass(problem, jobs, None)
    best_rank = rank(problem, figures(problem, best))
    for exact in (True, False) if problem.last is not None and _worth_more(best_rank) else ():
        staying = _staying(problem, jobs, exact)
        if staying is not None and (found_rank := rank(problem, figures(problem, staying))) < best_rank:
            best, best_rank = staying, found_rank
    spread = max(1, sum(job.length for job in jobs) // 20)
    if problem.last is None:
        spread = max(1, spread // 2)
    state = (
        seed * 2 + 1
    )  # chance by a linear congruence (Knuth's MMIX figures): the room may ask nobody for it
    base = [float(job.due - job.length) for job in jobs]
    for n in range(1, passes):
        if should_stop is not None and should_stop():
            break
        if problem.last is not None and not _worth_more(best_rank):
            break
        order = []
        for start in base:
            state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
            order.append(start + (state >> 33) / 2**31 * spread)
        if n == 1 and problem.last is None:
            found = best  # the first order, justified, before any chance
        else:
            found = _one_pass(problem, jobs, order)
        tries, late = [found], base
        if problem.last is None:
            late = _late_starts(problem, jobs, found)
            tries.append(_one_pass(problem, jobs, late))
        for found in tries:
            found_rank = rank(problem, figures(problem, found))
            as_good = found_rank == best_rank and problem.last is None  # and leads elsewhere
            if found_rank < best_rank or as_good:
                best, best_rank, base = found, found_rank, late
    return attend(problem, best)


def _worth_more(found: tuple[int, ...]) -> bool:
    return any(found[:2]) or found[2] > 0


def _late_starts(problem: Problem, jobs: list[Job], found: Schedule) -> list[float]:
    """Forward-backward improvement (Li and Willis 1992): every job as late as the plan's finish and gates allow, from
    the last to the first. Begun in this order, the jobs that gained room leave it to those that had none.

    Only an order comes of it: the plan is made anew, forward, with every rule. So a job that finds no place backward
    (a team, a hazard, a checker in the way) simply keeps its turn.
    """
    ends = ends_of(found)
    finish = max(ends.values(), default=0)
    until = dict.fromkeys(ends, finish)
    for gate in problem.gates:
        by = max((ends.get(task, finish) for task in gate.tasks), default=finish)
        for task in gate.tasks & ends.keys():
            until[task] = min(until[task], max(by, gate.wanted or 0))
    board = Board(problem, jobs)
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    starts = [float(finish)] * len(jobs)
    places = {n: start for n, (start, _) in last_places(jobs, found).items()}
    for number in sorted(places, key=lambda n: (-places[n] - jobs[n].length, -n)):
        job = jobs[number]
        starts[number] = places[number]
        if job.fixed is not None:
            continue
        by = until[job.task.id]
        for follower, lag in job.followers:
            if follower in board.placed:
                by = min(by, board.placed[follower][0] - lag)
        place = board.find_last(job, by)
        if place is not None:
            board.put(job, place)
            starts[number] = place[0]
    return starts


def _one_pass(problem: Problem, jobs: list[Job], order: list[float] | None) -> Schedule:
    """Each job in its turn, where it was told if that still holds, else at the first time. order: what each job's turn goes
    by, the smallest first; None: by the latest start. So whoever lost a place takes one from work that can wait, not from
    whatever was told for the next hour."""
    board = Board(problem, jobs)
    kept = last_places(jobs, problem.last) if problem.last is not None else {}

    def key(number: int) -> tuple[float, int]:
        return (float(jobs[number].due - jobs[number].length) if order is None else order[number], number)

    waits = [len(job.before) for job in jobs]
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    heap = [key(job.number) for job in jobs if not job.before]
    heapq.heapify(heap)
    lost: set[int] = set()
    while heap:
        _, number = heapq.heappop(heap)
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
    return _read(problem, jobs, board, lost)


def _staying(problem: Problem, jobs: list[Job], exact: bool) -> Schedule | None:
    """Whatever can stay where and with whom it was told stays, before anything else is given a place; then what can't is put into what
    is left free, and only what must wait for that moves too. None: it came to no end. exact: with another team it does not stay.

    One after the other, as `_one_pass` has it, whoever lost a place takes the next one's, who takes the next one's.
    """
    assert problem.last is not None
    board = Board(problem, jobs)
    kept = last_places(jobs, problem.last)
    for job in jobs:
        if job.fixed is not None:
            board.put_fixed(job)
    todo: set[int] = set()
    for job in sorted(jobs, key=lambda job: (kept.get(job.number, (0,))[0], job.number)):
        if job.fixed is None:
            place = board.find_as_told(job, kept[job.number]) if job.number in kept else None
            others = place is not None and {problem.people[p].id for p in place[2]} != set(
                kept[job.number][1]
            )
            if place is None or (exact and others):
                todo.add(job.number)
            else:
                board.put(job, place)
    lost: set[int] = set()
    for _ in range(_TURNS * len(jobs)):
        if not todo:
            return _read(problem, jobs, board, lost)
        ready = [n for n in todo if not any(before in todo for before, _ in jobs[n].before)]
        job = jobs[min(ready, key=lambda n: (kept[n][0] if n in kept else jobs[n].due, n))]
        todo.discard(job.number)
        gone = any(before in lost for before, _ in job.before)
        place = board.find_as_told(job, kept[job.number]) if job.number in kept and not gone else None
        if place is None and not gone:
            place = _find_with_checks(board, job)
        if place is None:
            lost.add(job.number)
        else:
            board.put(job, place)
        for number, lag in job.followers:
            follower = jobs[number]
            there = board.placed.get(number) if follower.fixed is None else None
            if there is not None and (place is None or there[0] < place[1] + lag):
                board.undo(follower)
                todo.add(number)
    return None


def _read(problem: Problem, jobs: list[Job], board: Board, lost: set[int]) -> Schedule:
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
    return Schedule(stints_of(jobs, places), tuple(t.id for t in problem.tasks if t.id in gone))


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
