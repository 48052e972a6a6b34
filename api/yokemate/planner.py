"""Plans of the build days that were worked out and may be taken. Nothing here is written down: what is taken stands in
the ledger, and what is not taken is worked out again.
"""

from __future__ import annotations

import contextlib
import logging
import multiprocessing
import secrets
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Any

from yokemate.planning import problem as p
from yokemate.planning.check import check
from yokemate.planning.difference import difference
from yokemate.planning.faults import faults
from yokemate.planning.figures import figures
from yokemate.planning.improve import improve
from yokemate.planning.listing import list_schedule
from yokemate.planning.odds import odds
from yokemate.planning.why_not import why_not
from yokemate.planning.windows import windows_for
from yokemate.rules.days_problem import CHECK, Frame, blocks_of, chain_of, frame_at, last_schedule, problem
from yokemate.rules.days_words import Words, fault_words, reason_words, remedy_words
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours, zone_of
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Lift
from yokemate.rules.rows.days import FINISH

LOG = logging.getLogger("yokemate")
BY = "list/1"
BY_SOLVER = "cp-sat/1"
MEMORY_MB = 1500  # of the process that improves a plan
GRACE_S = 10.0  # how much longer than asked for it may live
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
class WhyNot:
    """Why one piece of work has no place, and the smallest changes that would give one; both in words."""

    task: str
    says: str
    remedies: list[str]


@dataclass(frozen=True)
class Time:
    """A time at which a lift could be. `cost_min`: how much later all is finished than with the best time."""

    from_ms: int
    to_ms: int
    people: list[str]
    cost_min: int
    before: list[str]
    gates_late: list[str]


@dataclass(frozen=True)
class Times:
    offers: list[Time]
    reasons: list[WhyNot]


REASONS_SHOWN = 6
SAMPLES = 2000  # of the odds: P50 and P80 stand to about a slot, in a fraction of a second


@dataclass(frozen=True)
class Offered:
    """A plan that may be taken. `data`: what the entry will hold."""

    id: str
    build: str
    head: int
    data: dict[str, Any]
    differences: list[Difference]
    stays: int
    reasons: list[WhyNot]


