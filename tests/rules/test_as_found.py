"""Faces and threads as found: somebody looks on the first pass of a critical group, and says so (R11, R26)."""

from __future__ import annotations

import pytest

from rules.torque_shop import FOUND, Shop, group_row
from yokemate.rules.rows import Snag

NOT_SAID = {"faces": None, "threads": None}


def test_as_found_is_asked_anew_in_each_round() -> None:
    """R26: after an undo somebody looks again; a reading from before it, handed over late, looked at nothing new."""
    shop = Shop()
    begun = shop.now_ms
    assert shop.view("torque", group="G1").as_found_wanted
    shop.read(1, 2, 3, pass_no=1)
    view = shop.view("torque", group="G1")
    assert (view.round, view.as_found_wanted) == (0, False)
    shop.do("aled", "torque.report_loosened", group="G1", bolts=[1, 2, 3])
    shop.read(1, pass_no=1, at=begun + 1)
    view = shop.view("torque", group="G1")
    assert (view.round, view.as_found_wanted) == (1, True)
    (reading,) = shop.read(1, pass_no=1, **NOT_SAID)
    assert reading.why_not == "as_found_missing"
    shop.read(1, pass_no=1)
    assert not shop.view("torque", group="G1").as_found_wanted


@pytest.mark.parametrize("said", [NOT_SAID, FOUND | {"faces": None}, FOUND | {"threads": None}])
def test_r11_a_first_pass_does_not_count_while_nobody_said_what_was_found(said) -> None:
    """R11: kept, with what to do about it; a gap is as little guessed as a torque."""
    shop = Shop()
    (reading,) = shop.read(1, pass_no=1, **said)
    assert (reading.counts, reading.why_not) == (False, "as_found_missing")
    assert shop.bolt(1).passes == {}
    (told,) = [one.why for one in shop.view("torque", group="G1").readings]
    assert "faces and threads" in told.says and "look" in told.way_on


def test_r11_said_once_it_holds_for_all_bolts_and_all_who_turn_them() -> None:
    """One look at the joint: Bram, whose phone was told so, is not asked again. A group that is not critical never asks."""
    shop = Shop(group_row("G2", critical=False))
    shop.read(1, 2, pass_no=1)
    (reading,) = shop.read(3, who="bram", pass_no=1, **NOT_SAID)
    assert reading.counts
    (reading,) = shop.read(1, group="G2", pass_no=1, **NOT_SAID)
    assert reading.counts
    assert not shop.view("torque", group="G2").as_found_wanted


def test_old_builds_go_on_from_a_first_pass_that_counted_without() -> None:
    """Nobody can see faces any more that are clamped: not asked in the next pass, nor when a figure is typed anew (R17)."""
    shop = Shop(group_row("G2", critical=False))
    old = shop.read(1, 2, 3, group="G2", pass_no=1, **NOT_SAID)
    for state in (shop.state, shop.first):
        row = state.rows["group"]["G2"]
        plan = row.plan.model_copy(update={"critical": True})
        state.rows["group"]["G2"] = row.model_copy(update={"plan": plan})
    assert not shop.view("torque", group="G2").as_found_wanted
    (final,) = shop.read(1, group="G2")
    assert final.counts
    shop.do("aled", "torque.correct", reading=old[1].id, value="12,5")
    assert shop.reading(f"c{shop.count}.b2").counts


def test_r17_typing_a_figure_anew_does_not_say_what_was_found() -> None:
    """R17: the correction of a reading that did not count for want of it does not count either."""
    shop = Shop()
    (old,) = shop.read(1, pass_no=1, **NOT_SAID)
    shop.do("aled", "torque.correct", reading=old.id, value="12,5")
    assert shop.reading(f"c{shop.count}.b1").why_not == "as_found_missing"


def test_damage_found_is_a_snag_so_that_the_lead_is_told() -> None:
    """A report is kept as it is (R11); what was found damaged stands among the snags, once."""
    shop = Shop()
    damaged = {"faces": "damaged", "threads": "damaged"}
    for bolts in ((1,), (2, 3)):
        assert all(reading.counts for reading in shop.read(*bolts, pass_no=1, **damaged))
    said = [(snag.what, snag.group, snag.task) for snag in shop.state.all(Snag)]
    assert said == [(f"Group G1: {what} found damaged", "G1", "T1") for what in ("faces", "threads")]


def test_clean_faces_and_threads_are_no_snag() -> None:
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    assert list(shop.state.all(Snag)) == []
