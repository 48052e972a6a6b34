"""Plans of the build days that were worked out and may be taken. They stand outside the ledger: what is taken stands in it,
and what is not taken is worked out again. Each process of the service looks for better ones by itself; what it finds, and
how it stands, the others read from the database.
"""

from __future__ import annotations

import contextlib
import json
import logging
import os
import secrets
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, replace
from typing import Any

from yokemate import apart
from yokemate.planning import problem as p
from yokemate.planning.check import check
from yokemate.planning.reasons import FoundOut
from yokemate.planning.windows import window_at, windows_for
from yokemate.rules.days_frame import frame_at
from yokemate.rules.days_offer import BY_SOLVER, Difference, Offer, WhyNot, at_once, offer, reasons
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours
from yokemate.store import offers
from yokemate.store.engine import Database

Said = Callable[[p.Schedule, FoundOut], Offer]

LOG = logging.getLogger("yokemate")
MEMORY_MB = 1500  # of a process that improves a plan; no limit where the platform has none (Windows)
GRACE_S = 10.0  # how much longer than asked for it may live
AT_ONCE = min(2, max(1, (os.cpu_count() or 2) // 2))  # so many improve plans: each takes two processors
HEARD_EVERY_S, SILENT_MS = 1.0, 15_000  # whoever looks says so each second; silent for longer: it is no more
TIMES_MEMORY_MB, TIMES_S = 500, 15.0  # of a process that finds a time for a lift, which takes about a second
TIMES_AT_ONCE = 2


@dataclass(frozen=True)
class Offered:
    """A plan of one build, until it is taken or newer ones push it out."""

    id: str
    offer: Offer


@dataclass(frozen=True)
class Standing:
    """The best plan so far. working: better ones are looked for. waiting: for its turn, as many as may are at work for other
    builds. broke: it ended before its time, with nothing left to allocate as a rule. found: better plans since the first.
    """

    best: Offered
    working: bool
    waiting: bool
    broke: bool
    found: int


@dataclass
class Job:
    """One plan being improved by this process. `id`: of the request; another one in its place ends it."""

    id: str
    build: str
    best: Offered
    seconds: float
    process: apart.Process | None = None
    thread: threading.Thread | None = None
    working: bool = False
    waiting: bool = False
    broke: bool = False
    saying: threading.Lock = field(default_factory=threading.Lock)  # nothing is said of it after its end

    def stop(self) -> None:
        self.working = self.waiting = False
        if self.process is not None:
            self.process.stop()


@dataclass
class Planner:
    """The plans that this process works on, one per build at most, and what may be taken, whichever process found it."""

    database: Database
    memory_mb: int = MEMORY_MB
    _jobs: dict[str, Job] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _turns: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(AT_ONCE))
    _times: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(TIMES_AT_ONCE))

    def plan(
        self, build: str, state: State, hours: Mapping[str, Hours], now_ms: int, improve_s: float = 0.0
    ) -> Standing:
        """A plan at once, by the simple method, proven by the checker. Refused where there is nothing to plan with.

        improve_s: for so long a process of its own looks for better ones; asking again ends it, wherever it runs.
        """
        asked, schedule, first = at_once(state, hours, now_ms)
        job = Job(f"search-{secrets.token_hex(8)}", build, _offered(first), improve_s)
        looks = improve_s > 0
        with self._lock:
            before, self._jobs[build] = self._jobs.get(build), job
            with self.database.write() as connection:
                offers.keep(connection, build, job.best.id, _body(first))
                offers.begin(connection, build, job.id, job.best.id, "waiting" if looks else "over", _ms())
        if before is not None:
            before.stop()
            if before.thread is not None:
                before.thread.join(1)  # so that its turn is free
        if looks:

            def better(found: p.Schedule, out: FoundOut) -> Offer:
                return offer(state, asked, found, frame_at(state, now_ms), BY_SOLVER, out)

            def clearer(shown: p.Schedule, out: FoundOut) -> Offer:
                said = reasons(state, asked, shown, frame_at(state, now_ms), out)
                return replace(job.best.offer, reasons=said)

            with self._lock:
                if self._jobs.get(build) is job:  # else another request has ended it before it began
                    self._start(job, asked, schedule, better, clearer)
        return Standing(job.best, looks, job.waiting, False, 0)

    def job(self, build: str) -> Job | None:
        """What this process works on for a build, or did last."""
        with self._lock:
            return self._jobs.get(build)

    def standing(self, build: str) -> Standing | None:
        """The best plan so far, whichever process found it; None: none was asked for yet."""
        with self.database.read() as connection:
            found = offers.found(connection, build)
        if found is None:
            return None
        looks = found.stands in ("waiting", "working")
        silent = looks and _ms() - found.seen_ms > SILENT_MS
        return Standing(
            Offered(found.offer, _read(found.body)),
            working=looks and not silent,
            waiting=found.stands == "waiting" and not silent,
            broke=found.stands == "broke",
            found=found.found,
        )

    def end(self, build: str) -> Standing | None:
        """Look no further, whichever process does."""
        with self._lock:
            job = self._jobs.get(build)
            with self.database.write() as connection:
                offers.end(connection, build, f"search-{secrets.token_hex(8)}")
        if job is not None:
            job.stop()
        return self.standing(build)

    def close(self) -> None:
        """End every process: before the service stops."""
        with self._lock:
            jobs = list(self._jobs.values())
        for job in jobs:
            job.stop()
        for job in jobs:
            if job.thread is not None:
                job.thread.join(5)

    def _start(self, job: Job, asked: p.Problem, start: p.Schedule, better: Said, clearer: Said) -> None:
        has_turn = self._turns.acquire(blocking=False)
        job.working, job.waiting = True, not has_turn
        job.thread = threading.Thread(
            target=self._in_turn,
            args=(has_turn, job, asked, start, better, clearer),
            name="yokemate-plan",
            daemon=True,
        )
        job.thread.start()
        threading.Thread(target=self._watch, args=(job,), name="yokemate-plan-watch", daemon=True).start()

    def _watch(self, job: Job) -> None:
        """Says each second that it is at work, and ends it where another request, perhaps of another process, took its place."""
        assert job.thread is not None
        while job.thread.is_alive():
            with job.saying:
                if not job.working:
                    return
                goes_on = self._say(job, "waiting" if job.waiting else "working")
            if not goes_on:
                job.stop()
            job.thread.join(HEARD_EVERY_S)

    def _say(self, job: Job, stands: offers.Stands) -> bool:
        with self.database.write() as connection:
            return offers.go_on(connection, job.build, job.id, stands, _ms())

    def _end(self, job: Job) -> None:
        with job.saying:
            job.stop()
            with contextlib.suppress(Exception):  # the service may be going down
                self._say(job, "broke" if job.broke else "over")

    def _in_turn(
        self, has_turn: bool, job: Job, asked: p.Problem, start: p.Schedule, better: Said, clearer: Said
    ) -> None:
        """One after the other where more builds plan than the machine bears; the plan that was there at once stands till then."""
        while not has_turn and not self._turns.acquire(timeout=0.2):
            if not job.working:
                self._end(job)
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
                self._listen(job, asked, start, better, clearer)
        except Exception:
            LOG.exception("improving a plan broke down; the plan before it stands")
        finally:
            self._end(job)
            self._turns.release()

    def _listen(self, job: Job, asked: p.Problem, shown: p.Schedule, better: Said, clearer: Said) -> None:
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
                self._better(job, better(found, out))
            elif told is out:
                self._clearer(job, clearer(shown, out))
        how = job.process.ended(5)
        job.broke = job.working and how != 0
        if job.broke:
            LOG.warning("improving a plan ended before its time; the plan before it stands")

    def _better(self, job: Job, what: Offer) -> None:
        job.best = _offered(what)
        with self.database.write() as connection:
            if not offers.better(connection, job.build, job.id, job.best.id, _body(what)):
                job.working = False

    def _clearer(self, job: Job, what: Offer) -> None:
        job.best = replace(job.best, offer=what)
        with self.database.write() as connection:
            offers.say_anew(connection, job.build, job.best.id, _body(what))

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


def _ms() -> int:
    """The machine's clock: how long a process has been silent is no matter of the garage's."""
    return time.time_ns() // 1_000_000


def _offered(what: Offer) -> Offered:
    return Offered(f"offer-{secrets.token_hex(8)}", what)


def _body(what: Offer) -> str:
    return json.dumps(asdict(what), separators=(",", ":"))


def _read(body: str) -> Offer:
    said = json.loads(body)
    return Offer(
        data=said["data"],
        differences=[Difference(**one) for one in said["differences"]],
        stays=said["stays"],
        shifted=said["shifted"],
        reasons=[WhyNot(**one) for one in said["reasons"]],
    )
