"""What the workers of one run, or two runs on one machine, must not do at once: install, fetch, build."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows: one worker after the other is not needed for what runs there
    fcntl = None  # type: ignore[assignment]


@contextmanager
def one_at_a_time(what: str) -> Iterator[None]:
    """Wait until nobody else does `what`, then hold it while the block runs."""
    with (Path(tempfile.gettempdir()) / f"yokemate-{what}.lock").open("w") as held:
        if fcntl is not None:
            fcntl.flock(held, fcntl.LOCK_EX)
        yield
