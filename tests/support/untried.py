"""What a machine cannot try: told at the end of the run, and a failure where CI is set."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import NoReturn

import pytest

Tell = Callable[[str], None]


def unavailable(tell: Tell, reason: str) -> NoReturn:
    """What cannot be had fails the run where CI is set, and is skipped loudly elsewhere."""
    tell(f"NOT TESTED {reason}")
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)
