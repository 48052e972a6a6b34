"""Torque wrenches in the plan of the days: fit, with the range, and one for each who needs one at the same time (R11)."""

from __future__ import annotations

from typing import Any

from rules.test_days import asked, of
from rules.world import World, group, plan, spec, task, wrench
from yokemate.planfile.model import Step
from yokemate.planning.check import check
from yokemate.planning.listing import list_schedule
from yokemate.planning.problem import Problem
from yokemate.rules.days_pieces import CHECK
from yokemate.rules.days_wrenches import pool, united


def tightens(id: str, group: str, **more: Any) -> Any:
    step = Step(id="s1", say="Tighten", kind="tighten", group=group)
    return task(id, step, minutes=(60, 60, 60), **more)


def garage(*tasks: Any, **more: Any) -> World:
    """W1 reads 5 to 25 N·m, W3 and W4 40 to 200. G1 and G2 want 24, G3 and G4 want 90."""
    return World(
        plan(
            *tasks,
            specs=[spec(passes_percent=[100]), spec("J90", "90", passes_percent=[100])],
            groups=[
                group("G1", 3, **more), group("G2", 3), group("G3", 3, spec="J90"), group("G4", 3, spec="J90"),
            ],
            tools=[wrench("W1", "5", "25"), wrench("W3", "40", "200"), wrench("W4", "40", "200")],
        )
    )  # fmt: skip


def starts(found: Problem) -> dict[str, int]:
    schedule = list_schedule(found)
    assert check(found, schedule) == []
    return {stint.task: stint.start for stint in schedule.stints}


def test_r11_a_torque_wrench_is_shared_only_by_work_in_its_range() -> None:
    """R11: six people come; the two at 24 N·m take turns with W1, the two at 90 have one each."""
    at = starts(asked(garage(*(tightens(f"T{n}", f"G{n}") for n in (1, 2, 3, 4)))))

    assert abs(at["T1"] - at["T2"]) >= 12  # an hour of five minutes
    assert at["T3"] == at["T4"] == min(at.values())


def test_r11_one_that_could_do_both_is_not_counted_twice() -> None:
    """W2 reads 20 to 100 and W5 5 to 25: 24 is done with either, 90 with W2 alone. Three pieces of 24 and 90 find two."""
    world = World(
        plan(
            tightens("T1", "G1"), tightens("T2", "G2"), tightens("T3", "G3"),
            specs=[spec(passes_percent=[100]), spec("J90", "90", passes_percent=[100])],
            groups=[group("G1", 3), group("G2", 3), group("G3", 3, spec="J90")],
            tools=[wrench("W2", "20", "100"), wrench("W5", "5", "25")],
        )
    )  # fmt: skip
    found = asked(world)
    at = starts(found)

    assert found.tools == {pool(frozenset({"W2"})): 1, pool(frozenset({"W2", "W5"})): 2}
    assert len({*at.values()}) == 2
    assert list(at.values()).count(min(at.values())) == 2


def test_r11_a_torque_wrench_that_the_plan_names_counts_only_when_it_will_do() -> None:
    """R11: T1 names W3, which is fit. Dropped, it is another's turn that has the range; for T2 W3 never had it."""
    world = garage(tightens("T1", "G3", tools=["W3"]), tightens("T2", "G1", tools=["W3"]))
    assert [use.tool for use in of(asked(world), "T1").tools if use.tool == pool(frozenset({"W3"}))]
    assert [use.tool for use in of(asked(world), "T2").tools if use.tool == pool(frozenset({"W1"}))]

    world.do("kofi", "wrench.dropped", wrench="W3")
    assert pool(frozenset({"W4"})) in {use.tool for use in of(asked(world), "T1").tools}
    assert set(starts(asked(world))) == {"T1", "T2"}


def test_a_check_by_torque_wrench_holds_one_and_a_look_at_the_paint_none() -> None:
    """R13: who comes when the work is over can't have watched it."""
    again = garage(tightens("T1", "G1"), critical=True, check_methods=["watched", "torque_wrench_again"])
    assert [use.tool for use in of(asked(again), "T1" + CHECK).tools] == [pool(frozenset({"W1"}))]

    seen = garage(
        tightens("T1", "G1"),
        critical=True,
        paint=True,
        check_methods=["torque_wrench_again", "paint_mark_seen"],
    )
    assert of(asked(seen), "T1" + CHECK).tools == ()


def test_what_is_tightened_already_holds_none() -> None:
    wipe = Step(id="s2", say="Wipe the threads")
    tighten = Step(id="s1", say="Tighten", kind="tighten", group="G1")
    world = garage(task("T1", tighten, wipe, minutes=(60, 60, 60)))
    world.do("aled", "task.take", task="T1")
    assert of(asked(world), "T1").tools
    world.do(
        "aled", "torque.read", group="G1", task="T1", pass_no=1, wrench="W1", unit="n_m", set_value="24",
        faces="clean", threads="clean_dry", bolts=[{"n": n} for n in (1, 2, 3)],
    )  # fmt: skip
    assert of(asked(world), "T1").tools == ()


def test_sets_are_united_in_every_way() -> None:
    a, b, c = frozenset("a"), frozenset("b"), frozenset("c")
    assert united([a, b, c, a]) == [a, b, c, a | b, a | c, b | c, a | b | c]
    assert united([]) == []
