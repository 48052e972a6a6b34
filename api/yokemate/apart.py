"""Planning in processes of their own, so that phones are answered meanwhile: bounded memory and time, and never many at once.

Such a process begins with this file and the room `planning` alone. What the service itself imports would take it ten times
as long, so it is no copy of the service, and hears and tells over pipes.
"""

from __future__ import annotations

import contextlib
import logging
import os
import pickle
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

from yokemate.planning import problem as p
from yokemate.planning.find_out import find_out
from yokemate.planning.improve import improve
from yokemate.planning.windows import window_at, windows_for

LOG = logging.getLogger("yokemate")
Tell = Callable[[Any], None]
_WAIT_S = 4.0  # so long somebody waits for a time, at most


# -- what is done there


def better_plan(asked: p.Problem, start: p.Schedule, seconds: float, memory_mb: int, *, tell: Tell) -> None:
    """Find out why work is left over, for half of the time at most, then improve the plan; tell of each reason and each
    better plan."""
    begun = time.monotonic()
    found = find_out(asked, start, lambda: time.monotonic() > begun + seconds / 2, tell)
    if found.reasons:
        tell(found)
    left = max(0.5, begun + seconds - time.monotonic())
    limits = p.Limits(seconds=left, workers=2, memory_mb=memory_mb // 2)
    solved = improve(
        asked, found.better or start, time.monotonic, limits, on_better=lambda better: tell(better.schedule)
    )
    tell(solved.schedule)


def times(asked: p.Problem, task: str, *, tell: Tell) -> None:
    """The best times for a task: a second's work, or what of it was done in `_WAIT_S` where the machine is busy."""
    begun = time.monotonic()

    def clock() -> float:
        return max(time.process_time(), (time.monotonic() - begun) / _WAIT_S)

    tell(windows_for(asked, task, clock))


def time_at(asked: p.Problem, task: str, start: int, *, tell: Tell) -> None:
    """One of them once more, or None."""
    tell(window_at(asked, task, start))


# -- the process


class Process:
    """Calls `work(*args, tell=...)` in a process of its own, which is ended after `seconds` whatever it does."""

    def __init__(self, work: Callable[..., None], *args: Any, memory_mb: int, seconds: float) -> None:
        self._job = pickle.dumps((memory_mb, work, args))
        there = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        self._popen = subprocess.Popen(
            [sys.executable, "-m", "yokemate.apart"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=there,
            start_new_session=True,  # Ctrl-C is the service's; it ends this process itself
        )  # fmt: skip
        self._end = threading.Timer(seconds, self.stop)
        self._end.daemon = True
        self._end.start()

    def told(self) -> Iterator[Any]:
        """What it tells, as it comes, until it has ended. To be asked once."""
        assert self._popen.stdin is not None
        assert self._popen.stdout is not None
        try:
            with contextlib.suppress(BrokenPipeError):
                self._popen.stdin.write(self._job)
                self._popen.stdin.flush()
            with contextlib.suppress(
                EOFError, pickle.UnpicklingError
            ):  # ended, perhaps in the middle of a word
                while True:
                    yield pickle.load(self._popen.stdout)
            self.ended(5)
        finally:
            self.stop()
            self._popen.stdout.close()
            with contextlib.suppress(BrokenPipeError):
                self._popen.stdin.close()

    def stop(self) -> None:
        self._end.cancel()
        if self.alive:
            self._popen.kill()
            self.ended(5)

    @property
    def alive(self) -> bool:
        return self._popen.poll() is None

    def ended(self, seconds: float) -> int | None:
        """How it ended, waited for so long: 0 by itself; None: it has not."""
        try:
            return self._popen.wait(seconds)
        except subprocess.TimeoutExpired:
            return None


def memory_bounded(megabytes: int) -> bool:
    """Bound what this process may allocate from now on; False where the platform has no such limit (Windows)."""
    try:
        import resource
    except ImportError:
        return False
    resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20, megabytes * 2**20))
    return True


def main() -> None:
    """Hears one job, and tells what comes of it. Running out of memory ends it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # nothing that is printed gets between
    memory_mb, work, args = pickle.load(sys.stdin.buffer)
    if not memory_bounded(memory_mb):
        LOG.warning("this system bounds no process's memory: planning may use more than %s MB", memory_mb)

    def tell(what: Any) -> None:
        pickle.dump(what, out)
        out.flush()

    with contextlib.suppress(BrokenPipeError):  # whoever asked is gone
        work(*args, tell=tell)


if __name__ == "__main__":
    main()
