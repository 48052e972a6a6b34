"""R16: exact figures only."""

from __future__ import annotations

from typing import Any

import pytest

from yokemate.rules.frame import Entry
from yokemate.store import ledger


@pytest.mark.parametrize("value", [0.1, 44.0, [1, {"deep": 2.5}], 2**53], ids=repr)
def test_a_float_never_enters_the_ledger(value: Any) -> None:
    """R1, R16: an entry with a float, or an integer that JSON cannot hold exactly, is not written at all."""
    entry = Entry(kind="torque.read", data={"value": value}, by="p", device="d", device_ms=1, at_ms=1)

    with pytest.raises((TypeError, ValueError)):
        ledger.written("build", 1, "", entry)


def test_figures_stay_as_they_were_typed() -> None:
    """R16: `44.0` is not `44`: both stand in the entry's text as they came."""
    entry = Entry(kind="x", data={"a": "44.0", "b": "44"}, by="p", device="d", device_ms=1, at_ms=1)

    assert '"a":"44.0","b":"44"' in ledger.written("build", 1, "", entry).text
