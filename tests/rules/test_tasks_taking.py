"""Who may take or join what, and when (R5 to R8, R10, R27, R28)."""

from __future__ import annotations

import pytest

from rules import world as w
from yokemate.planfile.model import After, Lag, Step
from yokemate.rules.rows import Part, Task, Under


def finish(world, person: str, task: str) -> None:
    world.do(person, "task.take", task=task)
    world.do(person, "task.tick", task=task, steps=[s.id for s in world.get(Task, task).plan.steps])
    world.do(person, "task.sign_off", task=task)


def test_a_task_waits_for_its_predecessor_and_names_it(new_world):
    """R5: what comes first is closed before the follower is taken; the list of waits says so."""
    world = new_world(w.plan(w.task("T1"), w.task("T2", after=["T1"])))
    assert "T1" in str(world.refused("bram", "task.take", "waits", task="T2").params["waits_for"])
    finish(world, "bram", "T1")
    assert world.get(Task, "T1").state == "closed"
    world.do("bram", "task.take", task="T2")


def test_a_lag_is_waited_out_on_the_calendar(new_world):
    """R5: sealant cures for 24 h although the task before is closed."""
    after = After(task="T1", lag=Lag(hours="24", why="sealant cures"))
    world = new_world(w.plan(w.task("T1"), w.task("T2", after=[after])))
    finish(world, "bram", "T1")
    assert world.refused("bram", "task.take", "waits", task="T2").params["waits_for"] == "sealant cures"
    world.later(hours=23, minutes=50)
    world.refused("bram", "task.take", "waits", task="T2")
    world.later(minutes=15)
    world.do("bram", "crew.sign_in")
    world.do("bram", "task.take", task="T2")


def test_the_lead_releases_out_of_order_with_a_reason(new_world):
    """R5: a released task can be taken although it waits; only the lead releases."""
    world = new_world(w.plan(w.task("T1"), w.task("T2", after=["T1"])))
    world.refused("bram", "plan.release_task", "role", task="T2", reason_text="x")
    world.do("ines", "plan.release_task", task="T2", reason_text="x")
    world.do("bram", "task.take", task="T2")


def test_done_is_enough_where_the_follower_does_not_touch(new_world):
    """R5: a follower that neither covers, loads nor disturbs may start at *done*; one that does waits for *closed*."""
    plan = w.plan(
        w.task("T1", hold_point=True),
        w.task("T2", after=[After(task="T1", touches=False)]),
        w.task("T3", after=["T1"]),
    )
    world = new_world(plan)
    finish(world, "bram", "T1")
    assert world.get(Task, "T1").state == "done"
    world.do("aled", "task.take", task="T2")
    world.refused("aled", "task.take", "waits", task="T3")
    world.do("sofia", "task.sign_hold", task="T1", step="end")
    assert world.get(Task, "T1").state == "closed"
    world.do("aled", "task.take", task="T3")


def test_one_taker_others_are_told_who(new_world):
    """R6: the second one is refused and told who has it."""
    world = new_world()
    world.load(w.plan(w.task("T1")))
    world.do("bram", "task.take", task="T1")
    assert world.refused("aled", "task.take", "taken_by", task="T1").params["holder_person"] == "bram"
    world.refused("bram", "task.take", "already_yours", task="T1")
    world.do("aled", "task.join", task="T1")
    assert [m.person for m in world.get(Task, "T1").mates] == ["aled"]


def test_no_step_before_the_must_have_people_joined(new_world):
    """R7: must-have people first; minors do not count towards them."""
    world = new_world(w.plan(w.task("T1", must_people=2)))
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "people_needed", task="T1", steps=["s1"])
    world.do("kofi", "task.join", task="T1", learner=True)
    world.refused("bram", "task.tick", "people_needed", task="T1", steps=["s1"])
    world.do("priya", "task.join", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])


def test_better_with_two_is_never_a_block(new_world):
    """R7: *better with two* is a flag."""
    world = new_world(w.plan(w.task("T1", better_people=2)))
    finish(world, "bram", "T1")
    assert world.get(Task, "T1").state == "closed"


