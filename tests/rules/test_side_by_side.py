"""What may not go on beside other work, or in spite of a tag or a gate (R25, R27)."""

from __future__ import annotations

from typing import Any

import pytest

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Plan, Step
from yokemate.rules.rows import Gate, LooseEnd, Task
from yokemate.rules.views.plan import TaskView
from yokemate.rules.views.queue import QueueView


def hazards(*of: str, steps: tuple[str, ...] = ("One", "Two")) -> Plan:
    return w.plan(*(w.task(f"T{n}", *steps, hazards=one.split()) for n, one in enumerate(of, start=1)))


def card_of(cards: list[Any], task: str) -> Any:
    return next(card for card in cards if card.task == task)


@pytest.mark.parametrize(("stays", "waits"), [("fuel_open", "sparks"), ("wheels_off", "under_car")])
def test_what_stays_open_while_its_task_is_stuck_still_counts(new_world, stays: str, waits: str) -> None:
    """R27: the fuel is open, the wheel off, whether or not somebody knows how to go on."""
    world: World = new_world(hazards(stays, waits))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.stuck", task="T1", reason="no_tool")
    world.refused("sofia", "task.take", "hazard_clash", task="T2")
    world.do("bram", "task.go_on", task="T1")


def test_going_on_is_asked_like_beginning(new_world) -> None:
    """R27: sparks stop with the hands; meanwhile somebody opened the fuel."""
    world: World = new_world(hazards("sparks", "fuel_open"))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.stuck", task="T1", reason="no_tool")
    world.do("sofia", "task.take", task="T2")
    world.refused("bram", "task.go_on", "hazard_clash", task="T1")
    world.do("sofia", "task.give_back", task="T2", reason="other")
    world.do("bram", "task.go_on", task="T1")


def test_a_tag_hung_later_stops_the_work_that_goes_on(new_world) -> None:
    """R27: the tag says that somebody has their hands where the battery would wake something."""
    world: World = new_world(hazards("live_battery"))
    world.do("sofia", "task.take", task="T1")
    world.do("bram", "hazard.hang_tag", what="battery")
    world.refused("sofia", "task.tick", "tag_hangs", task="T1", steps=["s1"])
    view: TaskView = world.view("sofia", "task", task="T1")
    assert view.paused is not None
    assert (view.paused.code, view.paused.params["owner_person"]) == ("tag_hangs", "bram")


def test_a_mate_under_the_car_keeps_the_same_task_from_waking_it(new_world) -> None:
    """R27: the plan has both in one task; the battery waits until Sofia is out, the wheel that is off does not."""
    world: World = new_world(hazards("under_car live_battery", "under_car wheels_off"))
    world.do("bram", "task.take", task="T1")
    world.do("sofia", "task.join", task="T1")
    world.do("sofia", "hazard.under", task="T1")
    refused = world.refused("bram", "task.tick", "hazard_clash", task="T1", steps=["s1"])
    assert refused.params["holder_person"] == "sofia"
    world.do("sofia", "task.tick", task="T1", steps=["s1"])
    world.do("sofia", "hazard.out")
    world.do("bram", "task.tick", task="T1", steps=["s2"])
    world.do("bram", "task.sign_off", task="T1")
    world.do("bram", "task.take", task="T2")
    world.do("sofia", "task.join", task="T2")
    world.do("sofia", "hazard.under", task="T2")
    world.do("bram", "task.tick", task="T2", steps=["s1"])


def test_the_queue_offers_nothing_that_would_be_refused(new_world) -> None:
    """R5, R27: it stands under *Not yet* with the words of the refusal."""
    world: World = new_world(hazards("live_battery", "noise"))
    world.do("bram", "hazard.under")
    view: QueueView = world.view("sofia", "queue")
    assert view.start_now is not None
    assert (view.start_now.task, view.after_that) == ("T2", [])
    waits = card_of(view.not_yet, "T1")
    assert (waits.state, waits.reason.code, waits.reason.params["holder_person"]) == (
        "waiting",
        "hazard_clash",
        "bram",
    )
    world.do("bram", "hazard.out")
    world.do("bram", "hazard.hang_tag", what="battery")
    view = world.view("sofia", "queue")
    assert card_of(view.not_yet, "T1").reason.code == "tag_hangs"
    assert world.view("sofia", "task", task="T1").paused.code == "tag_hangs"


def guarded(*steps: Step | str) -> Plan:
    ends = [w.loose_end("L", "unplugged", gate="crank")]
    return w.plan(
        w.task("T1", Step(id="off", say="Off", kind="unplug", opens=["L"]), Step(id="on", say="On", kind="put_back", puts_back=["L"])),
        w.task("T2", *steps, after=["T1"], hazards=["cranking"]),
        loose_ends=ends,
        gates=[w.gate(guards=["T2"], standing=[{"task_closed": "T1"}])],
    )  # fmt: skip


def test_no_release_goes_round_a_gate(new_world) -> None:
    """R25: a gate takes two people and every condition; a release out of order takes one, and is about order."""
    world: World = new_world(guarded("Crank"))
    world.do("ines", "plan.release_task", task="T2", reason_text="Let us hear it")
    assert [wait.code for wait in world.view("sofia", "task", task="T2").waits] == ["gate"]
    world.refused("sofia", "task.take", "gate_shut", task="T2")


def test_a_gate_that_shuts_stops_the_work_it_guards(new_world) -> None:
    """R25: a nut is dropped while they crank: the next crank waits, and the screen says for what. What was done before
    and arrives late is taken.
    """
    world: World = new_world(
        w.plan(w.task("T1", "Crank", "Again", "Once more"), gates=[w.gate(guards=["T1"])])
    )
    confirmed = world.get(Gate, "crank").plan.on_the_day
    world.do("ines", "gate.propose", gate="crank", confirmed=confirmed)
    world.do("sofia", "two.second", proposal=next(iter(world.state.rows["proposal"])))
    world.do("aled", "task.take", task="T1")
    world.do("aled", "task.tick", task="T1", steps=["s1"])
    then = world.now_ms
    world.do("priya", "loose.report", kind="dropped")
    assert world.get(Gate, "crank").state == "shut"
    world.refused("aled", "task.tick", "gate_shut", task="T1", steps=["s2"])
    assert world.view("aled", "task", task="T1").paused.code == "gate_shut"
    world.later(minutes=11)
    world.do("aled", "task.tick", task="T1", steps=["s2"], device_ms=then)
    world.do("priya", "loose.make_good", loose_end=world.all(LooseEnd)[0].id)
    assert world.get(Task, "T1").state == "taken"
