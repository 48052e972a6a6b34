"""Plans of the build days that were worked out and may be taken. Nothing here is written down: what is taken stands in
the ledger, and what is not taken is worked out again.
"""

from __future__ import annotations

import logging
import os
import secrets
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from yokemate import apart
from yokemate.planning import problem as p
from yokemate.planning.check import check
from yokemate.planning.reasons import FoundOut
from yokemate.planning.windows import window_at, windows_for
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import BY_SOLVER, Offer, at_once, offer, reasons
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours

Told = Callable[[p.Schedule, FoundOut], "Offered"]

LOG = logging.getLogger("yokemate")
MEMORY_MB = 1500  # of a process that improves a plan; no limit where the platform has none (Windows)
GRACE_S = 10.0  # how much longer than asked for it may live
AT_ONCE = min(2, max(1, (os.cpu_count() or 2) // 2))  # so many improve plans: each takes two processors
KEPT, KEPT_IN_ALL = 20, 200  # offers of one build, and of one service; the oldest go first
TIMES_MEMORY_MB, TIMES_S = 500, 15.0  # of a process that finds a time for a lift, which takes about a second
TIMES_AT_ONCE = 2


@dataclass(frozen=True)
class Offered:
    """A plan of one build, until it is taken or forgotten."""

    id: str
    build: str
    offer: Offer


@dataclass
class Job:
    """One plan being improved. `best` may be taken at any time."""

    best: Offered
    seconds: float
    process: apart.Process | None = None
    working: bool = False
    waiting: bool = False  # for its turn: as many as may are at work for other builds
    broke: bool = False  # it ended before its time, with nothing left to allocate as a rule
    found: int = 0  # how many better plans were found since the first

    def stop(self) -> None:
        self.working = self.waiting = False
        if self.process is not None:
            self.process.stop()


@dataclass
class Planner:
    """The plans of one process: one being improved per build, and what may be taken."""

    memory_mb: int = MEMORY_MB
    _jobs: dict[str, Job] = field(default_factory=dict)
    _offers: dict[str, Offered] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _turns: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(AT_ONCE))
    _times: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(TIMES_AT_ONCE))

    def plan(
        self, build: str, state: State, hours: Mapping[str, Hours], now_ms: int, improve_s: float = 0.0
    ) -> Offered:
        """A plan at once, by the simple method, proven by the checker. Refused where there is nothing to plan with.

        improve_s: for so long a process of its own looks for better ones; asking again ends it.
        """
        asked, schedule, first = at_once(state, hours, now_ms)
        job = Job(self._keep(build, first), improve_s)
        with self._lock:
            before, self._jobs[build] = self._jobs.get(build), job
        if before is not None:
            before.stop()
        if improve_s > 0:

            def better(found: p.Schedule, out: FoundOut) -> Offered:
                return self._keep(build, offer(state, asked, found, frame_at(state, now_ms), BY_SOLVER, out))

            def clearer(shown: p.Schedule, out: FoundOut) -> Offered:
                said = reasons(state, asked, shown, frame_at(state, now_ms), out)
                return replace(job.best, offer=replace(job.best.offer, reasons=said))

            with self._lock:
                if self._jobs.get(build) is job:  # else another request has ended it before it began
                    self._start(job, asked, schedule, better, clearer)
        return job.best

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

    def _keep(self, build: str, what: Offer) -> Offered:
        offered = Offered(f"offer-{secrets.token_hex(8)}", build, what)
        with self._lock:
            self._offers[offered.id] = offered
            mine = [id for id, one in self._offers.items() if one.build == build]
            for id in (*mine[:-KEPT], *list(self._offers)[:-KEPT_IN_ALL]):
                self._offers.pop(id, None)
        return offered

    def _start(self, job: Job, asked: p.Problem, start: p.Schedule, better: Told, clearer: Told) -> None:
        job.working = job.waiting = True
        threading.Thread(
            target=self._in_turn, args=(job, asked, start, better, clearer), name="yokemate-plan", daemon=True
        ).start()

    def _in_turn(self, job: Job, asked: p.Problem, start: p.Schedule, better: Told, clearer: Told) -> None:
        """One after the other where more builds plan than the machine bears; the plan that was there at once stands till then."""
        while not self._turns.acquire(timeout=0.2):
            if not job.working:
                return
        try:
            job.waiting = False
            if job.working:
                end_s, memory_mb = job.seconds + GRACE_S, self.memory_mb
                job.process = apart.Process(
                    apart.better_plan,
                    asked,
                    start,
                    job.seconds,
                    memory_mb,
                    memory_mb=memory_mb,
                    seconds=end_s,
                )
                _listen(job, asked, start, better, clearer)
        except Exception:
            LOG.exception("improving a plan broke down; the plan before it stands")
        finally:
            job.stop()
            self._turns.release()

    def times(self, asked: p.Problem, task: str) -> p.Windows:
        """The best times for a task, found in about a second."""
        found = self._asked_apart(apart.times, asked, task)
        return found if isinstance(found, p.Windows) else windows_for(asked, task, time.monotonic)

    def time_at(self, asked: p.Problem, task: str, start: int) -> p.Offer | None:
        """One of them once more, as things stand."""
        found = self._asked_apart(apart.time_at, asked, task, start)
        return found if found is None or isinstance(found, p.Offer) else window_at(asked, task, start)

    def _asked_apart(self, work: Callable[..., None], *args: Any) -> Any:
        """The one answer of a process of its own; `NotImplemented` where it gave none, and it is worked out here."""
        with self._times:
            process = apart.Process(work, *args, memory_mb=TIMES_MEMORY_MB, seconds=TIMES_S)
            for answer in process.told():
                return answer
        LOG.warning("a process that was to find a time gave no answer")
        return NotImplemented

    def offered(self, build: str, offer: str) -> dict[str, Any] | None:
        """What the entry of a taken plan will hold."""
        with self._lock:
            found = self._offers.get(offer)
        return found.offer.data if found is not None and found.build == build else None


def _listen(job: Job, asked: p.Problem, shown: p.Schedule, better: Told, clearer: Told) -> None:
    """Take better plans as they come, each proven by the checker here as well, and what was found out about the rest."""
    assert job.process is not None
    out = FoundOut(())
    for told in job.process.told():
        if not job.working:
            break
        found = told
        if isinstance(told, FoundOut):
            out, found = told, told.better or shown
        if found != shown and not check(asked, found):
            shown = found
            job.best, job.found = better(found, out), job.found + 1
        elif told is out:
            job.best = clearer(shown, out)
    how = job.process.ended(5)
    job.broke = job.working and how != 0
    if job.broke:
        LOG.warning("improving a plan ended before its time; the plan before it stands")
