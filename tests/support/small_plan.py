"""A plan small enough to read: two tasks that stand alone, one that waits for the first."""

from __future__ import annotations

from yokemate.planfile.model import After, Manual, Plan, Stage, Step, TaskPlan, Zone

from .service import BUILD, Service


def task(id: str, *after: str) -> TaskPlan:
    return TaskPlan(
        id=id,
        title=f"Task {id}",
        stage="S1",
        zone="bay",
        minutes=(5, 10, 20),
        steps=[Step(id="a", say="Lay it out."), Step(id="b", say="Fit it.")],
        after=[After(task=one) for one in after],
    )


SMALL = Plan(
    name="Small plan",
    manual=Manual(title="Assembly manual", revision="A"),
    stages=[Stage(id="S1", name="First")],
    zones=[Zone(id="bay", name="Frame bay")],
    tasks=[task("T1"), task("T2"), task("T3", "T1")],
)


def load_small_plan(service: Service, lead: str = "ines", build: str = BUILD) -> None:
    loaded = service.handler.states.current(build)
    assert loaded is not None
    answer = service.do(
        lead,
        "plan.load",
        build=build,
        seen=loaded.head.number,
        plan=SMALL.model_dump(mode="json"),
        options={},
    )
    assert answer.status == "accepted", answer
