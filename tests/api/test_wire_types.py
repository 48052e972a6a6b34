"""The web app's types are those of the REST document."""

from __future__ import annotations

from support.wire_types import KEPT, made


def test_committed_types_follow_from_the_document() -> None:
    """A change of a row, command or view that the web's types don't know yet fails here, with what to run."""
    assert KEPT.read_text(encoding="utf-8") == made(), "run `python -m support.wire_types` in tests/"