def test_the_skill_is_needed_by_the_one_who_leads(new_world):
    """R8: a helper without the skill can't take it, but joins as a learner."""
    world = new_world(w.plan(w.task("T1", lead_skill="brakes")))
    assert "bram" in world.refused("priya", "task.take", "needs_skill", task="T1").params["ask_people"]
    world.do("bram", "task.take", task="T1")
    world.do("priya", "task.join", task="T1")
    world.do("ines", "crew.change_member", person="aled", skills=["brakes"])
    world.do("aled", "task.join", task="T1")
    assert [(m.person, m.learner) for m in world.get(Task, "T1").mates] == [("priya", True), ("aled", False)]


def test_as_many_with_the_skill_as_the_plan_says(new_world):
    """R8: two with the skill where the plan asks for two; one who learns is a pair of hands, and not the second."""
    world = new_world(w.plan(w.task("T1", lead_skill="brakes", must_people=2, skilled_people=2)))
    world.do("bram", "task.take", task="T1")
    world.do("priya", "task.join", task="T1")
    world.do("ines", "crew.change_member", person="aled", skills=["brakes"])
    refused = world.refused("bram", "task.tick", "skilled_needed", task="T1", steps=["s1"])
    assert refused.params == {"needed": 2, "skill": "brakes", "missing": 1, "ask_people": ["aled"]}
    assert world.view("priya", "task", task="T1").paused.code == "skilled_needed"
    assert [c.reason.code for c in world.view("aled", "queue").help_wanted] == ["skilled_missing"]
    assert world.view("sofia", "queue").help_wanted == []
    world.refused("bram", "task.sign_off", "skilled_needed", task="T1")
    world.do("aled", "task.join", task="T1", learner=True)
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    assert world.view("priya", "task", task="T1").paused is None


def test_minors_by_the_three_levels(new_world):
    """R8: *no*, *watch only*, *with an adult*; a minor never leads."""
    plan = w.plan(
        w.task("T1", minors="no"),
        w.task("T2", minors="watch"),
        w.task("T3", minors="with_adult", lead_skill="brakes"),
    )
    world = new_world(plan)
    alone = world.refused("kofi", "task.take", "minor_needs_adult", task="T3")
    assert (
        alone.refusal.way_on == "Ask {ask_people} to take it, then join them."
    )  # what he is told to do works, below
    assert alone.params["ask_people"] == ["bram"]  # who has the skill
    world.refused("kofi", "task.take", "minor_no", task="T1")
    for task in ("T1", "T2", "T3"):
        world.do("bram", "task.take", task=task)
    world.refused("kofi", "task.join", "minor_no", task="T1")
    world.refused("kofi", "task.join", "minor_watch", task="T2")
    world.do("kofi", "task.join", task="T2", learner=True)
    world.refused("kofi", "task.tick", "minor_watch", task="T2", steps=["s1"])
    world.do("kofi", "task.join", task="T3")
    world.do("kofi", "task.tick", task="T3", steps=["s1"])


def test_whoever_is_still_needed_may_join_however_many_are_there(new_world):
    """R6, R7, R8: "enough here" turns nobody away whom the work lacks: under-18s fill no must-have place, and somebody
    stuck wants another pair of eyes."""
    crew = {**w.CREW, "mei": {"role": "helper", "minor": "with_adult"}}
    plan = w.plan(
        w.task("T1", must_people=2),
        w.task("T3"),
    )
    world = new_world(plan, crew=crew)
    world.do("bram", "task.take", task="T1")
    for minor in ("kofi", "mei"):
        world.do(minor, "task.join", task="T1")
    world.refused("bram", "task.tick", "people_needed", task="T1", steps=["s1"])
    world.do("priya", "task.join", task="T1")
    world.refused("aled", "task.join", "enough_here", task="T1")

    world.do("bram", "task.take", task="T3")
    world.do("priya", "task.join", task="T3")
    world.refused("aled", "task.join", "enough_here", task="T3")
    assert not [c for c in world.view("aled", "queue").help_wanted if c.task == "T3"]
    world.do("bram", "task.stuck", task="T3", reason="other")
    assert [c.reason.code for c in world.view("aled", "queue").help_wanted if c.task == "T3"] == ["is_stuck"]
    world.do("aled", "task.join", task="T3")


