"""Plans of the build days that were worked out and may be taken. Nothing here is written down: what is taken stands in
the ledger, and what is not taken is worked out again.
"""

from __future__ import annotations

import secrets
import threading
from dataclasses import dataclass, field
from typing import Any

from yokemate.planning import problem as p
from yokemate.planning.check import check
from yokemate.planning.difference import difference
from yokemate.planning.figures import figures
from yokemate.planning.listing import list_schedule
from yokemate.rules.days_problem import CHECK, Frame, blocks_of, chain_of, frame_at, last_schedule, problem
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours
from yokemate.rules.refusals import Refused

BY = "list/1"
KEPT = 20  # offers of one service; the oldest go first


@dataclass(frozen=True)
class Difference:
    """One task's place in the plan taken and in the one offered. Times in ms."""

    kind: str
    task: str
    check: bool
    was_ms: int | None
    now_ms: int | None
    was_people: list[str]
    now_people: list[str]


@dataclass(frozen=True)
class Offered:
    """A plan that may be taken. `data`: what the entry will hold."""

    id: str
    build: str
    head: int
    data: dict[str, Any]
    differences: list[Difference]
    stays: int


@dataclass
class Planner:
    _offers: dict[str, Offered] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def plan(self, build: str, state: State, hours: dict[str, Hours], now_ms: int) -> Offered:
        """A plan at once, by the simple method, proven by the checker. Refused where there is nothing to plan with."""
        at = frame_at(state, now_ms)
        asked = problem(state, hours, now_ms)
        if not asked.tasks:
            raise Refused(
                "no_days", problem="no work is left.", remedy="Load a plan file, or a new version of it."
            )
        if not asked.days:
            raise Refused(
                "no_days", problem="nobody has said when they can come.",
                remedy="Each says it under Crew, own name, Hours I can come; a lead may type it for somebody.",
            )  # fmt: skip
        schedule = list_schedule(asked)
        findings = check(asked, schedule)
        if findings:
            raise RuntimeError(f"a plan that breaks rules is not shown: {findings[:3]}")
        offered = self.offer(build, state, asked, schedule, at)
        with self._lock:
            self._offers[offered.id] = offered
            while len(self._offers) > KEPT:
                self._offers.pop(next(iter(self._offers)))
        return offered

    def offer(self, build: str, state: State, asked: p.Problem, schedule: p.Schedule, at: Frame) -> Offered:
        worth = figures(asked, schedule)
        data = {
            "blocks": blocks_of(schedule, at),
            "unplaced": [one for one in schedule.unplaced if not one.endswith(CHECK)],
            "gates": {gate: at.ms(slot) for gate, slot in worth.gates.items() if slot is not None},
            "finish_ms": at.ms(worth.finish),
            "chain": chain_of(asked, schedule),
            "odds": [],
            "by": BY,
        }
        known = {task.id for task in asked.tasks}
        before = last_schedule(state, known, at)
        changes = difference(before, schedule) if before is not None else []
        listed = [_difference(one, at) for one in changes if one.kind != "stays"]
        return Offered(
            id=f"offer-{secrets.token_hex(8)}",
            build=build,
            head=state.head,
            data=data,
            differences=listed,
            stays=sum(1 for one in changes if one.kind == "stays"),
        )

    def offered(self, build: str, offer: str) -> dict[str, Any] | None:
        """What the entry of a taken plan will hold."""
        with self._lock:
            found = self._offers.get(offer)
        return found.data if found is not None and found.build == build else None


def _difference(change: p.Change, at: Frame) -> Difference:
    def people(stints: tuple[p.Stint, ...]) -> list[str]:
        return sorted({person for stint in stints for person in stint.team})

    return Difference(
        kind=change.kind,
        task=change.task.removesuffix(CHECK),
        check=change.task.endswith(CHECK),
        was_ms=at.ms(change.was[0].start) if change.was else None,
        now_ms=at.ms(change.now[0].start) if change.now else None,
        was_people=people(change.was),
        now_people=people(change.now),
    )
