"""Loading a plan and later versions of it (R5, R12, R14, R26)."""

from __future__ import annotations

from fractions import Fraction

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Step
from yokemate.rules.rows import Gate, Group, Lift, Task, TorqueWrench
from yokemate.rules.tightening import pass_window


def small(**more):
    tasks = [
        w.task("T1", Step(id="t", say="Tighten", kind="tighten", group="G1"), "Clean"),
        w.task("T2", "Lift it", after=["T1"], lift="L1"),
    ]
    fields = {
        "specs": [w.spec()],
        "groups": [w.group()],
        "gates": [w.gate()],
        "lifts": [w.lift()],
        "tools": [w.wrench()],
        **more,
    }
    return w.plan(*tasks, **fields)


def test_loading_makes_rows_and_writes_figures_into_the_entry(new_world):
    """R2: what loading works out (order, tolerance, shares) stands in the entry."""
    world: World = new_world(small())
    data = world.entries[-1].data
    assert data["groups"]["G1"]["order"] == [1, 3, 2, 4]
    assert data["groups"]["G1"]["tolerance"] == ["1.2", "1.2"]  # 5 % of 24
    assert world.get(Group, "G1").tolerance_is_default
    assert world.get(Lift, "L1").task == "T2"
    assert {s.nominal_kg for s in world.get(Lift, "L1").shares} == {"15.0"}
    assert world.get(TorqueWrench, "W1").checks
    assert world.get(Group, "G1").state == "untouched"
    assert world.get(Gate, "crank").order == 0
    assert [t.id for t in world.all(Task)] == ["T1", "T2"]


def test_r12_where_the_manual_gives_no_tolerance_the_builds_default_counts_said_as_such(new_world):
    """R12: 5 % of 24 N·m either way is 1.2, and the torque screen says that it is the build's; the manual's own is not."""
    given = w.spec(tolerance={"minus": "2", "plus": "0.5"})
    for made, window, is_default in ((w.spec(), ("22.8", "25.2"), True), (given, ("22", "24.5"), False)):
        world = new_world(small(specs=[made]))
        assert world.view("bram", "torque", group="G1").tolerance_is_default is is_default
        accepts = pass_window(world.get(Group, "G1"), 1)
        assert (accepts.low, accepts.high) == (Fraction(window[0]), Fraction(window[1]))
