"""Why there is no plan, where each task by itself would have a place: the causes that together leave none.

For each task left over, each fixed task that something comes too late for and each gate later than wanted: is there a plan
after all; if not, which kinds of causes does it take, then which single ones (`smallest`); then what was found is asked
once more, and changes are tried (`ways`). Nothing is called impossible without a proof (`proof`): what is not known in
time is said to be not known.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass, replace

from yokemate.planning.causes import Causes, Demand, before, in_order
from yokemate.planning.figures import figures, rank
from yokemate.planning.problem import Problem, Schedule
from yokemate.planning.proof import Answer, is_there_a_plan
from yokemate.planning.reasons import Cause, FoundOut, Reason
from yokemate.planning.smallest import TooMany, smallest
from yokemate.planning.ways import ways
from yokemate.planning.why_not import why_not

NAMED = 4  # so many of a kind are named one by one; more are called by their kind
_PASSES = 40  # of the simple method, where a plan of everything is looked for
UNPROVEN = ("full", "independent", "late_for")  # of `why_not`: found along one plan, so no proof for all
About = dict[str, str | int | tuple[str, ...]]
Name = tuple[str, Cause | None]


class Stopped(Exception):
    """`should_stop` said so."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Something to find out: `task` and `about` name it in the reason."""

    task: str
    about: About
    demand: Demand
    problem: Problem

    @property
    def name(self) -> Name:
        return self.task, self.demand.date


def to_find_out(problem: Problem, schedule: Schedule) -> list[Asked]:
    """What `schedule` leaves over for reasons that are not proven yet, in the order in which it is said."""
    found = []
    for reason in why_not(problem, schedule, remedies=False):
        if reason.code not in UNPROVEN:
            continue
        demand = Demand(frozenset({reason.task}))
        about: About = {}
        if reason.code == "late_for":
            lift = str(reason.about["task"])
            fixed, lag = next(
                (t.fixed, a.lag)
                for t in problem.tasks
                if t.id == lift
                for a in t.after
                if a.task == reason.task
            )
            assert fixed is not None
            demand = Demand(demand.tasks, fixed.start - lag, Cause("appointment", (lift,)))
            about = {"for": lift}
        found.append(Asked(reason.task, about, demand, _beside(problem, schedule, demand)))
    reached = figures(problem, schedule).gates
    for gate in problem.gates:
        at = reached[gate.id]
        if gate.wanted is not None and at is not None and at > gate.wanted and gate.tasks:
            demand = Demand(gate.tasks, gate.wanted, Cause("gate", (gate.id,)))
            found.append(
                Asked(max(sorted(gate.tasks)), {"gate": gate.id, "slots": at - gate.wanted}, demand, _beside(problem, schedule, demand))
            )  # fmt: skip
    return found


def _beside(problem: Problem, schedule: Schedule, demand: Demand) -> Problem:
    """What is asked for, and what has a place already: others that have none are not what keeps it out."""
    kept = before(problem, demand.tasks) | {
        task.id for task in problem.tasks if task.id not in schedule.unplaced
    }
    tasks = tuple(
        replace(
            task,
            after=tuple(a for a in task.after if a.task in kept),
            independent_of=tuple(other for other in task.independent_of if other in kept),
        )
        for task in problem.tasks
        if task.id in kept
    )
    return replace(problem, tasks=tasks, last=None)


def find_out(
    problem: Problem,
    schedule: Schedule,
    should_stop: Callable[[], bool],
    on_found: Callable[[FoundOut], None] | None = None,
) -> FoundOut:
    """A reason for each of `to_find_out`, but for what turns out to have a place. `on_found` hears of each as it is found.

    should_stop: asked often; from then on the rest is not found out in time.
    """
    best, better = schedule, False
    reasons: dict[Name, Reason] = {}
    todo = {asked.name: asked for asked in to_find_out(problem, best)}
    looked: set[Name] = set()
    while left := [asked for name, asked in todo.items() if name not in looked]:
        looked.add(left[0].name)
        found = _one(left[0], should_stop)
        if isinstance(found, Reason):
            reasons[left[0].name] = found
        elif (whole := _better(problem, best, left[0], found)) is not None:
            best, better = whole, True
            todo = {asked.name: asked for asked in to_find_out(problem, best)}
        if on_found is not None:
            on_found(_so_far(reasons, todo, best if better else None))
    return replace(_so_far(reasons, todo, best if better else None), over=True)


