"""What an older app still holds is read by this service (R3): outboxes outlive versions."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import yokemate.rules.all  # noqa: F401  (fills the registries)
from yokemate.handle.parse import command_of
from yokemate.handle.shapes import Envelope
from yokemate.rules.frame import COMMANDS

HELD = json.loads((Path(__file__).parents[1] / "cases" / "outbox.json").read_text(encoding="utf-8"))[
    "commands"
]


# Words that later versions keep apart, so that they can be withdrawn (R1).
MOVED = {"how_known": "how_known_text"}


@pytest.mark.parametrize("held", HELD, ids=lambda held: "-".join([held["kind"], *held["body"]]))
def test_r3_what_an_older_app_kept_is_a_command_still(held: dict[str, Any]) -> None:
    """Every field it gave is taken as it was given, if under another name, and none that it did not know is asked for."""
    command = command_of(Envelope(id="0190aaaa-0000-7000-8000-000000000000", **held))
    assert command.SPEC.sent == "kept"
    given = {MOVED.get(name, name): value for name, value in held["body"].items()}
    assert command.model_dump(mode="json", include=set(given), exclude_unset=True) == given


def test_r3_every_command_that_may_wait_has_a_sample() -> None:
    waits = {kind for kind, spec in COMMANDS.items() if spec.sent == "kept"} - {"evidence.keep"}
    assert waits - {held["kind"] for held in HELD} == set(), "add a line to tests/cases/outbox.json"
