"""A small plan with planted faults: exactly these are found, each in its line, and nothing else (R24, R32)."""

from pathlib import Path

import pytest

from yokemate.planfile.check import check
from yokemate.planfile.model import Plan
from yokemate.planfile.read import read

FIXTURE = "tests/planfile/fixtures/flawed.plan.yaml"
# Told from the comments in the fixture, not from what the check says: (line, code).
PLANTED = {
    (12, "unknown_reference"),
    (16, "critical_without_countersign"),
    (31, "put_back_after_gate"),
    (31, "final_after_gate"),
    (32, "never_put_back"),
    (33, "loop"),
    (48, "step_without_measure"),
}


@pytest.fixture
def text(pytestconfig: pytest.Config) -> str:
    return Path(pytestconfig.rootpath, FIXTURE).read_text(encoding="utf-8")


def errors(text: str) -> list[tuple[int | None, str, str]]:
    reading = read(text)
    assert reading.plan is not None, [found.text() for found in reading.findings]
    found = reading.located(check(reading.plan, {}))
    return [(one.line, one.code, one.text()) for one in found if one.level == "error"]


def test_exactly_the_planted_faults_are_found(text: str) -> None:
    """R24, R32: every planted fault once, in the line where it stands."""
    found = errors(text)
    assert sorted((line or 0, code) for line, code, _ in found) == sorted(PLANTED)


def test_the_findings_say_what_to_do(text: str) -> None:
    """R32: the nearest id, the way round the loop, the gate that would stay shut."""
    said = {code: sentence for _, code, sentence in errors(text)}
    assert said["unknown_reference"] == (
        'Line 12, bolt group arms, spec: there is no spec "J90". Nearest: J09.'
    )
    assert "T3, then T2, then T3" in said["loop"]
    assert "O2 is opened and never put back" in said["never_put_back"]
    assert "gate G1" in said["put_back_after_gate"]


MENDED = [
    ("spec: J90", "spec: J09"),
    ("countersign: false", "countersign: true"),
    ("standing: [{task_closed: T1}", "standing: [{task_closed: T1}, {task_closed: T2}"),
    ("opens: [O2]}", "opens: [O2]}\n  - {id: s3, say: Strap on, kind: put_back, puts_back: [O2]}"),
    (", {task: T3}]", "]"),
    (
        "kind: measure}",
        "kind: measure, measure: {say: Height, unit: mm, low: 10, high: 20}}",
    ),
]


def test_the_mended_plan_has_no_errors(text: str) -> None:
    """The check doesn't cry wolf: with the faults mended it finds no error."""
    for wrong, right in MENDED:
        assert wrong in text
        text = text.replace(wrong, right)
    assert errors(text) == []


@pytest.mark.parametrize("left", range(len(MENDED)))
def test_each_fault_alone_is_found(text: str, left: int) -> None:
    """No fault hides behind another."""
    for number, (wrong, right) in enumerate(MENDED):
        if number != left:
            text = text.replace(wrong, right)
    assert errors(text), f"nothing found with only {MENDED[left][0]!r} left"


def mended(text: str) -> Plan:
    for wrong, right in MENDED:
        text = text.replace(wrong, right)
    plan = read(text).plan
    assert plan is not None
    return plan


def test_an_id_that_stands_twice_is_found(text: str) -> None:
    """Rows of a build refer to ids: two tasks with one id could not be told apart."""
    plan = mended(text)
    doubled = plan.model_copy(update={"tasks": [*plan.tasks, plan.tasks[2]]})
    assert "id_twice" in {f.code for f in check(doubled, {}) if f.level == "error"}


@pytest.mark.parametrize("kind", ["tighten", "run_in", "snug"])
def test_a_bolt_step_without_its_group_is_found(text: str, kind: str) -> None:
    """A tightening step says which group."""
    for wrong, right in MENDED:
        text = text.replace(wrong, right)
    text = text.replace("say: Strap on, kind: put_back", f"say: Strap on, kind: {kind}")
    assert "step_without_group" in {code for _, code, _ in errors(text)}


def test_a_critical_group_without_check_methods_is_found(text: str) -> None:
    """R13, R24: a second person must know how to look."""
    for wrong, right in MENDED:
        text = text.replace(wrong, right)
    codes = {code for _, code, _ in errors(text.replace("check_methods: [watched]", "check_methods: []"))}
    assert codes & {"no_check_method", "critical_without_check_methods"}, codes


def test_put_back_before_it_is_opened_is_found(text: str) -> None:
    """R24: made good by a *later* step."""
    for wrong, right in MENDED:
        text = text.replace(wrong, right)
    text = text.replace("kind: run_in, group: arms, opens: [O1]", "kind: run_in, group: arms").replace(
        "kind: measure, measure", "kind: measure, opens: [O1], measure"
    )
    assert "put_back_too_early" in {code for _, code, _ in errors(text)}
