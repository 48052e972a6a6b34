"""Steps, measures, hold points, sign-off, deviations, evidence (R4, R5, R9, R23, R30)."""

from __future__ import annotations

import pytest

from rules import world as w
from yokemate.planfile.model import Measure, Step
from yokemate.rules.rows import Deviation, Evidence, LooseEnd, Part, Task

GAP = Step(
    id="m",
    say="Measure the gap",
    kind="measure",
    measure=Measure(say="gap", unit="mm", low="0.9", high="1.1"),
)


def test_all_done_down_to_here_is_for_plain_steps_only(new_world):
    """R9: several at once only when each is plain."""
    loosen = Step(id="u", say="Unplug", kind="unplug", opens=["O1"])
    back = Step(id="b", say="Plug in", kind="put_back", puts_back=["O1"])
    gates = [w.gate(standing=[{"task_closed": "T2"}])]
    tasks = [w.task("T1", "One", "Two", loosen), w.task("T2", back, after=["T1"])]
    world = new_world(w.plan(*tasks, loose_ends=[w.loose_end("O1")], gates=gates))
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "step_not_plain", task="T1", steps=["s1", "s2", "u"])
    world.do("bram", "task.tick", task="T1", steps=["s1", "s2"])
    world.do("bram", "task.tick", task="T1", steps=["u"])
    (end,) = world.all(LooseEnd)
    assert (end.plan_id, end.closed, end.restores_task, end.restores_step) == ("O1", None, "T2", "b")
    world.do("bram", "task.sign_off", task="T1")
    world.do("bram", "task.take", task="T2")
    world.do("bram", "task.tick", task="T2", steps=["b"])
    assert world.all(LooseEnd)[0].closed is not None


def test_a_measure_inside_its_limits_ticks_and_outside_is_kept(new_world):
    """R9, R16: 1.2 is kept as typed and makes nothing done; 1,0 does; an inch value is compared exactly."""
    world = new_world(w.plan(w.task("T1", GAP)))
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "step_needs_value", task="T1", steps=["m"])
    world.do("bram", "task.measure", task="T1", step="m", value="1.2", unit="mm")
    assert world.get(Task, "T1").measures["m"][-1].value == "1.2"
    assert world.refused("bram", "task.sign_off", "measure_outside", task="T1").params["value"] == "1.2"
    world.do("bram", "task.measure", task="T1", step="m", value="1,0", unit="mm")
    assert world.get(Task, "T1").ticks["m"].value == "1,0"
    world.do("bram", "task.measure", task="T1", step="m", value="1.100001", unit="mm")
    assert "m" not in world.get(Task, "T1").ticks
    world.do("bram", "task.measure", task="T1", step="m", value="1.1", unit="mm")
    assert "m" in world.get(Task, "T1").ticks


def test_a_measure_in_fractions_of_an_inch_is_compared_exactly(new_world):
    """R9, R16: 12 7/16 is 12.4375, 12 29/64 is 12.453125; as typed on the inch keypad."""
    long = Measure(say="length", unit="in", low="12.4", high="12.4375")
    world = new_world(w.plan(w.task("T1", GAP.model_copy(update={"measure": long}))))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.measure", task="T1", step="m", value="12 29/64", unit="in")
    assert "m" not in world.get(Task, "T1").ticks
    world.do("bram", "task.measure", task="T1", step="m", value="12 7/16", unit="in")
    assert world.get(Task, "T1").ticks["m"].value == "12 7/16"


