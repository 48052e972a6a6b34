"""The checks a person runs before committing run in the suite too, so that nobody has to remember them."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HERE = Path(sys.executable).parent


@pytest.mark.parametrize(
    "command",
    [
        pytest.param([HERE / "ruff", "check", "."], id="lint"),
        pytest.param([HERE / "mypy"], id="types"),
        pytest.param([HERE / "lint-imports", "--no-cache"], id="borders between rooms"),
    ],
)
def test_check_passes(command: list[str | Path]) -> None:
    """Lint, types and the borders between rooms hold."""
    done = subprocess.run(
        command, cwd=ROOT, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=240, check=False
    )

    assert done.returncode == 0, done.stdout + done.stderr
