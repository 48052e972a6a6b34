"""Which torque wrenches the plan of the days counts on for a piece of work: fit now, and with the range for it (R11). Pure.

Work holds *one of* some torque wrenches, and another piece one of some others. So what is counted are not the torque
wrenches but sets of them: whatever is done with one out of a set is also done with one out of each larger set, and by
Hall's theorem (1935) all that goes on at one moment can be given torque wrenches just where no set has too few.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

from yokemate.planfile.model import Step
from yokemate.planning import problem as p
from yokemate.rules.frame import State
from yokemate.rules.rows import Group, Reading, Task, TorqueWrench
from yokemate.rules.tightening import group_step_done
from yokemate.rules.wrenches import out_of_range, unfit_at

ANY_WRENCH = "torque_wrench"
_UNITED = 6  # so many sets are united in every way; of more only each by itself, and all together
_TURNS_IT = ("torque_wrench_again", "first_movement")  # methods of a check that take one

Wrenches = frozenset[str]


def pool(wrenches: Wrenches) -> str:
    """What one out of these is called among a problem's tools."""
    return f"{ANY_WRENCH}:{'+'.join(sorted(wrenches))}"


def of_pool(tool: str) -> list[str] | None:
    """The torque wrenches of a pool, none where none is fit; None: it is another tool."""
    kind, there, ids = tool.partition(":")
    return [id for id in ids.split("+") if id] if there and kind == ANY_WRENCH else None


class Counted:
    """The torque wrenches of a build as tools of a problem."""

    def __init__(self, state: State, now_ms: int) -> None:
        self._state = state
        readings = list(state.all(Reading))
        self._all = sorted(state.all(TorqueWrench), key=lambda wrench: wrench.id)
        self._fit = [wrench for wrench in self._all if not unfit_at(wrench, now_ms, readings)]
        self._there = any(wrench.retired_ms is None for wrench in self._all)

    def for_work(self, task: Task, steps: Iterable[Step]) -> set[Wrenches]:
        """One out of each of these is held by what these steps of a task still tighten; of those that it names, where one will do."""
        left = (s for s in steps if s.kind == "tighten" and not group_step_done(self._state, s))
        return self._least(self._for_group(step.group, task.plan.tools) for step in left)

    def for_check(self, task: Task, groups: Iterable[Group]) -> set[Wrenches]:
        """Of a check that is made when the work is over: one, unless a look at the paint marks will do."""
        turned = [
            group.id
            for group in groups
            if "paint_mark_seen" not in group.plan.check_methods
            and any(method in _TURNS_IT for method in group.plan.check_methods)
        ]
        return self._least(self._for_group(id, task.plan.tools) for id in turned)

    def _for_group(self, id: str | None, named: Iterable[str]) -> Wrenches:
        """In which range its figure lies; one with an extension on it may have another. Without a figure: any that is fit."""
        group = self._state.find(Group, id) if id is not None else None
        fit = {
            wrench.id
            for wrench in self._fit
            if group is None
            or not out_of_range(wrench, Fraction(group.spec.target.torque), group.spec.target.unit)
        }
        return frozenset(fit & set(named) or fit)

    def _least(self, wanted: Iterable[Wrenches]) -> set[Wrenches]:
        """Without those of which another's will do as well; nothing where a build has no torque wrench at all."""
        sets = set(wanted) if self._there else set()
        return {one for one in sets if not any(other < one for other in sets)}

    def is_one(self, tool: str) -> bool:
        return any(wrench.id == tool for wrench in self._all)


def united(sets: Iterable[Wrenches]) -> list[Wrenches]:
    """The sets, and every union of some of them."""
    single = sorted(set(sets), key=sorted)
    found = {*single, frozenset().union(*single)} if single else set()
    if len(single) <= _UNITED:
        for count in range(2, len(single)):
            found |= {frozenset().union(*some) for some in combinations(single, count)}
    return sorted(found, key=lambda one: (len(one), sorted(one)))


def uses(wanted: Iterable[Wrenches], pools: Iterable[Wrenches]) -> Iterator[p.Use]:
    """What work that holds one out of each of `wanted` holds of the pools."""
    wanted = list(wanted)
    for one in pools:
        count = sum(some <= one for some in wanted)
        if count:
            yield p.Use(pool(one), count)
