"""The demo build as first outlined: its flaws, planted and accidental, are found, and nothing else is (R24)."""

from pathlib import Path

import pytest

from yokemate.planfile.check import check
from yokemate.planfile.findings import Finding
from yokemate.planfile.read import read

OUTLINE = "tests/planfile/fixtures/outline-flawed.plan.yaml"
MENDED = "demo_fixtures/quillback-two.plan.yaml"

# Read off the outline by hand: what each is, and why it is a flaw.
ERRORS = {
    (
        "critical_without_countersign",
        "bolt group T503-J04, countersign",
    ),  # bellhousing: critical, nobody signs
    ("critical_without_countersign", "bolt group T801-J02, countersign"),  # tank straps
    ("critical_without_countersign", "bolt group T802-J24, countersign"),  # filler clamps
    ("critical_without_countersign", "bolt group T1004-J02, countersign"),  # main cables
    ("zone_too_small", "task T206, zone"),  # four guides and a caller in a bay for four
    ("zone_too_small", "task T503, zone"),  # three guides and a caller at a bench for three
    ("put_back_at_once", "task T707, step 1, opens"),  # O12: backed off and adjusted in one breath
    *{
        ("fraction_not_inches", f"cut list C07, piece {n}, length") for n in range(1, 6)
    },  # planted: inches in a mm list
}
DOUBTS = {
    *{("guards_nothing", f"gate G{n}") for n in range(1, 6)},  # the outline's gates hold nobody up
    ("opened_twice", "loose end O04"),  # the loom is unplugged in T204 and once more on the bench
    ("loose_past_gate", "task T604, step 2"),  # hub nuts only run in when the frame rolls (G1)
}


def found(root: Path, file: str) -> list[Finding]:
    reading = read(root.joinpath(file).read_text(encoding="utf-8"))
    assert reading.plan is not None, [one.text() for one in reading.findings]
    return reading.located(check(reading.plan, {}))


@pytest.fixture
def outline(pytestconfig: pytest.Config) -> list[Finding]:
    return found(pytestconfig.rootpath, OUTLINE)


def test_exactly_the_flaws_of_the_outline_are_found(outline: list[Finding]) -> None:
    """R24: each flaw once, by its place in plan words, and no finding beside them."""
    errors = sorted((one.code, one.field) for one in outline if one.level == "error")
    doubts = sorted((one.code, one.field) for one in outline if one.level == "doubt")
    assert errors == sorted(ERRORS)
    assert doubts == sorted(DOUBTS)


def test_each_flaw_points_into_its_own_entry(outline: list[Finding], pytestconfig: pytest.Config) -> None:
    """R32: in the line that is named, or above it in the same entry, the id of the entry stands."""
    lines = pytestconfig.rootpath.joinpath(OUTLINE).read_text(encoding="utf-8").splitlines()
    for one in outline:
        assert one.line is not None
        name = one.field.split(",")[0].rsplit(" ", 1)[1]
        start = max(n for n in range(one.line) if lines[n].startswith("- "))
        assert name in lines[start], one.text()


def test_the_mended_plan_has_nothing_left_to_doubt(pytestconfig: pytest.Config) -> None:
    """R24: what was found in the outline is put right in the demo's plan."""
    assert [one.text() for one in found(pytestconfig.rootpath, MENDED)] == []
