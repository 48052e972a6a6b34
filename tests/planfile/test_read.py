"""Reading a plan file: every problem says line, field, what is wrong and the remedy (R32)."""

from pathlib import Path

import pytest

from yokemate.planfile.read import read

HEAD = """format: yokemate-plan/1
name: Small
manual: {title: Manual, revision: A}
stages: [{id: S1, name: One}]
zones: [{id: bay, name: Bay}]
tasks:
- id: T1
  title: Look
  stage: S1
  zone: bay
  minutes: [1, 2, 3]
  steps:
  - {id: s1, say: Look at it}
"""


def said(text: str) -> list[str]:
    reading = read(text)
    assert reading.plan is None, "a plan with an error was handed back"
    return [found.text() for found in reading.findings]


def test_a_plan_reads() -> None:
    """A plan without faults comes back whole, with no finding."""
    reading = read(HEAD)
    assert reading.findings == []
    assert reading.plan is not None
    assert reading.plan.tasks[0].steps[0].say == "Look at it"


def test_numbers_stay_as_written() -> None:
    """R16: 44.0 is not turned into 44, nor into a float."""
    spec = (
        "specs:\n- {id: J1, thread: M8, lubrication: dry, target: {torque: 44.0, unit: n_m}, source: table}\n"
    )
    reading = read(HEAD.replace("tasks:", spec + "tasks:"))
    assert reading.plan is not None
    assert reading.plan.specs[0].target.torque == "44.0"


def test_a_missing_field_is_named_with_its_line() -> None:
    """R32: the line of the task, the field, and what to write."""
    assert said(HEAD.replace("  zone: bay\n", "")) == [
        "Line 7, task T1, zone: this field is missing. Add `zone: ...`."
    ]


@pytest.mark.parametrize(
    ("wrong", "right", "line", "part"),
    [
        ("say: Look at it", "sya: Look at it", 13, "Nearest: say."),
        ("say: Look at it", "say: Look at it, kind: tigthen", 13, "Nearest: tighten."),
        ("id: T1", "id: 1T", 7, "Begin with a letter"),
        ("minutes: [1, 2, 3]", "minutes: [1, two, 3]", 11, "Write a whole number"),
        ("minutes: [1, 2, 3]", "minutes: 3", 11, "a list must stand here"),
        ("minutes: [1, 2, 3]", "minutes: [1, 2]", 11, "Write [quick, likely, slow]."),
        ("title: Look", "title: ''", 8, "this field is empty"),
        ("yokemate-plan/1", "yokemate-plan/9", 1, "The first line must be"),
        ("  title: Look\n", "  title: Look\n  title: Again\n", 9, "Keep one of them."),
    ],
)
def test_a_fault_of_shape_says_line_and_remedy(wrong: str, right: str, line: int, part: str) -> None:
    """R32: the line that is wrong, and the way on."""
    reading = read(HEAD.replace(wrong, right))
    assert reading.plan is None
    assert [f for f in reading.findings if f.line == line and part in f.text()], [
        f.text() for f in reading.findings
    ]


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "it is empty"),
        ("- a\n- b\n", "it is not a plan"),
        ("name: [unclosed\n", "Look at this line and the one before it."),
        (HEAD + "---\nname: b\n", "a second document begins here"),
        ("name: &n x\nmanual: *n\n", "an anchor"),
        ("name: !!python/object:os.system x\n", "a tag"),
        ("a: " + "[" * 40 + "]" * 40, "nested too deeply"),
        ("name: \x00\n", "a character that may not stand"),
        ("# " + "x" * 1_000_001, "larger than 1 MB"),
    ],
)
def test_what_is_no_plain_yaml_is_refused(text: str, part: str) -> None:
    """No aliases, tags or second documents: nothing can grow or run when it is read."""
    found = said(text)
    assert len(found) == 1
    assert part in found[0]


def test_the_format_of_the_demo_is_read(pytestconfig: pytest.Config) -> None:
    """The file that is shown to everybody reads without a finding."""
    text = Path(pytestconfig.rootpath, "demo_fixtures/quillback-two.plan.yaml").read_text(encoding="utf-8")
    assert read(text).findings == []