def test_a_missing_single_use_part_stops_and_have_you_got_it_corrects(new_world):
    """R5: the stock may be wrong; *I have got it* corrects it and the work goes on."""
    nut = {"id": "nut", "name": "Lock nut", "source": "new", "count": 0, "single_use": True}
    world = new_world(w.plan(w.task("T1", uses=[{"part": "nut", "count": 2}]), parts=[nut]))
    world.refused("bram", "task.take", "waits", task="T1")
    world.do("bram", "task.have_part", task="T1", part="nut", have=True)
    assert world.get(Part, "nut").in_stock == 2
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.have_part", task="T1", part="nut", have=False)
    world.refused("bram", "task.tick", "missing_single_use", task="T1", steps=["s1"])


BESIDE = [  # R27, word for word; and, beyond its words, under the car while the engine runs
    *(("under_car", other) for other in ("jacking", "wheels_off", "cranking", "live_battery", "engine_running")),
    *(("fuel_open", other) for other in ("sparks", "heat", "live_battery")),
    ("engine_running", "hands_in"),
]  # fmt: skip


@pytest.mark.parametrize(("one", "other"), BESIDE)
def test_work_that_hurts_other_work_does_not_run_beside_it(new_world, one, other):
    """R27: each pair of the table, in both directions; the refusal names the first person."""
    for first, second in ((one, other), (other, one)):
        world = new_world(w.plan(w.task("T1", hazards=[first]), w.task("T2", hazards=[second])))
        world.do("bram", "task.take", task="T1")
        refused = world.refused("aled", "task.take", "hazard_clash", task="T2")
        assert refused.params["holder_person"] == "bram"
        world.do("bram", "task.give_back", task="T1", reason="time")
        world.do("aled", "task.take", task="T2")


def test_im_under_blocks_a_live_battery_until_im_out(new_world):
    """R27: one tap; connecting the battery is refused and says who is under."""
    world = new_world(w.plan(w.task("T1", hazards=["live_battery"])))
    world.do("bram", "hazard.under")
    assert world.refused("aled", "task.take", "hazard_clash", task="T1").params["holder_person"] == "bram"
    world.do("bram", "hazard.out")
    world.do("aled", "task.take", task="T1")


def test_who_left_the_crew_is_under_no_car_and_others_say_out_after_looking(new_world):
    """R27: nobody stays under for good: leaving the crew ends it, and anybody who looked says that somebody is out.
    Signing out alone ends nothing: who is still beneath is still beneath.
    """
    world = new_world(w.plan(w.task("T1", hazards=["live_battery"])))
    world.do("bram", "hazard.under")
    world.do("bram", "crew.sign_out")
    world.refused("aled", "task.take", "hazard_clash", task="T1")
    world.do("ines", "crew.leave", person="bram")
    assert world.told() == ["crew.left", "hazard.came_out"]
    assert world.all(Under) == []

    world.do("priya", "hazard.under")
    world.do("sofia", "hazard.out", person="priya")
    assert world.all(Under) == []
    world.do("aled", "task.take", task="T1")


def test_an_isolator_tag_is_lifted_by_its_owner_or_by_two(new_world):
    """R27, R8: somebody else's tag needs two grown people, after looking, and its owner away."""
    world = new_world(w.plan(w.task("T1", hazards=["live_battery"])))
    world.do("bram", "hazard.hang_tag", what="battery")
    tag = next(iter(world.state.rows["tag"]))
    world.refused("aled", "task.take", "tag_hangs", task="T1")
    world.refused("aled", "hazard.lift_tag", "tag_not_yours", tag=tag)
    here = world.refused(
        "aled", "hazard.propose_lift_tag", "owner_is_in", tag=tag, reason_text="not seen him"
    )
    assert here.params["owner_person"] == "bram"
    world.do("bram", "crew.sign_out")
    world.refused("kofi", "hazard.propose_lift_tag", "minor_cannot", tag=tag, reason_text="he went home")
    world.do("aled", "hazard.propose_lift_tag", tag=tag, reason_text="he went home")
    proposal = next(iter(world.state.rows["proposal"]))
    world.refused("aled", "two.second", "somebody_else", proposal=proposal)
    world.do("sofia", "two.second", proposal=proposal)
    world.do("aled", "task.take", task="T1")


