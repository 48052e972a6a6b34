"""The schema beside the model."""

from importlib.resources import files

import jsonschema

from yokemate.planfile.model import FORMAT
from yokemate.planfile.schema import plan_schema, schema_text

SMALLEST = {
    "format": FORMAT,
    "name": "Smallest",
    "manual": {"title": "Manual", "revision": "A"},
    "stages": [{"id": "S1", "name": "One"}],
    "zones": [{"id": "bay", "name": "Bay"}],
    "tasks": [
        {
            "id": "T1", "title": "Look", "stage": "S1", "zone": "bay", "minutes": [1, 2, 3],
            "steps": [{"id": "s1", "say": "Look at it"}],
        }
    ],
}  # fmt: skip


def test_the_file_is_what_the_model_says() -> None:
    """Whoever changes the model writes the schema again."""
    kept = files("yokemate.planfile").joinpath("plan.schema.json").read_text(encoding="utf-8")
    assert kept == schema_text()


def test_it_is_a_schema_of_its_dialect_and_takes_a_plan() -> None:
    """Draft 2020-12's own meta-schema accepts it, and it accepts the smallest plan."""
    jsonschema.Draft202012Validator.check_schema(plan_schema())
    jsonschema.validate(SMALLEST, plan_schema(), jsonschema.Draft202012Validator)


def test_it_refuses_an_unknown_field() -> None:
    """A misspelt field is found while writing."""
    problems = list(jsonschema.Draft202012Validator(plan_schema()).iter_errors(SMALLEST | {"taks": []}))
    assert [p.validator for p in problems] == ["additionalProperties"]