def _so_far(reasons: dict[Name, Reason], todo: dict[Name, Asked], better: Schedule | None) -> FoundOut:
    """What the best plan so far has a place for needs no reason any more."""
    return FoundOut(tuple(reasons[name] for name in todo if name in reasons), better)


def _better(problem: Problem, best: Schedule, asked: Asked, found: Schedule) -> Schedule | None:
    """The plan that was found, as one of the whole problem; None where it is not the better one."""
    there = {task.id for task in asked.problem.tasks}
    whole = Schedule(found.stints, tuple(task.id for task in problem.tasks if task.id not in there))
    return whole if rank(problem, figures(problem, whole)) < rank(problem, figures(problem, best)) else None


def _one(asked: Asked, should_stop: Callable[[], bool]) -> Reason | Schedule:
    search = _Search(Causes(asked.problem, asked.demand), should_stop)
    with contextlib.suppress(Stopped):  # what was proven so far stands
        plan = search.run()
        if plan is not None:
            return plan
    if not search.answer.proof:
        return Reason("not_found_out", asked.task, asked.about)
    about: About = {**asked.about, "proof": search.answer.proof, "least": int(search.least)}
    if (counted := search.answer.counted) is not None:
        about |= {"skill": counted.skill, "wanted": counted.wanted, "given": counted.given}
    held = Reason("held", asked.task, about, causes=in_order(search.core))
    return replace(held, remedies=tuple(ways(asked.problem, asked.demand, held, should_stop)))


class _Search:
    """`core`: causes that were proven to leave no plan, fewer and finer as it goes on. `answer`: that proof.
    least: whether any one less was shown to leave a plan, each proven by the checker."""

    def __init__(self, causes: Causes, should_stop: Callable[[], bool]) -> None:
        self.causes, self.should_stop = causes, should_stop
        self.core: list[Cause] = []
        self.answer = Answer()
        self.least = False

    def run(self) -> Schedule | None:
        """A plan, where there is one after all; else `core` is as small as it got."""
        plan = self._begin()
        if plan is not None or not self.answer.proof:
            return plan
        others = [cause for cause in self.core if cause.kind != "work"]
        work = [cause for cause in self.core if cause.kind == "work"]
        if work:  # of other work the least first: less of it is asked faster
            self._finer(others, work if work[0].item else self.causes.parts(work[0]))
        work = [cause for cause in self.core if cause.kind == "work"]
        self._take([*smallest(frozenset(work), others, self._impossible, len(others)), *work])
        for kind in [cause.kind for cause in self.core if cause.kind != "work"]:
            done: set[Cause] = set()
            while left := [c for c in self.core if c.kind == kind and c not in done and self.causes.parts(c)]:
                done.add(left[0])
                ground = [cause for cause in self.core if cause != left[0]]
                self._finer(ground, self.causes.parts(left[0]))
        self.least = all(self._ask(frozenset(self.core) - {cause}).plan is not None for cause in self.core)
        return None

    def _begin(self) -> Schedule | None:
        """What was asked for alone, then with ever more of the work beside it, until there is no plan any more."""
        kinds = self.causes.kinds()
        others = [cause for cause in kinds if cause.kind != "work"]
        rivals = self.causes.rivals()
        count = 0
        while count < len(rivals) or not count:
            if self._take([*others, *rivals[:count]]):
                return None
            count = 2 * count or 2
        if not rivals:
            return self._ask(frozenset(kinds), _PASSES).plan
        answer = self._ask(frozenset(kinds), _PASSES)
        if answer.proof:
            self.core, self.answer = kinds, answer
        return answer.plan

    def _finer(self, ground: list[Cause], parts: list[Cause]) -> None:
        with contextlib.suppress(TooMany):
            self._take([*ground, *smallest(frozenset(ground), parts, self._impossible, NAMED)])

    def _take(self, fewer: list[Cause]) -> bool:
        """A set stands only with a proof of its own: it was put together from several answers."""
        answer = self._ask(frozenset(fewer))
        if answer.proof:
            self.core, self.answer = fewer, answer
        return bool(answer.proof)

    def _impossible(self, kept: frozenset[Cause]) -> bool:
        return bool(self._ask(kept, twice=False).proof)

    def _ask(self, kept: frozenset[Cause], passes: int = 2, twice: bool = True) -> Answer:
        if self.should_stop():
            raise Stopped
        return is_there_a_plan(self.causes.only(kept), self.should_stop, passes, twice)