def test_an_owner_who_comes_back_is_asked_about_their_tag(new_world):
    """R27: two people stand in for an absent owner, and for nobody who is here."""
    world = new_world(w.plan(w.task("T1", hazards=["live_battery"])))
    world.do("bram", "hazard.hang_tag", what="battery")
    world.do("bram", "crew.sign_out")
    tag = next(iter(world.state.rows["tag"]))
    proposed = world.do("aled", "hazard.propose_lift_tag", tag=tag, reason_text="he went home")
    world.do("bram", "crew.sign_in")
    world.refused("sofia", "two.second", "proposal_lapsed", proposal=proposed.new_id("proposal"))


def test_a_tag_on_anything_else_says_in_words_what_stays_off(new_world):
    """R1, R27: words are a payload, which `note` names; without them nobody would know."""
    world = new_world(w.plan(w.task("T1", hazards=["live_battery"])))
    assert world.refused("bram", "hazard.hang_tag", "bad_input", what="other").params["field"] == "what_text"
    world.do("bram", "hazard.hang_tag", what="other", what_text="the starter's lead")
    tag = next(iter(world.state.rows["tag"].values()))
    assert (tag.what, tag.note) == ("other", "the starter's lead")  # in the world without a store: as typed
    world.do("aled", "task.take", task="T1")


@pytest.mark.parametrize("hazard", ["under_car", "fuel_open", "springs", "lift"])
def test_not_alone(new_world, hazard):
    """R28: nobody else signed in: no under-car, fuel, spring or lifting task. Somebody under 18 is no company (R8)."""
    world = new_world(w.plan(w.task("T1", "One", "Two", hazards=[hazard])), signed_in=False)
    world.do("bram", "crew.sign_in")
    world.do("kofi", "crew.sign_in")
    world.refused("bram", "task.take", "alone", task="T1")
    world.do("aled", "crew.sign_in")
    world.do("bram", "task.take", task="T1")
    assert world.view("bram", "task", task="T1").paused is None
    world.do("aled", "crew.sign_out")
    assert world.view("bram", "task", task="T1").paused.code == "alone"
    world.refused("bram", "task.tick", "alone", task="T1", steps=["s1"])


def test_what_was_done_in_company_is_taken_when_it_arrives_late(new_world):
    """R3, R28: Bram's phone had no signal; when it has, everybody else has gone home."""
    world = new_world(w.plan(w.task("T1", "One", "Two", hazards=["under_car"])), signed_in=False)
    world.do("bram", "crew.sign_in")
    world.do("aled", "crew.sign_in")
    world.do("bram", "task.take", task="T1")
    then = world.now_ms
    world.do("aled", "crew.sign_out")
    world.later(minutes=11)
    world.do("bram", "task.tick", task="T1", steps=["s1"], device_ms=then)
    world.refused("bram", "task.tick", "alone", task="T1", steps=["s2"])
    world.do("bram", "task.tick", task="T1", steps=["s2"], device_ms=then)
    world.do("bram", "task.sign_off", task="T1")


