"""A plan that is written and read again is the same plan (R16: its figures as written)."""

from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from yokemate.planfile.model import Plan
from yokemate.planfile.read import read
from yokemate.planfile.schema import plan_schema
from yokemate.planfile.tree import MAX_BYTES, MAX_DEPTH
from yokemate.planfile.write import write

FILES = ["demo_fixtures/quillback-two.plan.yaml", "tests/planfile/fixtures/outline-flawed.plan.yaml"]

words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30) | st.sampled_from(
    [
        "null",
        "~",
        "yes",
        "true",
        "1.0",
        "012",
        "- a",
        "a: b",
        "#x",
        "'",
        '"',
        "\\",
        "{",
        "*a",
        "&a",
        "!t",
        "a #b",
        "\n",
        " a ",
        "\u2028",
        "\ufeff",
        "😀",
        "\x7f",
    ]
)
ids = st.from_regex(r"[A-Za-z][A-Za-z0-9_.-]{0,39}", fullmatch=True) | st.sampled_from(
    ["yes", "no", "null", "on", "y"]
)
figures = st.from_regex(r"-?[0-9]{1,9}(\.[0-9]{1,6})?", fullmatch=True)
pages = st.fixed_dictionaries({"page": words}, optional={"revision": words})
measures = st.fixed_dictionaries(
    {"say": words, "unit": st.sampled_from(["mm", "count"])}, optional={"low": figures, "high": figures}
)
steps = st.fixed_dictionaries(
    {"id": ids, "say": words},
    optional={
        "kind": st.sampled_from(["plain", "tighten", "put_back"]),
        "manual": pages,
        "measure": measures,
        "opens": st.lists(ids, max_size=3),
        "side": st.sampled_from(["left", "right"]),
        "caution": words,
    },
)
tasks = st.fixed_dictionaries(
    {
        "id": ids,
        "title": words,
        "stage": ids,
        "zone": ids,
        "minutes": st.tuples(*[st.integers(-5, 500)] * 3),
        "steps": st.lists(steps, min_size=1, max_size=3),
    },
    optional={
        "after": st.lists(
            st.fixed_dictionaries(
                {"task": ids},
                optional={
                    "touches": st.booleans(),
                    "lag": st.fixed_dictionaries({"hours": figures, "why": words}),
                },
            ),
            max_size=3,
        ),
        "when": st.dictionaries(ids, ids, max_size=2),
        "minors": st.sampled_from(["no", "watch", "with_adult"]),
        "bring": st.lists(words, max_size=3),
        "buddy": st.booleans(),
        "lead_skill": st.none() | words,
    },
)
lifts = st.fixed_dictionaries(
    {
        "id": ids,
        "title": words,
        "supports": st.just([{"id": "a", "say": "A", "kind": "lifter", "x_mm": "0", "y_mm": "0"}]),
    },
    optional={
        "outline_mm": st.lists(st.tuples(figures, figures), max_size=4),
        "words": st.lists(words, max_size=3),
        "mass_kg": st.none() | figures,
    },
)
specs = st.fixed_dictionaries(
    {
        "id": ids,
        "thread": words,
        "lubrication": words,
        "source": words,
        "target": st.fixed_dictionaries(
            {"kind": st.just("torque_angle"), "torque": figures, "unit": st.just("n_m")},
            optional={"angles_deg": st.lists(figures, max_size=6)},
        ),
    }
)
plans = st.fixed_dictionaries(
    {
        "specs": st.lists(specs, max_size=2),
        "name": words,
        "manual": st.fixed_dictionaries({"title": words, "revision": words}),
        "tasks": st.lists(tasks, max_size=3),
        "stages": st.lists(st.fixed_dictionaries({"id": ids, "name": words}), max_size=2),
        "zones": st.just([]),
        "lifts": st.lists(lifts, max_size=2),
    }
).map(Plan.model_validate)


@given(plans)
@settings(max_examples=60, deadline=None)
def test_any_plan_survives_writing_and_reading(plan: Plan) -> None:
    """Whatever the words hold (quotes, line ends, things that YAML takes for something else), they come back."""
    reading = read(write(plan))
    assert reading.findings == []
    assert reading.plan == plan


@pytest.mark.parametrize("file", FILES)
def test_whole_plans_survive_and_writing_again_changes_nothing(
    file: str, pytestconfig: pytest.Config
) -> None:
    """The demo's plan and the flawed outline, written and read; the second text is the first."""
    plan = read(pytestconfig.rootpath.joinpath(file).read_text(encoding="utf-8")).plan
    assert plan is not None
    text = write(plan)
    again = read(text)
    assert again.plan == plan
    assert write(plan) == text


@pytest.mark.parametrize("file", FILES)
def test_the_schema_takes_whole_plans_as_other_yaml_readers_see_them(
    file: str, pytestconfig: pytest.Config
) -> None:
    """An editor that reads numbers as numbers finds no fault in a plan that this reader takes."""
    data = YAML(typ="safe", pure=True).load(Path(pytestconfig.rootpath, file))
    problems = [
        f"{list(p.absolute_path)}: {p.message[:200]}"
        for p in jsonschema.Draft202012Validator(plan_schema()).iter_errors(data)
    ]
    assert problems == []


def test_too_large_a_file_is_refused_unread() -> None:
    """R32: one byte above the limit is refused with the limit named; at the limit the text is read."""
    head = "format: yokemate-plan/1\nname: X # "
    (too_large,) = read(head + "x" * (MAX_BYTES + 1 - len(head))).findings
    assert "larger than 1 MB" in too_large.says
    assert "larger" not in read(head + "x" * (MAX_BYTES - len(head))).findings[0].says


def test_nesting_is_bounded() -> None:
    """R32: deep nesting is refused with its line, however deep, and without running out of stack."""
    for depth in (MAX_DEPTH + 1, 5000):
        (found,) = read("format: yokemate-plan/1\nname: " + "[" * depth).findings
        assert "nested too deeply" in found.says
        assert found.line == 2