def test_a_report_by_somebody_else_is_kept_and_ticks_nothing(new_world):
    """R4, R9: a measure by one who is not on the task is never refused and never counts."""
    world = new_world(w.plan(w.task("T1", GAP)))
    world.do("bram", "task.take", task="T1")
    world.do("aled", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    assert world.get(Task, "T1").ticks == {}


def test_the_side_is_confirmed(new_world):
    """R9: the other side is refused by name."""
    side = Step(id="c", say="Go to the left side", kind="confirm_side", side="left")
    world = new_world(w.plan(w.task("T1", side, side="left")))
    world.do("bram", "task.take", task="T1")
    assert (
        world.refused("bram", "task.confirm_side", "wrong_side", task="T1", step="c", side="right").params[
            "side"
        ]
        == "left"
    )
    world.do("bram", "task.confirm_side", task="T1", step="c", side="left")


def test_a_hold_step_holds_everything_behind_it(new_world):
    """R5: signed with PIN by somebody who may countersign and did not work on it."""
    hold = Step(id="h", say="Diagonals looked at", kind="hold")
    world = new_world(w.plan(w.task("T1", "One", hold, "Cover it")))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.refused("bram", "task.tick", "hold_needed", task="T1", steps=["h"])
    world.refused("bram", "task.tick", "step_before", task="T1", steps=["s3"])
    world.refused("bram", "task.sign_hold", "fresh_eyes", task="T1", step="h")
    world.refused("priya", "task.sign_hold", "may_not_countersign", task="T1", step="h")
    world.refused("kofi", "task.sign_hold", "minor_cannot", task="T1", step="h")
    world.refused("sofia", "task.sign_hold", "pin_wrong", task="T1", step="h", pin=False)
    world.do("sofia", "task.sign_hold", task="T1", step="h")
    world.do("bram", "task.tick", task="T1", steps=["s3"])
    world.do("bram", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "closed"


def test_a_hold_step_left_out_frees_what_is_behind_it_once_somebody_else_has_accepted_it(new_world):
    """R5, R9: whoever works behind a hold point does not wave it through alone; with the yes nothing is held any more,
    nobody is asked to sign it, and the next hold point holds as ever."""
    holds = [Step(id=id, say="Looked at", kind="hold") for id in ("h1", "h2")]
    side = Step(id="c", say="Go to the left side", kind="confirm_side", side="left")
    world = new_world(w.plan(w.task("T1", holds[0], "One", side, GAP, holds[1], "Two", side="left")))
    world.do("bram", "task.take", task="T1")
    words = {"manual_says_text": "a", "we_did_text": "b", "why_text": "c"}
    world.do("bram", "deviation.propose", task="T1", step="h1", leave_out=True, **words)
    refused = world.refused("bram", "task.tick", "hold_left_out", task="T1", steps=["s2"])
    assert (refused.params["number"], refused.params["ask_people"]) == (1, ["ines"])
    world.refused("bram", "task.confirm_side", "hold_left_out", task="T1", step="c", side="left")
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    assert set(world.get(Task, "T1").ticks) == {"h1"}
    assert [one.step for one in world.view("sofia", "checks").holds_for_me] == ["h1"]
    paused = world.view("bram", "task", task="T1").paused
    assert paused is not None and paused.code == "hold_left_out"

    (deviation,) = world.all(Deviation)
    world.do("ines", "deviation.accept", deviation=deviation.id)
    assert world.view("sofia", "checks").holds_for_me == []
    assert world.view("bram", "task", task="T1").paused is None
    world.do("bram", "task.tick", task="T1", steps=["s2"])
    world.do("bram", "task.confirm_side", task="T1", step="c", side="left")
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    world.refused("bram", "task.tick", "step_before", task="T1", steps=["s6"])
    assert [one.step for one in world.view("sofia", "checks").holds_for_me] == ["h2"]
    world.do("sofia", "task.sign_hold", task="T1", step="h2")
    world.do("bram", "task.tick", task="T1", steps=["s6"])
    world.do("bram", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "closed"


def test_a_side_and_a_measure_get_round_no_hold_and_no_missing_person(new_world):
    """R5, R7: a side is confirmed only behind signed holds and with enough people; a measure is kept, and ticks nothing."""
    hold = Step(id="h", say="Diagonals looked at", kind="hold")
    side = Step(id="c", say="Go to the left side", kind="confirm_side", side="left")
    world = new_world(w.plan(w.task("T1", hold, side, GAP, side="left", must_people=2)))
    world.do("bram", "task.take", task="T1")
    said = {"task": "T1", "step": "c", "side": "left"}

    world.refused("bram", "task.confirm_side", "people_needed", **said)
    world.do("aled", "task.join", task="T1")
    world.refused("bram", "task.confirm_side", "step_before", **said)
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    assert world.get(Task, "T1").ticks == {}

    world.do("sofia", "task.sign_hold", task="T1", step="h")
    world.do("bram", "task.confirm_side", **said)
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    assert set(world.get(Task, "T1").ticks) == {"h", "c", "m"}


def test_a_side_is_not_confirmed_beside_what_may_hurt(new_world):
    """R27: somebody is under the car; jacking it waits, also where the step only names a side."""
    side = Step(id="c", say="Jack up the left side", kind="confirm_side", side="left")
    world = new_world(
        w.plan(
            w.task("T1", side, side="left", hazards=["jacking"]), w.task("T2", "Look", hazards=["under_car"])
        )
    )
    world.do("bram", "task.take", task="T1")
    world.do("aled", "hazard.under", task="T2")

    world.refused("bram", "task.confirm_side", "hazard_clash", task="T1", step="c", side="left")


def test_only_the_holder_signs_and_only_what_is_whole(new_world):
    """R9, R30: open steps are named; nobody signs for another."""
    world = new_world(w.plan(w.task("T1", "One", "Two")))
    world.do("bram", "task.take", task="T1")
    world.do("aled", "task.join", task="T1")
    world.do("aled", "task.tick", task="T1", steps=["s1"])
    assert world.refused("bram", "task.sign_off", "steps_open", task="T1").params["numbers"] == "2"
    world.do("bram", "task.tick", task="T1", steps=["s2"])
    world.refused("aled", "task.sign_off", "only_the_holder", task="T1")
    world.do("bram", "task.sign_off", task="T1")


def test_a_task_with_a_deviation_stays_open_to_a_yes_by_another(new_world):
    """R9: accepted by somebody who did not do it; until then the task is done, check due."""
    world = new_world(w.plan(w.task("T1", "One", "Two")))
    world.do("ines", "task.take", task="T1")
    world.do("ines", "task.tick", task="T1", steps=["s1"])
    world.do(
        "ines",
        "deviation.propose",
        task="T1",
        step="s2",
        leave_out=True,
        manual_says_text="a",
        we_did_text="b",
        why_text="c",
    )
    world.do("ines", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "done"
    (deviation,) = world.all(Deviation)
    world.refused("ines", "deviation.accept", "did_the_work", deviation=deviation.id)
    world.refused("aled", "deviation.accept", "role", deviation=deviation.id)
    world.do("ines", "crew.name_deputy", person="bram", until_ms=world.now_ms + w.HOUR)
    world.do("bram", "deviation.accept", deviation=deviation.id)
    assert world.get(Task, "T1").state == "closed"


SAID = {"manual_says_text": "a", "we_did_text": "b", "why_text": "c"}


def test_a_measure_outside_that_is_said_to_be_done_differently_waits_for_a_yes_and_for_no_other_figure(
    new_world,
):
    """R9: what differs is a deviation. The figure stands, the work goes on, the task closes with the yes; measured
    again and outside, it is open again."""
    opens = Step(id="s1", say="Open", kind="open", opens=["O1"])
    measures = GAP.model_copy(update={"puts_back": ["O1"]})
    plan = w.plan(
        w.task("T0", opens), w.task("T1", measures, Step(id="s2", say="Close it"), after=["T0"]),
        gates=[w.gate(standing=[{"task_closed": "T1"}])], loose_ends=[w.loose_end("O1", "opened")],
    )  # fmt: skip
    world = new_world(plan)
    world.do("bram", "task.take", task="T0")
    world.do("bram", "task.tick", task="T0", steps=["s1"])
    world.do("bram", "task.sign_off", task="T0")
    world.do("bram", "task.take", task="T1")
    world.do("bram", "deviation.propose", task="T1", step="m", **SAID)
    assert world.get(Task, "T1").ticks == {}  # nothing was measured yet
    world.do("bram", "task.measure", task="T1", step="m", value="1.2", unit="mm")
    world.do("aled", "deviation.propose", task="T1", step="m", **SAID)
    assert world.get(Task, "T1").ticks == {}  # he is not on it
    world.do("bram", "deviation.propose", task="T1", step="m", **SAID)
    assert list(world.get(Task, "T1").ticks) == ["m"] and not world.get(Task, "T1").ticks["m"].left_out
    assert world.all(LooseEnd)[0].closed is not None
    world.do("bram", "task.measure", task="T1", step="m", value="1.3", unit="mm")
    assert world.get(Task, "T1").ticks == {}
    world.do("bram", "deviation.propose", task="T1", step="m", **SAID)
    world.do("bram", "task.tick", task="T1", steps=["s2"])
    world.do("bram", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "done"
    for one in world.all(Deviation):
        world.do("ines", "deviation.accept", deviation=one.id)
    assert world.get(Task, "T1").state == "closed"


@pytest.mark.parametrize("critical", [False, True])
def test_a_tighten_step_left_out_asks_nothing_of_a_group_that_nobody_checks(new_world, critical):
    """R9: the honest way out where a bolt is not there, once somebody else says yes. R11, R13: none for a critical group."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    world = new_world(w.plan(w.task("T1", tighten), specs=[w.spec()], groups=[w.group(critical=critical)]))
    world.do("bram", "task.take", task="T1")
    world.do(
        "bram",
        "deviation.propose",
        task="T1",
        step="t",
        leave_out=True,
        answer_text="the maker agrees",
        **SAID,
    )
    if critical:
        world.refused("bram", "task.sign_off", "group_not_final", task="T1")
        return
    world.do("bram", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "done"
    world.do("ines", "deviation.accept", deviation=world.all(Deviation)[0].id)
    assert world.get(Task, "T1").state == "closed"


@pytest.mark.parametrize(
    ("about", "critical"),
    [({"group": "G1"}, True), ({"step": "t"}, True), ({"step": "s2"}, False), ({}, True)],
)
def test_a_deviation_is_critical_by_what_it_is_about(new_world, about, critical):
    """R9: the group, the step that tightens it, or the whole of its task; another step of that task is not."""
    steps = (Step(id="t", say="Tighten", kind="tighten", group="G1"), Step(id="s2", say="Clip it"))
    world = new_world(w.plan(w.task("T1", *steps), specs=[w.spec()], groups=[w.group(critical=True)]))
    words = {"manual_says_text": "a", "we_did_text": "b", "why_text": "c"}
    world.do("priya", "deviation.propose", task="T1", **about, **words)
    assert [one.critical for one in world.all(Deviation)] == [critical]


def test_on_critical_work_two_accept_with_the_makers_answer(new_world):
    """R9: critical: two people, and the maker's or an engineer's answer."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    world = new_world(w.plan(w.task("T1", tighten), specs=[w.spec()], groups=[w.group(critical=True)]))
    world.do("priya", "task.take", task="T1")
    world.do(
        "priya",
        "deviation.propose",
        task="T1",
        group="G1",
        manual_says_text="a",
        we_did_text="b",
        why_text="c",
    )
    (deviation,) = world.all(Deviation)
    assert deviation.critical
    world.refused("ines", "deviation.accept", "answer_missing", deviation=deviation.id)
    world.do("ines", "deviation.accept", deviation=deviation.id, answer_text="the maker agrees")
    assert world.all(Deviation)[0].state == "waiting"
    world.refused("ines", "deviation.accept", "somebody_else", deviation=deviation.id)
    world.do("ines", "crew.name_deputy", person="bram", until_ms=world.now_ms + w.HOUR)
    world.do("bram", "deviation.accept", deviation=deviation.id)
    assert world.all(Deviation)[0].state == "accepted"


def test_who_held_the_torque_wrench_accepts_no_deviation_of_it(new_world):
    """R9: approved by somebody who did not do it; who helped with a reading did, though they never joined the task."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    wrench = w.wrench(checked_on="2020-01-01")
    plan = w.plan(w.task("T1", tighten), specs=[w.spec()], groups=[w.group(count=1)], tools=[wrench])
    world = new_world(plan)
    world.do("priya", "task.take", task="T1")
    world.do(
        "priya", "torque.read", task="T1", group="G1", pass_no=1, wrench=wrench["id"], set_value="24", unit="n_m",
        bolts=[{"n": 1}], helped=["ines"],
    )  # fmt: skip
    (deviation,) = world.all(Deviation)
    world.do("ines", "crew.name_deputy", person="bram", until_ms=world.now_ms + w.HOUR)
    refused = world.refused("ines", "deviation.accept", "did_the_work", deviation=deviation.id)
    assert refused.params["ask_people"] == ["bram"]  # the deputy of the day may as well
    assert world.view("ines", "queue").differently == []
    world.do("bram", "deviation.accept", deviation=deviation.id)
    assert world.all(Deviation)[0].state == "accepted"


def test_what_was_done_differently_waits_in_the_queue_of_whoever_may_accept_it(new_world):
    """R9: nobody looks for it on a task that is signed; on critical work it waits for two."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    world = new_world(
        w.plan(w.task("T1", tighten, title="Clutch"), specs=[w.spec()], groups=[w.group(critical=True)])
    )
    said = {"manual_says_text": "a", "we_did_text": "b", "why_text": "c", "answer_text": "the maker agrees"}
    world.do("priya", "deviation.propose", task="T1", group="G1", **said)
    (waits,) = world.view("ines", "queue").differently
    assert (waits.task, waits.title, waits.critical, waits.by) == ("T1", "Clutch", True, "priya")
    assert world.view("ines", "queue", person="priya").differently == []
    until = world.now_ms + w.HOUR
    world.do("ines", "crew.name_deputy", person="bram", until_ms=until)
    seen = world.view("bram", "queue")
    assert len(seen.differently) == 1 and seen.valid_until_ms == until  # a deputy's day ends without an entry
    world.do("ines", "deviation.accept", deviation=waits.deviation)
    assert world.view("ines", "queue").differently == []
    assert len(world.view("bram", "queue").differently) == 1


def test_harvest_puts_a_part_into_its_bag(new_world):
    """Harvest: the donor's part is on the shelf, in the numbered bag."""
    step = Step(id="h", say="Take the rack off", kind="harvest", part="rack", bag="B7")
    rack = {"id": "rack", "name": "Steering rack", "source": "donor", "count": 0}
    world = new_world(w.plan(w.task("T1", step), parts=[rack], bags=[{"id": "B7", "label": "Steering"}]))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["h"])
    part = world.get(Part, "rack")
    assert (part.in_stock, part.bag) == (1, "B7")


def test_evidence_is_kept_beside_the_task(new_world):
    """R4: what was typed with refused asks is one bundle."""
    world = new_world(w.plan(w.task("T1")))
    world.do(
        "aled",
        "evidence.keep",
        task="T1",
        code="taken_by",
        asks=[{"kind": "task.take", "body": {"task": "T1"}}],
    )
    (row,) = world.all(Evidence)
    assert (row.task, row.by, len(row.asks)) == ("T1", "aled", 1)


HOSE_OFF = Step(id="off", say="Pull the hose off", kind="unplug", opens=["O1"])
HOSE_ON = Step(id="on", say="Push it on", kind="put_back", puts_back=["O1"])
HOSE_ENDS = {"loose_ends": [w.loose_end("O1")], "gates": [w.gate(standing=[{"task_closed": "T1"}])]}


def open_ends(world: w.World) -> list[tuple[str | None, str | None]]:
    return [(e.plan_id, e.restores_step) for e in world.all(LooseEnd) if e.closed is None]


def test_a_tick_taken_back_makes_loose_again_what_it_had_put_back(new_world):
    """R23: unplugged, put back, and *not done after all*: it is loose, until it is put back again."""
    world = new_world(w.plan(w.task("T1", HOSE_OFF, HOSE_ON), **HOSE_ENDS))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["off"])
    world.do("bram", "task.tick", task="T1", steps=["on"])
    assert open_ends(world) == []
    world.do("bram", "task.untick", task="T1", step="on")
    assert open_ends(world) == [("O1", "on")]
    world.do("bram", "task.untick", task="T1", step="on")
    assert open_ends(world) == [("O1", "on")]
    world.do("bram", "task.tick", task="T1", steps=["on"])
    assert open_ends(world) == []
    world.do("bram", "task.sign_off", task="T1")


def test_a_measure_that_falls_outside_makes_loose_again_what_it_had_put_back(new_world):
    """R9, R23: the belt's play inside its limits put it back; measured again outside, its tick is gone and it is loose."""
    play = GAP.model_copy(update={"puts_back": ["O1"]})
    world = new_world(w.plan(w.task("T1", HOSE_OFF, play), **HOSE_ENDS))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["off"])
    for value, ends in (("1.0", []), ("1.2", [("O1", "m")]), ("1.3", [("O1", "m")]), ("1.1", [])):
        world.do("bram", "task.measure", task="T1", step="m", value=value, unit="mm")
        assert open_ends(world) == ends, value
    world.do("aled", "task.measure", task="T1", step="m", value="5", unit="mm")
    assert open_ends(world) == [], "who is not on the task takes no tick away"


def test_a_harvest_taken_back_takes_the_part_back(new_world):
    """One rack came off the donor, whether its tick was taken back or its work undone in between: one is on the shelf."""
    step = Step(id="h", say="Take the rack off", kind="harvest", part="rack", bag="B7")
    rack = {"id": "rack", "name": "Steering rack", "source": "donor", "count": 0}
    world = new_world(w.plan(w.task("T1", step), parts=[rack], bags=[{"id": "B7", "label": "Steering"}]))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["h"])
    world.do("bram", "task.untick", task="T1", step="h")
    assert world.get(Part, "rack").in_stock == 0
    world.do("bram", "task.untick", task="T1", step="h")
    world.do("bram", "task.tick", task="T1", steps=["h"])
    world.do("bram", "task.sign_off", task="T1")
    assert world.get(Part, "rack").in_stock == 1
    digest = world.view("bram", "undo", task="T1").list_digest
    world.do("bram", "task.undo", task="T1", reason="other", list_digest=digest)
    assert world.get(Part, "rack").in_stock == 0
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["h"])
    assert world.get(Part, "rack").in_stock == 1