def test_buddy_work_pauses_when_the_second_leaves(new_world):
    """R28: a buddy task needs two adults throughout."""
    world = new_world(w.plan(w.task("T1", "One", "Two", buddy=True)))
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "buddy_gone", task="T1", steps=["s1"])
    world.do("aled", "task.join", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("aled", "task.leave", task="T1")
    world.refused("bram", "task.tick", "buddy_gone", task="T1", steps=["s2"])


def test_a_shut_gate_blocks_only_the_tasks_it_guards(new_world):
    """R25: never unrelated work."""
    world = new_world(w.plan(w.task("T1"), w.task("T2"), gates=[w.gate(guards=["T1"])]))
    world.refused("bram", "task.take", "gate_shut", task="T1")
    world.do("bram", "task.take", task="T2")


def test_stuck_passing_on_and_going_home_lose_nothing(new_world):
    """R10: ticks stay; anybody carries on."""
    world = new_world(w.plan(w.task("T1", "One", "Two")))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["s1"])
    world.do("bram", "task.stuck", task="T1", reason="no_tool")
    world.refused("bram", "task.tick", "is_stuck", task="T1", steps=["s2"])
    world.do("aled", "task.take_over", task="T1")
    world.do("aled", "task.pass_on", task="T1", to_person="priya")
    world.do("priya", "task.go_home", task="T1", step="s2", reason="time", tag_on_car=True)
    row = world.get(Task, "T1")
    assert (row.state, row.holder, list(row.ticks)) == ("open", None, ["s1"])
    assert row.handover is not None
    assert row.handover.tag_on_car
    assert row.worked == ["bram", "aled", "priya"]


def test_only_the_holder_or_a_lead_passes_on(new_world):
    """R10: a mate takes nothing to herself; what is passed on says who pressed, and goes to somebody who can have it."""
    world = new_world(w.plan(w.task("T1", "One", "Two")))
    world.do("bram", "task.take", task="T1")
    world.do("priya", "task.join", task="T1")
    refused = world.refused("priya", "task.pass_on", "not_yours_to_pass", task="T1", to_person="priya")
    assert refused.params["holder_person"] == "bram"
    world.refused("bram", "task.pass_on", "has_it_already", task="T1", to_person="bram")
    world.do("ines", "task.pass_on", task="T1", to_person="aled")
    row = world.get(Task, "T1")
    assert row.handover is not None
    assert (row.holder, row.handover.by, row.handover.how) == ("aled", "ines", "passed_on")


def test_r30_a_deputy_moves_what_is_stuck_or_left_and_nothing_that_is_worked_on(new_world):
    """R30: a deputy for the day *releases stuck tasks*; who is at their work keeps it. A lead moves any."""
    world = new_world(w.plan(w.task("T1", "One", "Two")))
    until = world.now_ms + 3 * w.HOUR
    world.do("ines", "crew.name_deputy", person="sofia", until_ms=until)
    world.do("bram", "task.take", task="T1")
    world.refused("sofia", "task.pass_on", "not_yours_to_pass", task="T1", to_person="aled")
    world.refused("sofia", "task.take_over", "not_stuck_or_left", task="T1")
    world.do("bram", "task.stuck", task="T1", reason="no_tool")
    world.do("sofia", "task.pass_on", task="T1", to_person="aled")
    world.do("aled", "crew.sign_out")
    world.do("sofia", "task.pass_on", task="T1", to_person="bram")
    world.do("ines", "task.take_over", task="T1")
    world.do("ines", "task.stuck", task="T1", reason="no_tool")
    world.now_ms = until
    world.refused("sofia", "task.pass_on", "not_yours_to_pass", task="T1", to_person="aled")


@pytest.mark.parametrize("change", [{"role": "viewer"}, {"minor": "watch"}])
def test_r30_who_may_not_be_deputy_any_more_is_none(new_world, change):
    """R8, R30: made a viewer since, or known to be under 18, they decide nothing, whatever the day still has."""
    world = new_world(w.plan(w.task("T1"), gates=[w.gate(on_the_day=["Out of gear"])]))
    world.do("ines", "crew.name_deputy", person="aled", until_ms=world.now_ms + w.HOUR)
    world.do("ines", "crew.change_member", person="aled", **change)
    code = "viewer" if "role" in change else "role"
    world.refused("aled", "gate.propose", code, gate="crank", confirmed=["Out of gear"])
    world.refused("aled", "crew.invite", code, invite="i", role="helper", guest_for_the_day=True)