def work(asked: p.Problem, start: p.Schedule, seconds: float, tell: Connection) -> None:
    """In a process of its own: improve a plan and tell of each better one. Memory is bounded; the parent bounds time."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the service's; it ends this process itself
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_DATA, (MEMORY_MB * 2**20, MEMORY_MB * 2**20))
    limits = p.Limits(seconds=seconds, workers=2, memory_mb=MEMORY_MB // 2)
    with contextlib.suppress(BrokenPipeError):
        solved = improve(asked, start, limits, on_better=lambda better: tell.send(better.schedule))
        tell.send(solved.schedule)
    tell.close()


@dataclass
class Job:
    """One plan being improved. `best` may be taken at any time."""

    best: Offered
    started_ms: int
    seconds: float
    process: multiprocessing.process.BaseProcess | None = None
    working: bool = False
    found: int = 0  # how many better plans were found since the first

    def stop(self) -> None:
        if self.process is not None and self.process.is_alive():
            self.process.kill()
        self.working = False


@dataclass
class Planner:
    _jobs: dict[str, Job] = field(default_factory=dict)
    _offers: dict[str, Offered] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def plan(
        self, build: str, state: State, hours: dict[str, Hours], now_ms: int, improve_s: float = 0.0
    ) -> Offered:
        """A plan at once, by the simple method, proven by the checker. Refused where there is nothing to plan with.

        improve_s: for so long a process of its own looks for better ones; asking again ends it.
        """
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
        wrong = faults(asked)
        if wrong:
            raise Refused(
                "no_days",
                problem=f"{fault_words(wrong[0])}.",
                remedy="Put it right in the plan or in the hours.",
            )
        schedule = list_schedule(asked)
        findings = check(asked, schedule)
        if findings:
            raise RuntimeError(f"a plan that breaks rules is not shown: {findings[:3]}")
        offered = self._keep(self.offer(build, state, asked, schedule, at, BY))
        job = Job(offered, now_ms, improve_s)
        with self._lock:
            before, self._jobs[build] = self._jobs.get(build), job
        if before is not None:
            before.stop()
        if improve_s > 0:

            def better(found: p.Schedule) -> Offered:
                return self._keep(self.offer(build, state, asked, found, at, BY_SOLVER))

            self._start(job, asked, schedule, better)
        return offered

    def job(self, build: str) -> Job | None:
        """What is being worked out for a build, or was last."""
        with self._lock:
            return self._jobs.get(build)

    def close(self) -> None:
        """End every process: before the service stops."""
        with self._lock:
            jobs = list(self._jobs.values())
        for job in jobs:
            job.stop()

    def _keep(self, offered: Offered) -> Offered:
        with self._lock:
            self._offers[offered.id] = offered
            while len(self._offers) > KEPT:
                self._offers.pop(next(iter(self._offers)))
        return offered

    def _start(
        self, job: Job, asked: p.Problem, start: p.Schedule, better: Callable[[p.Schedule], Offered]
    ) -> None:
        spawn = multiprocessing.get_context("spawn")  # a fork would take the service's locks along
        hear, tell = spawn.Pipe(duplex=False)
        process = spawn.Process(
            target=work, args=(asked, start, job.seconds, tell), name="yokemate-plan", daemon=True
        )
        process.start()
        tell.close()
        job.process, job.working = process, True
        threading.Thread(
            target=_listen, args=(job, asked, start, hear, better), name="yokemate-plan", daemon=True
        ).start()

    def offer(
        self, build: str, state: State, asked: p.Problem, schedule: p.Schedule, at: Frame, by: str
    ) -> Offered:
        worth = figures(asked, schedule)
        data = {
            "blocks": blocks_of(schedule, at),
            "unplaced": [one for one in schedule.unplaced if not one.endswith(CHECK)],
            "gates": {gate: at.ms(slot) for gate, slot in worth.gates.items() if slot is not None},
            "finish_ms": at.ms(worth.finish),
            "chain": chain_of(asked, schedule),
            "odds": _odds(asked, schedule, at),
            "by": by,
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
            reasons=_reasons(state, asked, schedule, at),
        )

    def times(self, state: State, hours: dict[str, Hours], now_ms: int, lift: Lift) -> Times:
        """The best three times for a lift; where no day will do, why."""
        at = frame_at(state, now_ms)
        asked = problem(state, hours, now_ms)
        wrong = faults(asked)
        if wrong:
            raise Refused(
                "no_days",
                problem=f"{fault_words(wrong[0])}.",
                remedy="Put it right in the plan or in the hours.",
            )
        if lift.task is None or all(task.id != lift.task for task in asked.tasks):
            raise Refused(
                "not_in_state",
                what=lift.plan.title,
                state="not ahead",
                remedy="Its task is done, or not part of this build.",
            )
        found = windows_for(asked, lift.task)
        offers = [
            Time(
                at.ms(one.start), at.ms(one.end), list(one.team), one.cost * asked.slot_min,
                list(dict.fromkeys(task.removesuffix(CHECK) for task in one.before)), list(one.gates_late),
            )
            for one in found
        ]  # fmt: skip
        return Times(offers, [] if offers else _reasons(state, asked, list_schedule(asked), at))

    def offered(self, build: str, offer: str) -> dict[str, Any] | None:
        """What the entry of a taken plan will hold."""
        with self._lock:
            found = self._offers.get(offer)
        return found.data if found is not None and found.build == build else None


def _listen(
    job: Job, asked: p.Problem, shown: p.Schedule, hear: Connection, better: Callable[[p.Schedule], Offered]
) -> None:
    """Take better plans as they come, each proven by the checker here as well; end what lives too long."""
    end = time.monotonic() + job.seconds + GRACE_S
    try:
        while job.working and time.monotonic() < end:
            if not hear.poll(0.2):
                continue
            found = hear.recv()
            if found != shown and not check(asked, found):
                shown = found
                job.best, job.found = better(found), job.found + 1
    except (EOFError, OSError):  # it has ended, by itself or because it was stopped
        if job.process is not None:
            job.process.join(5)
    except Exception:
        LOG.exception("improving a plan broke down; the plan before it stands")
    finally:
        hear.close()
        job.stop()
        if job.process is not None:
            job.process.join(5)


def _odds(asked: p.Problem, schedule: p.Schedule, at: Frame) -> list[dict[str, Any]]:
    """Each gate's range and, under the name of the finish, that of all work with the tasks that drive it most."""
    found = odds(asked, schedule, samples=SAMPLES)

    def line(gate: str, there: p.Range, drivers: list[str]) -> dict[str, Any]:
        return {
            "gate": gate,
            "p50_ms": None if there.p50 is None else at.ms(there.p50),
            "p80_ms": None if there.p80 is None else at.ms(there.p80),
            "in_time_percent": there.in_time_percent,
            "drivers": drivers,
        }

    drivers = list(dict.fromkeys(task.removesuffix(CHECK) for task, _ in found.drivers))
    return [
        *(line(gate, there, []) for gate, there in found.gates.items()),
        line(FINISH, found.finish, drivers),
    ]


def _reasons(state: State, asked: p.Problem, schedule: p.Schedule, at: Frame) -> list[WhyNot]:
    """The first of each chain, for those behind it only follow."""
    if not schedule.unplaced:
        return []
    words = Words(state, at, zone_of(state.get(Build, "build").time_zone))
    shown = [one for one in why_not(asked, schedule) if one.code != "follows"][:REASONS_SHOWN]
    return [
        WhyNot(
            one.task.removesuffix(CHECK),
            reason_words(one, words),
            [remedy_words(r, words) for r in one.remedies],
        )
        for one in shown
    ]


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