def test_a_hold_point_is_signed_after_the_work_and_falls_with_it(new_world):
    """R5: refused while an earlier step is open; a tick taken back before it, or its own, crosses the signature out."""
    hold = Step(id="h", say="Diagonals looked at", kind="hold")
    world = new_world(w.plan(w.task("T1", "One", GAP, hold, "Cover it")))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    refused = world.refused("sofia", "task.sign_hold", "step_before", task="T1", step="h")
    assert refused.params["number"] == 2
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")

    for fall in (
        {"kind": "untick", "step": "s1"},
        {"kind": "untick", "step": "h"},
        {"kind": "measure", "value": "2"},
    ):
        world.do("sofia", "task.sign_hold", task="T1", step="h")
        signature = world.get(Task, "T1").holds["h"]
        if fall["kind"] == "untick":
            world.do("bram", "task.untick", task="T1", step=fall["step"])
        else:
            world.do("bram", "task.measure", task="T1", step="m", value=fall["value"], unit="mm")
        task = world.get(Task, "T1")
        assert (task.holds, "h" in task.ticks, task.state) == ({}, False, "taken")
        assert task.crossed_out[-1] == signature
        world.refused("bram", "task.tick", "step_before", task="T1", steps=["s4"])
        world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.measure", task="T1", step="m", value="1.0", unit="mm")
    world.do("sofia", "task.sign_hold", task="T1", step="h")
    world.do("bram", "task.tick", task="T1", steps=["s4"])
    world.do("bram", "task.untick", task="T1", step="s4")
    assert set(world.get(Task, "T1").holds) == {"h"}, "what comes after it takes nothing from it"