def test_nothing_is_passed_to_a_guest_whose_day_is_over(new_world):
    """R10, R29."""
    guest = {"role": "helper", "guest_for_the_day": True}
    world = new_world(w.plan(w.task("T1")), crew={**w.CREW, "noor": guest})
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.pass_on", task="T1", to_person="noor")
    world.do("noor", "task.pass_on", task="T1", to_person="bram")
    world.later(hours=17)
    assert (
        world.refused("bram", "task.pass_on", "guest_gone", task="T1", to_person="noor").params[
            "guest_person"
        ]
        == "noor"
    )


def test_a_holder_who_is_here_is_not_taken_over_but_by_the_lead(new_world):
    """R6, R10: take over what is stuck or left; the lead any."""
    world = new_world(w.plan(w.task("T1")))
    world.do("bram", "task.take", task="T1")
    world.refused("aled", "task.take_over", "not_stuck_or_left", task="T1")
    world.do("bram", "crew.sign_out")
    world.do("aled", "task.take_over", task="T1")
    world.do("ines", "task.take_over", task="T1")
    assert world.get(Task, "T1").holder == "ines"


def test_a_step_with_a_group_of_its_own_is_not_ticked_before_it_is_run_in(new_world):
    """R9: a run in step is done when its bolts are."""
    run_in = Step(id="r", say="Run in", kind="run_in", group="G1")
    tighten = Step(id="t", say="Tighten", kind="tighten", group="G1")
    world = new_world(
        w.plan(
            w.task("T1", run_in),
            w.task("T2", tighten, after=["T1"]),
            specs=[w.spec()],
            groups=[w.group()],
            gates=[w.gate()],
        )
    )
    world.do("bram", "task.take", task="T1")
    world.refused("bram", "task.tick", "group_not_final", task="T1", steps=["r"])
    world.do("bram", "torque.run_in", group="G1", task="T1", bolts=[1, 2, 3, 4], how="run_in")
    world.do("bram", "task.tick", task="T1", steps=["r"])
    assert [e.kind for e in world.state.rows["loose_end"].values()] == ["run_in"]  # R23


def test_a_lag_that_the_task_itself_has_is_waited_out_too(new_world):
    """R5: lags are over, whichever of the two the plan gives them to."""
    world = new_world(
        w.plan(w.task("T1", lag_after=Lag(hours="2", why="paint dries")), w.task("T2", after=["T1"]))
    )
    finish(world, "bram", "T1")
    assert world.refused("bram", "task.take", "waits", task="T2").params["waits_for"] == "paint dries"
    world.later(hours=2)
    world.do("bram", "task.take", task="T2")


def test_no_release_goes_round_a_missing_single_use_part(new_world):
    """R5: a release is out of order, and no part; *I have got it* is the way on."""
    nut = {"id": "nut", "name": "Lock nut", "source": "new", "count": 0, "single_use": True}
    tasks = [w.task("T1"), w.task("T2", after=["T1"], uses=[{"part": "nut", "count": 1}])]
    world = new_world(w.plan(*tasks, parts=[nut]))
    world.do("ines", "plan.release_task", task="T2", reason_text="x")
    world.refused("bram", "task.take", "waits", task="T2")
    world.do("bram", "task.have_part", task="T2", part="nut", have=True)
    world.do("bram", "task.take", task="T2")


def test_r27_who_lies_under_the_car_is_told_from_who_only_has_the_task(new_world):
    """R27: the battery waits in both cases; that somebody lies there is said only of who said so."""
    world = new_world(w.plan(w.task("T1", hazards=["under_car"]), w.task("T2", hazards=["live_battery"])))
    world.do("bram", "task.take", task="T1")
    at_it = lambda: world.refused("aled", "task.take", "hazard_clash", task="T2").params["at_it"]  # noqa: E731
    assert at_it() == "is at work under the car"
    world.do("bram", "hazard.under", task="T1")
    assert at_it() == "is under the car"
    world.do("bram", "hazard.out")
    assert at_it() == "is at work under the car"
