"""The README holds two commands; what runs on a clean machine is the second of them, to the letter."""

from __future__ import annotations

import os
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_the_run_on_a_clean_machine_is_the_readme_command() -> None:
    """.ci/run ends with the README's test command, so that the one line a newcomer types is always proved."""
    readme = [line.strip() for line in (ROOT / "README.md").read_text().splitlines()]
    [command] = [line for line in readme if line.startswith("python3 -m venv") and line.endswith("-m pytest")]
    script = ROOT / ".ci" / "run"

    assert script.read_text().splitlines()[-1] == command
    assert os.access(script, os.X_OK)
