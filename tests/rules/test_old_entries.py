"""Entries that were recorded once still apply, to the same end (R1, R2): what people have in their ledgers lasts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import yokemate.rules.all  # noqa: F401  (fills the registries)
from rules.every_kind import SAMPLES, EveryKind, digest_of, entries_of, kept
from yokemate.rules.frame import _APPLIES, _UPCASTS, ENTRY_VERSIONS, replay

FILES = sorted(SAMPLES.glob("*.json"))
LATER = (
    "withdrawal",
)  # kinds of row that are made of old entries too since, and that older samples do not list


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_r2_old_entries_still_lead_to_the_same_end(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert path.stem.endswith(digest_of(text)), "a sample is never changed; record a new one beside it"
    sample = json.loads(text)
    end = kept(replay(iter(entries_of(sample))))
    later = {kind: rows for kind, rows in end.items() if kind in LATER}
    assert end == later | sample["leads_to"]


def test_r1_every_kind_of_entry_in_every_version_has_a_sample() -> None:
    sampled = {
        (entry.kind, entry.version)
        for path in FILES
        for entry in entries_of(json.loads(path.read_text(encoding="utf-8")))
    }
    wanted = {(kind, version) for kind in _APPLIES for version in range(1, ENTRY_VERSIONS[kind] + 1)}
    assert wanted - sampled == set(), "play it in rules/every_kind.py and record that"
    assert sampled - wanted == set(), "a kind that people have in their ledgers is no longer applied"


def test_r2_every_older_version_has_its_upcast() -> None:
    lacking = {
        (kind, version)
        for kind, newest in ENTRY_VERSIONS.items()
        for version in range(1, newest)
        if (kind, version) not in _UPCASTS
    }
    assert lacking == set()


def test_r2_the_day_that_is_recorded_tells_every_kind_and_replays() -> None:
    """What the recorder plays is good: else the next sample would lack something unnoticed."""
    day = EveryKind()
    day.check_ledger()
    assert {entry.kind for entry in day.entries} == set(_APPLIES)
