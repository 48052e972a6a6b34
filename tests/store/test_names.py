"""What people are called where the crew says it short. That no two are called alike: `tests/api/test_identity.py`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from yokemate.handle.names import short

CASES = json.loads((Path(__file__).parents[1] / "cases" / "short_names.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["why"])
def test_each_is_said_as_short_as_the_crew_can_tell_them_apart(case) -> None:
    """R27: "Bram is under the car" must mean one person; the phone says it by the same cases."""
    assert short(case["names"]) == case["short"]