def test_a_hold_point_that_is_due_waits_in_the_checks_and_queues_of_those_who_may_sign(new_world):
    """R5: at its step and at the end; not before; who worked on it reads that it needs fresh eyes."""
    hold = Step(id="h", say="Diagonals looked at", kind="hold")
    world = new_world(w.plan(w.task("T1", "One", hold, hold_point=True)))

    def due(person: str) -> list[tuple[str, str]]:
        view = world.view(person, "checks")
        assert world.view(person, "queue").holds == view.holds_for_me
        return [(one.task, one.step) for one in view.holds_for_me]

    world.do("bram", "task.take", task="T1")
    assert due("sofia") == []
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    assert due("sofia") == due("aled") == [("T1", "h")]
    (other,) = world.view("bram", "checks").holds_for_others
    assert (other.why_i_may_not, other.say, other.nobody_here) == ("fresh_eyes", "Diagonals looked at", False)
    assert [(one.person, one.here) for one in other.who_may] == [
        ("aled", True),
        ("ines", True),
        ("sofia", True),
    ]
    assert (due("bram"), due("priya"), due("kofi"), due("vera")) == ([], [], [], [])
    world.do("sofia", "task.sign_hold", task="T1", step="h")
    assert due("aled") == []
    world.do("bram", "task.sign_off", task="T1")
    assert due("aled") == [("T1", "end")]
    world.do("aled", "task.sign_hold", task="T1", step="end")
    assert due("ines") == []


