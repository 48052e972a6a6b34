"""What rests on a step falls with it, whichever way the step falls (R5, R8, R23, R25, R27)."""

from __future__ import annotations

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Measure, Plan, Step
from yokemate.rules.rows import LooseEnd, Part, Task

GAP = Step(id="gap", say="Gap", kind="measure", measure=Measure(say="gap", unit="mm", low="1", high="2"))
WIDER = Step(id="gap", say="Gap", kind="measure", measure=Measure(say="gap", unit="mm", low="1", high="3"))
LOOK = Step(id="look", say="Somebody else looks", kind="hold")


def gap(world: World, value: str, by: str = "bram") -> None:
    world.do(by, "task.measure", task="T1", step="gap", value=value, unit="mm")


def test_a_hold_falls_when_the_plan_asks_another_measure_before_it(new_world) -> None:
    """R5: what was looked at was another gap; without a new look the work is not signed off."""

    def plan(step: Step) -> Plan:
        return w.plan(w.task("T1", step, LOOK, "Go on"))

    world: World = new_world(plan(GAP))
    world.do("bram", "task.take", task="T1")
    gap(world, "1.5")
    world.do("sofia", "task.sign_hold", task="T1", step="look")
    world.do("bram", "task.tick", task="T1", steps=["s3"])
    world.load(plan(WIDER))
    assert world.get(Task, "T1").holds == {}
    gap(world, "1.5")
    world.refused("bram", "task.sign_off", "steps_open", task="T1")
    world.do("sofia", "task.sign_hold", task="T1", step="look")
    world.do("bram", "task.sign_off", task="T1")


def test_a_good_measure_taken_again_takes_nothing_back(new_world) -> None:
    """R9, R28: the last other adult has gone; the gap, measured once more, is still good, and so is what was signed for it."""
    world: World = new_world(w.plan(w.task("T1", GAP, LOOK, hazards=["under_car"])))
    world.do("bram", "task.take", task="T1")
    gap(world, "1.5")
    world.do("sofia", "task.sign_hold", task="T1", step="look")
    for person in ("ines", "sofia", "aled", "priya", "vera"):
        world.do(person, "crew.sign_out")
    gap(world, "1.6")
    task = world.get(Task, "T1")
    assert ("gap" in task.ticks, "look" in task.holds) == (True, True)


def test_who_only_watches_measures_nothing_done(new_world) -> None:
    """R8: kept, and the step stays open. R27: nor is anything done under a tag."""
    world: World = new_world(w.plan(w.task("T1", GAP, minors="watch", hazards=["live_battery"])))
    world.do("bram", "task.take", task="T1")
    world.do("kofi", "task.join", task="T1", learner=True)
    gap(world, "1.5", by="kofi")
    assert (world.get(Task, "T1").ticks, world.entries[-1].data["why_not"]) == ({}, "minor_watch")
    world.do("sofia", "hazard.hang_tag", what="battery")
    gap(world, "1.5")
    assert world.get(Task, "T1").ticks == {}


def test_passing_on_stuck_work_is_asked_like_going_on(new_world) -> None:
    """R27: the sparks had stopped; meanwhile the fuel is open, whoever gets the grinder."""
    world: World = new_world(w.plan(w.task("T1", hazards=["sparks"]), w.task("T2", hazards=["fuel_open"])))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.stuck", task="T1", reason="no_tool")
    world.do("sofia", "task.take", task="T2")
    world.refused("bram", "task.pass_on", "hazard_clash", task="T1", to_person="aled")


def test_a_used_up_part_is_not_found_again_by_a_late_word(new_world) -> None:
    """R5: Bram had the last seal and signed off; what Aled said before arrives after it."""
    seal = {"id": "P", "name": "Seal", "count": 0, "single_use": True, "source": "new"}
    uses = [{"part": "P", "count": 1}]
    world: World = new_world(w.plan(w.task("T1", uses=uses), w.task("T2", uses=uses), parts=[seal]))
    world.do("bram", "task.have_part", task="T1", part="P", have=True)
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.sign_off", task="T1")
    world.do("aled", "task.have_part", task="T1", part="P", have=True)
    assert world.get(Part, "P").in_stock == 0
    world.refused("sofia", "task.take", "waits", task="T2")


def test_a_put_back_that_the_new_plan_moves_is_loose_again(new_world) -> None:
    """R23: the step that had put it back is other work now; the one that does it now is still to come."""
    opens = Step(id="off", say="Off", kind="unplug", opens=["L"])

    def plan(*steps: Step) -> Plan:
        gate = w.gate(standing=[{"task_closed": "T1"}], guards=["T2"])
        ends = [w.loose_end("L", "unplugged", gate="crank")]
        return w.plan(w.task("T1", opens, *steps), w.task("T2", after=["T1"]), loose_ends=ends, gates=[gate])

    back = Step(id="on", say="On", kind="put_back", puts_back=["L"])
    world: World = new_world(plan(back, Step(id="wipe", say="Wipe")))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["off"])
    world.do("bram", "task.tick", task="T1", steps=["on"])
    assert [end.closed is None for end in world.all(LooseEnd)] == [False]
    world.load(
        plan(Step(id="on", say="Grease it"), Step(id="plug", say="On", kind="put_back", puts_back=["L"]))
    )
    assert [end.what for end in world.all(LooseEnd) if end.closed is None] == ["Loose end L"]
