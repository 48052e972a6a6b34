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
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection
from typing import Any

from yokemate.planning import problem as p
from yokemate.planning.check import check
from yokemate.planning.find_out import find_out
from yokemate.planning.improve import improve
from yokemate.planning.reasons import FoundOut
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import BY_SOLVER, Offer, at_once, offer, reasons
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours

Told = Callable[[p.Schedule, FoundOut], "Offered"]

LOG = logging.getLogger("yokemate")
MEMORY_MB = 1500  # of the process that improves a plan; no limit where the platform has none (Windows)
GRACE_S = 10.0  # how much longer than asked for it may live
KEPT = 20  # offers of one service; the oldest go first


@dataclass(frozen=True)
class Offered:
    """A plan of one build, until it is taken or forgotten."""

    id: str
    build: str
    offer: Offer


def memory_bounded(megabytes: int) -> bool:
    """Bound what this process may allocate from now on; False where the platform has no such limit."""
    try:
        import resource
    except ImportError:
        return False
    resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20, megabytes * 2**20))
    return True


def work(asked: p.Problem, start: p.Schedule, seconds: float, memory_mb: int, tell: Connection) -> None:
    """In a process of its own: find out why work is left over, for half of the time at most, then improve the plan; tell of
    each reason and each better plan. Memory is bounded, and running out of it ends the process; the parent bounds time.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the service's; it ends this process itself
    if not memory_bounded(memory_mb):
        LOG.warning("this system bounds no process's memory: planning may use more than %s MB", memory_mb)
    begun = time.monotonic()
    with contextlib.suppress(BrokenPipeError):
        found = find_out(asked, start, lambda: time.monotonic() > begun + seconds / 2, tell.send)
        left = max(0.5, begun + seconds - time.monotonic())
        limits = p.Limits(seconds=left, workers=2, memory_mb=memory_mb // 2)
        solved = improve(
            asked,
            found.better or start,
            time.monotonic,
            limits,
            on_better=lambda better: tell.send(better.schedule),
        )
        tell.send(solved.schedule)
    tell.close()


@dataclass
class Job:
    """One plan being improved. `best` may be taken at any time."""

    best: Offered
    seconds: float
    process: multiprocessing.process.BaseProcess | None = None
    working: bool = False
    broke: bool = False  # it ended before its time, with nothing left to allocate as a rule
    found: int = 0  # how many better plans were found since the first

    def stop(self) -> None:
        self.working = False
        if self.process is not None and self.process.is_alive():
            self.process.kill()


@dataclass
class Planner:
    """The plans of one process: one being improved per build, and what may be taken."""

    memory_mb: int = MEMORY_MB
    _jobs: dict[str, Job] = field(default_factory=dict)
    _offers: dict[str, Offered] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

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
            while len(self._offers) > KEPT:
                self._offers.pop(next(iter(self._offers)))
        return offered

    def _start(self, job: Job, asked: p.Problem, start: p.Schedule, better: Told, clearer: Told) -> None:
        spawn = multiprocessing.get_context("spawn")  # a fork would take the service's locks along
        hear, tell = spawn.Pipe(duplex=False)
        process = spawn.Process(
            target=work,
            args=(asked, start, job.seconds, self.memory_mb, tell),
            name="yokemate-plan",
            daemon=True,
        )
        process.start()
        tell.close()
        job.process, job.working = process, True
        threading.Thread(
            target=_listen, args=(job, asked, start, hear, better, clearer), name="yokemate-plan", daemon=True
        ).start()

    def offered(self, build: str, offer: str) -> dict[str, Any] | None:
        """What the entry of a taken plan will hold."""
        with self._lock:
            found = self._offers.get(offer)
        return found.offer.data if found is not None and found.build == build else None


def _listen(
    job: Job, asked: p.Problem, shown: p.Schedule, hear: Connection, better: Told, clearer: Told
) -> None:
    """Take better plans as they come, each proven by the checker here as well, and what was found out about the rest; end
    what lives too long."""
    end = time.monotonic() + job.seconds + GRACE_S
    out = FoundOut(())
    try:
        while job.working and time.monotonic() < end:
            if not hear.poll(0.2):
                continue
            told = hear.recv()
            found = told
            if isinstance(told, FoundOut):
                out, found = told, told.better or shown
            if found != shown and not check(asked, found):
                shown = found
                job.best, job.found = better(found, out), job.found + 1
            elif told is out:
                job.best = clearer(shown, out)
    except (EOFError, OSError):  # it has ended, by itself or because it was stopped
        if job.process is not None:
            job.process.join(5)
            job.broke = job.working and job.process.exitcode != 0
        if job.broke:
            LOG.warning("improving a plan ended before its time; the plan before it stands")
    except Exception:
        LOG.exception("improving a plan broke down; the plan before it stands")
    finally:
        hear.close()
        job.stop()
        if job.process is not None:
            job.process.join(5)
