"""What one's own unsent work makes ready (R5): prepared by the service, crossed off on the phone, by cases both run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from rules import world as w
from yokemate.planfile.model import Step
from yokemate.rules.availability import availability
from yokemate.rules.rows import Task

CASES = json.loads(
    (Path(__file__).parents[1] / "cases" / "ready_once_handed_over.json").read_text(encoding="utf-8")
)


def planned(case: dict[str, Any]) -> Any:
    tighten = Step(id="s1", say="Tighten", kind="tighten", group="G1")
    tasks = []
    for id, said in case["tasks"].items():
        more = {key: value for key, value in said.items() if key != "after"}
        steps = [tighten] if case.get("critical") and id == "T1" else []
        after = [w.After.model_validate(one) for one in said.get("after", [])]
        tasks.append(w.task(id, *steps, after=list(after), **more))
    more = {"gates": [w.gate(guards=[case["gate"]])]} if "gate" in case else {}
    if case.get("critical"):
        more = {
            "specs": [w.spec(passes_percent=[100])],
            "groups": [w.group(count=2, critical=True)],
            "tools": [w.wrench("W1")],
        }
    return w.plan(*tasks, **more)


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["why"])
def test_r5_the_waits_say_what_lifts_them_and_it_does(new_world, case: dict[str, Any]) -> None:
    """The prepared waits are the ones the phone crosses off; handed over, the same work makes the task ready or not."""
    world = new_world(planned(case))
    for person, kind, body in case["did"]:
        world.do(person, kind, **body)
    waits = world.view("bram", "task", task="T2").waits
    prepared = [
        {
            "code": wait.code,
            "about": wait.params["about"],
            "lifted_by": wait.lifted_by and wait.lifted_by.model_dump(),
        }
        for wait in waits
    ]
    assert prepared == case["waits"]
    for kind, body in case["unsent"]:
        world.do("bram", kind, **body)
    assert availability(world.state, world.get(Task, "T2"), world.now_ms).ready is case["ready"]
