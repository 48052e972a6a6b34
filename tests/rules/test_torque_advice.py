"""Advice on lubrication and class: figures from the fastener formulas (T = K d F; ISO 898-1 proof stress), rows Z1 to Z6
and K12, K13 of the project's torque tables, computed there from the formula and the K tables of fastener makers."""

from __future__ import annotations

from typing import Any

import pytest

from rules import world as w
from yokemate.planfile.model import Step
from yokemate.rules.thread_words import condition_of, thread_of
from yokemate.rules.torque_advice import judged, same_preload


def spec(
    torque: str, lubrication: str, *, thread: str = "M10x1.5", property_class: str = "8.8", unit: str = "n_m"
) -> Any:
    target = {"torque": torque, "unit": unit}
    return w.spec("J", thread=thread, property_class=property_class, lubrication=lubrication, target=target)


@pytest.mark.parametrize(
    ("words", "condition"),
    [
        ("dry zinc", "zinc_dry"),
        ("hot-dip galvanised, dry", "galvanised_dry"),
        ("dry, clean", "dry"),
        ("oiled, new washer", "oiled"),
        ("anti-seize", "anti_seize"),
        ("brake fluid only", None),
        ("oiled (thread locker counts as oil)", "oiled"),
        # what is forbidden is not on the thread
        ("dry, do not oil", "dry"),
        ("Dry. Don't use any grease", "dry"),
        ("dry, free of oil and grease", "dry"),
        ("dry (no grease)", "dry"),
        ("dry: no oil, grease or wax", "dry"),
        ("dry: no oil, grease", "dry"),
        ("dry, never anti-seize", "dry"),
        ("dry zinc, without locker", "zinc_dry"),
        ("clean, oil-free", "dry"),
        ("clean, oil and grease free", "dry"),
        ("dry, degreased", "dry"),
        ("unoiled, dry", "dry"),
        ("not dry: oil the threads", "oiled"),
        ("no grease, oil only", "oiled"),
        ("free of swarf, then oiled", "oiled"),
        ("stainless, anti-seize", "anti_seize"),
        # with nothing else said, or with both, it is not plain
        ("oil-free", None),
        ("do not oil", None),
        ("dry or oiled", None),
        ("oiled threads, dry head", None),
        ("in tinfoil", None),
    ],
)
def test_the_manuals_words_are_understood_or_left_alone(words: str, condition: str | None) -> None:
    """What is not about dry or lubricated threads is not guessed."""
    assert condition_of(words) == condition


@pytest.mark.parametrize(
    ("torque", "thread", "property_class", "percent"),
    [
        ("37", "M10x1.5", "8.8", 74.6),
        ("37", "M10x1.5", "10.9", 52.1),
        ("100", "M14x2", "8.8", 72.6),
        ("74", "M12x1.75", "8.8", 85.5),
    ],
)
def test_share_of_proof_load_dry(torque: str, thread: str, property_class: str, percent: float) -> None:
    """Z1, Z2, Z3, Z5: lbf·ft figures at K 0.20, to one point of a percent."""
    found = judged(spec(torque, "dry", thread=thread, property_class=property_class, unit="lbf_ft"))
    assert found is not None
    assert found.percent == pytest.approx(percent, abs=1)


def test_anti_seize_on_a_figure_given_dry() -> None:
    """K12, K13: dry K 0.20 to anti-seize K 0.12: torque × 0.60 for the same preload; the same torque makes 1.67 times it."""
    assert same_preload(spec("50", "dry"), "anti_seize") == ("30", "1.67")
    assert same_preload(spec("50", "dry"), "clean_dry") is None
    for finish in ("dry zinc", "hot-dip galvanised", "stainless, dry"):  # clean and dry is what those are
        assert same_preload(spec("50", finish), "clean_dry") is None
    assert same_preload(spec("16", "brake fluid only"), "anti_seize") is None


def test_the_nut_factor_that_the_source_states_is_the_one_to_leave() -> None:
    """K12: T_new = T_old·K_new/K_old. Oiled with a stated K 0.12, found dry (0.20): 80·0.20/0.12 = 133.3, preload 0.60."""
    stated = spec("80", "oiled").model_copy(update={"nut_factor": "0.12"})
    assert same_preload(stated, "clean_dry") == ("133", "0.60")
    assert same_preload(stated, "oiled") is None  # found as it was meant
    assert same_preload(stated.model_copy(update={"nut_factor": "9"}), "clean_dry") is None  # no K at all


def test_a_castle_nut_is_advised_on_over_its_whole_range() -> None:
    """58 to 110 N·m on M12x1.25 8.8: As 92.07, proof 53.4 kN; 110/(0.2·12) = 45.8 kN, 86 %. Oiled 0.75 of each end."""
    castle = spec("58", "dry", thread="M12x1.25")
    target = castle.target.model_copy(update={"kind": "castle", "torque_max": "110"})
    castle = castle.model_copy(update={"target": target})
    found = judged(castle)
    assert found is not None
    assert found.percent == pytest.approx(86, abs=1)
    assert same_preload(castle, "oiled") == ("44 to 83", "1.33")


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("M12 x 1.25", "M12x1.25"),
        ("M12 × 1,25 stud", "M12×1,25"),
        ("M10x1 tube nut", "M10x1"),
        ("M12", "M12"),
        ("M12, left hand", "M12"),
        ("M10 x 60", "M10"),
        ("M10x1.25x60", "M10x1.25"),
        ("M10 x 1.25 x 60 bolt", "M10x1.25"),
        ("7/16-20 UNF", "7/16-20"),
        # not understood: said whole, so that it is not judged as the coarse one
        ("M12 fine", "M12 fine"),
        ("M12 1.25", "M12 1.25"),
        ("M12-1.25", "M12-1.25"),
        ("M12 x 1.255", "M12 x 1.255"),
        ("worm clamp 8 mm band", "worm"),
    ],
)
def test_a_thread_by_its_name_alone(words: str, name: str) -> None:
    assert thread_of(words) == name


def test_a_fine_thread_with_blanks_is_judged_as_fine() -> None:
    """M12x1.25: As 92.07, proof 53.4 kN at 8.8: 110 N·m dry makes 45.8 kN, 86 %; the coarse M12 (48.9 kN) would say 94."""
    found = judged(spec("110", "dry", thread="M12 x 1.25"))
    assert found is not None
    assert found.percent == pytest.approx(86, abs=1)


def test_threads_given_dry_get_no_more_torque_for_being_found_dry() -> None:
    """ "Dry, do not oil" read as oiled would offer 0.20/0.15, a third more torque on a thread that is just as meant."""
    assert same_preload(spec("50", "dry, do not oil"), "clean_dry") is None
    assert same_preload(spec("50", "dry, do not oil"), "oiled") == ("38", "1.33")


def test_the_torque_screen_says_it_for_the_threads_found(new_world: Any) -> None:
    """Nothing is converted: the advice stands beside the target, which stays."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    specs = [spec("50", "dry").model_copy(update={"id": "J02"})]
    world = new_world(
        w.plan(w.task("T1", tighten), specs=specs, groups=[w.group(critical=True)], tools=[w.wrench()])
    )
    view = world.view("bram", "torque", group="G1")
    assert [one.threads for one in view.advice] == [None, "oiled", "locker", "anti_seize"]
    assert "about 30 N·m" in view.advice[-1].says
    assert view.passes[-1].torque.target == "50"
