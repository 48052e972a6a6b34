"""Options: work whose condition doesn't hold is out, and its place in the order is bridged (R5)."""

from yokemate.planfile.model import After, GatePlan, Lag, Plan, Standing, TaskPlan
from yokemate.planfile.options import plan_for

HEATER = {
    "id": "heater", "say": "Heater", "default": "yes",
    "choices": [{"id": "yes", "say": "With"}, {"id": "no", "say": "Without"}],
}  # fmt: skip


def task(name: str, *after: After, **fields: object) -> TaskPlan:
    whole = {
        "id": name, "title": name, "stage": "S", "zone": "Z", "minutes": (1, 2, 3),
        "steps": [{"id": "s1", "say": "Do it"}], "after": list(after), **fields,
    }  # fmt: skip
    return TaskPlan.model_validate(whole)


def plan(*tasks: TaskPlan, gates: tuple[GatePlan, ...] = ()) -> Plan:
    return Plan.model_validate(
        {
            "name": "P", "manual": {"title": "M", "revision": "A"}, "options": [HEATER],
            "stages": [{"id": "S", "name": "S"}], "zones": [{"id": "Z", "name": "Z"}],
            "gates": list(gates), "tasks": list(tasks),
        }
    )  # fmt: skip


ONLY = {"heater": "yes"}


def test_the_default_counts_where_nothing_is_chosen() -> None:
    """An option that nobody chose has its default."""
    whole = plan(task("A"), task("B", After(task="A"), when={"heater": "no"}))
    assert [t.id for t in plan_for(whole, {}).tasks] == ["A"]
    assert [t.id for t in plan_for(whole, {"heater": "no"}).tasks] == ["A", "B"]


def test_a_follower_waits_for_what_its_lost_predecessor_waited_for() -> None:
    """R5: A, B, C, D with B and C out: D waits for A, once, with the lag."""
    whole = plan(
        task("A"),
        task("B", After(task="A", lag=Lag(hours="24", why="cure")), when=ONLY),
        task("C", After(task="A"), After(task="B"), when=ONLY),
        task("D", After(task="C")),
    )
    left = plan_for(whole, {"heater": "no"})
    assert [t.id for t in left.tasks] == ["A", "D"]
    assert left.tasks[1].after == [After(task="A", lag=Lag(hours="24", why="cure"))]
    assert plan_for(whole, {"heater": "yes"}) == whole


def test_a_gate_forgets_work_that_is_out() -> None:
    """A condition that nobody can meet, and a guard of nothing, would hold a gate shut for ever."""
    gate = GatePlan(
        id="G", name="G", guards=["B", "A"], standing=[Standing(task_closed="B"), Standing(task_closed="A")]
    )
    left = plan_for(plan(task("A"), task("B", when=ONLY), gates=(gate,)), {"heater": "no"})
    assert left.gates[0].guards == ["A"]
    assert left.gates[0].standing == [Standing(task_closed="A")]