NUT = {"id": "nut", "name": "Lock nut", "source": "new", "count": 3, "single_use": True}
CLAMP = {"id": "clamp", "name": "Clamp", "source": "kit", "count": 3}


def test_the_sign_off_uses_up_what_is_used_once(new_world):
    """R5: two of three lock nuts are in the car, the clamp is not counted; the next task that wants two lacks one."""
    uses = [{"part": "nut", "count": 2}, {"part": "clamp"}]
    world = new_world(w.plan(w.task("T1", uses=uses), w.task("T2", uses=uses), parts=[NUT, CLAMP]))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    assert world.get(Part, "nut").in_stock == 3
    world.do("bram", "task.sign_off", task="T1")
    nut = world.get(Part, "nut")
    assert (nut.in_stock, nut.in_use, world.get(Part, "clamp").in_stock) == (1, 2, 3)
    world.refused("bram", "task.take", "waits", task="T2")
    world.do("bram", "task.have_part", task="T2", part="nut", have=True)
    world.do("bram", "task.take", task="T2")
    world.do("bram", "task.tick", task="T2", steps=["s1"])
    world.do("bram", "task.sign_off", task="T2")
    assert world.get(Part, "nut").in_stock == 0


def test_undone_work_gives_no_used_part_back_and_wants_new_ones(new_world):
    """R5, R15, R26: what was used once is spent; done again, the task waits for new ones, whatever was answered before."""
    world = new_world(w.plan(w.task("T1", uses=[{"part": "nut", "count": 2}]), parts=[NUT]))
    world.do("bram", "task.have_part", task="T1", part="nut", have=True)
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.sign_off", task="T1")
    digest = world.view("bram", "undo", task="T1").list_digest
    world.do("bram", "task.undo", task="T1", reason="other", list_digest=digest)
    assert world.get(Part, "nut").in_stock == 1
    world.refused("bram", "task.take", "waits", task="T1")


def test_a_sign_off_that_fell_with_its_bolts_uses_nothing_up_twice(new_world):
    """R5, R26: a bolt was loosened and tightened again; the seal beneath stayed where it was."""
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    seal = {**NUT, "count": 1}
    task = w.task("T1", "Lay the seal in", tighten, uses=[{"part": "nut"}])
    world = new_world(
        w.plan(
            task,
            specs=[w.spec(passes_percent=[100])],
            groups=[w.group(count=1)],
            parts=[seal],
            tools=[w.wrench()],
        )
    )
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    for _ in range(2):
        world.do(
            "bram",
            "torque.read",
            group="G1",
            pass_no=1,
            wrench="W1",
            set_value="24",
            unit="n_m",
            bolts=[{"n": 1}],
        )
        world.do("bram", "task.sign_off", task="T1")
        assert world.get(Part, "nut").in_stock == 0
        world.do("bram", "torque.report_loosened", group="G1", bolts=[1])
        assert world.get(Task, "T1").state == "open"
        world.do("bram", "task.take", task="T1")
    assert world.get(Part, "nut").in_use == 1
