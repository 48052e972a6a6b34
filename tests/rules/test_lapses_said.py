"""A countersign that lapsed says who crossed it out, when, and why, whatever the group has come to (R14)."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest

from rules.torque_shop import NOON, Shop
from yokemate.rules.why_lapsed import WHY_LAPSED, LapsedWhy, lapsed_says

SAMPLES = Path(__file__).parent / "samples"


def read_again(shop: Shop) -> None:
    shop.read(2)


def corrected(shop: Shop) -> None:
    shop.do("aled", "torque.correct", reading=shop.bolt(2).passes["2"], value="24,5")


def undone(shop: Shop) -> None:
    shop.do("aled", "torque.report_loosened", group="G1", bolts=[1])


def moved(shop: Shop) -> None:
    shop.look("sofia", moved=(1,))


def sent_back(shop: Shop) -> None:
    shop.do("sofia", "torque.send_back", group="G1", bolts=[1], reason="other")


def dropped(shop: Shop) -> None:
    shop.do("aled", "wrench.dropped", wrench="W1", at=NOON)


@pytest.mark.parametrize(
    ("act", "by", "says"),
    [
        (read_again, "aled", "A bolt was read again after it."),
        (corrected, "aled", "A reading was typed wrong and put right after it."),
        (undone, "aled", "It was undone after it."),
        (moved, "sofia", "A bolt moved when it was checked again."),
        (sent_back, "sofia", "It was sent back after it."),
        (dropped, "aled", "Its torque wrench had been dropped before it was read."),
    ],
)
def test_r14_the_view_says_who_crossed_it_out_when_and_why(
    act: Callable[[Shop], None], by: str, says: str
) -> None:
    shop = Shop()
    sign = shop.countersigned()
    assert shop.view("torque", group="G1").last_lapse is None
    act(shop)
    said = shop.view("torque", group="G1").last_lapse
    assert (said.signed_by, said.signed_ms) == ("sofia", sign.at_ms)
    assert (said.by, said.at_ms, said.says) == (by, shop.now_ms, says)


def test_r14_a_new_countersign_ends_it() -> None:
    shop = Shop()
    shop.countersigned()
    read_again(shop)
    shop.sign(shop.look())
    assert shop.view("torque", group="G1").last_lapse is None


def test_r14_a_check_crossed_out_before_its_pin_is_said_until_its_owner_looks_again() -> None:
    shop = Shop()
    shop.make_final()
    check = shop.look("sofia")
    assert shop.view("torque", group="G1").lapsed_checks == []
    read_again(shop)
    (said,) = shop.view("torque", group="G1").lapsed_checks
    assert (said.by, said.at_ms, said.says) == ("sofia", check.at_ms, "A bolt was read again after it.")
    shop.look("ines")
    assert [one.by for one in shop.view("torque", group="G1").lapsed_checks] == ["sofia"]
    shop.look("sofia")
    assert shop.view("torque", group="G1").lapsed_checks == []


def test_r14_every_reason_has_words_and_an_unknown_one_too() -> None:
    """All that the service writes (mypy holds the callers to the list), and all that old builds hold."""
    assert set(WHY_LAPSED) == set(get_args(LapsedWhy))
    old = {
        entry["data"]["why"]
        for sample in SAMPLES.glob("*.json")
        for entry in _entries(json.loads(sample.read_text()))
        if entry["kind"] in ("countersign.lapsed", "check.lapsed")
    }
    assert old and old <= set(WHY_LAPSED)
    assert lapsed_says("never_heard_of") == "Something it rested on changed after it."


def _entries(sample: object) -> list[dict]:
    if isinstance(sample, dict) and "kind" in sample and "data" in sample:
        return [sample]
    inner = sample.values() if isinstance(sample, dict) else sample if isinstance(sample, list) else []
    return [entry for one in inner for entry in _entries(one)]
