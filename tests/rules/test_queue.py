"""The queue: what to start now and why that one (R5 to R8)."""

from __future__ import annotations

import time

import pytest

from rules import world as w
from yokemate.rules.presence import DAY_IN_MS
from yokemate.rules.queue import weights
from yokemate.rules.rows import Task
from yokemate.rules.views.plan import PlanView
from yokemate.rules.views.queue import QueueView


def test_what_holds_up_most_comes_first(new_world):
    """The longest path through the remaining work to the next gate leads; it says which gate waits."""
    plan = w.plan(
        w.task("T1", minutes=(10, 20, 30)),
        w.task("T2", minutes=(10, 20, 30)),
        w.task("T3", after=["T2"], minutes=(60, 300, 400)),
        w.task("T4"),
        gates=[w.gate(standing=[{"task_closed": "T3"}, {"task_closed": "T1"}])],
    )
    world = new_world(plan)
    view: QueueView = world.view("bram", "queue")
    assert view.start_now is not None
    assert (view.start_now.task, view.start_now.reason.code) == ("T2", "gate_waits")
    assert view.start_now.reason.params["gate"] == "Gate crank"
    assert [c.task for c in view.after_that] == ["T1", "T4"]
    assert [(c.task, c.waits[0].params["about"]) for c in view.not_yet] == [("T3", "T2")]
    assert weights(world.state)["T2"].tail_minutes == 320


def test_a_newcomer_is_never_left_without_anything_while_help_is_of_use(new_world):
    """R7: the newcomer's queue holds taken work that wants hands, strongest need first."""
    plan = w.plan(
        w.task("T1", lead_skill="mechanical", better_people=2),
        w.task("T2", lead_skill="brakes", must_people=2),
    )
    world = new_world(plan)
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.take", task="T2")
    view: QueueView = world.view("priya", "queue")
    assert view.start_now is None
    assert [(c.task, c.reason.code) for c in view.help_wanted] == [
        ("T2", "people_missing"),
        ("T1", "goes_better"),
    ]


def test_the_lead_may_look_at_anyones_queue_and_nobody_else(new_world):
    """R31: another person's queue is for the lead, without *not for you*."""
    world = new_world(w.plan(w.task("T1", lead_skill="electrical")))
    assert world.view("priya", "queue").not_for_you[0].reason.code == "needs_skill"
    assert world.view("ines", "queue", person="priya").not_for_you == []
    try:
        world.view("aled", "queue", person="priya")
    except Exception as refused:
        assert getattr(refused, "code", None) == "role"
    else:
        raise AssertionError("a helper saw somebody else's queue")


def test_minors_and_viewers_are_offered_nothing_to_lead(new_world):
    """R8, R30: their queues say why."""
    world = new_world(w.plan(w.task("T1")))
    assert world.view("kofi", "queue").not_for_you[0].reason.code == "minor_needs_adult"
    assert world.view("vera", "queue").not_for_you[0].reason.code == "viewer"


def test_the_screen_of_a_task_says_too_that_it_is_not_for_its_reader(new_world):
    """R8: what the queue keeps apart is not offered when it is opened by its address; nobody else is told."""
    world = new_world(w.plan(w.task("T1", minors="no"), w.task("T2", lead_skill="electrical", after=["T1"])))
    assert world.view("kofi", "task", task="T1").card.state == "not_for_you"
    assert world.view("kofi", "task", task="T1").card.not_for_me.code == "minor_no"
    assert world.view("priya", "task", task="T2").card.not_for_me.code == "needs_skill"
    assert world.view("bram", "task", task="T1").card.not_for_me is None
    world.do("bram", "task.take", task="T1")
    assert world.view("kofi", "task", task="T1").card.not_for_me is None, "nobody is offered to take it"


def test_somebody_young_is_shown_what_they_may_watch(new_world):
    """R8: work with an adult first, what is only to be watched last, what is not for them not at all."""
    plan = w.plan(
        w.task("T1", minors="watch", better_people=2),
        w.task("T2", better_people=2),
        w.task("T3", minors="no"),
    )
    world = new_world(plan)
    assert [c.reason.code for c in world.view("kofi", "queue").not_for_you] == [
        "minor_watches", "minor_needs_adult", "minor_no",
    ]  # fmt: skip
    for task in ("T1", "T2", "T3"):
        world.do("bram", "task.take", task=task)
    assert [(c.task, c.reason.code) for c in world.view("kofi", "queue").help_wanted] == [
        ("T2", "goes_better"),
        ("T1", "may_watch"),
    ]


def test_the_plan_counts_and_names_what_holds_up(new_world):
    """Stages with their marks in working order; the five that hold up most."""
    world = new_world(w.plan(w.task("T1"), w.task("T2", after=["T1"])))
    world.do("bram", "task.take", task="T1")
    view: PlanView = world.view("aled", "plan")
    assert [(m.task, m.state) for m in view.stages[0].marks] == [("T1", "taken"), ("T2", "waiting")]
    assert [c.task for c in view.holding_up] == ["T1"]


def test_five_hundred_tasks_are_linear(new_world):
    """The cost of a queue grows with the plan, not with its square: five times the tasks, less than twelve times the time."""

    def cost(count: int) -> float:
        tasks = [w.task(f"T{i}", after=[f"T{i - 1}"] if i % 10 else []) for i in range(count)]
        world = new_world(w.plan(*tasks))
        world.view("bram", "queue")
        best = 1e9
        for _ in range(3):
            begun = time.process_time()
            world.view("bram", "queue")
            best = min(best, time.process_time() - begun)
        return best

    assert cost(500) < 12 * cost(100)


@pytest.mark.parametrize("name", ["queue", "task", "checks"])
def test_what_is_said_of_who_is_here_ends_when_the_next_sign_in_does(new_world, name):
    """R28: a sign-in is forgotten after a long day without an entry, and nobody is then company for under-car work."""
    world = new_world(
        w.plan(w.task("T1", hazards=["under_car"])), crew={"bram": w.CREW["bram"]}, signed_in=False
    )
    world.do("bram", "crew.sign_in")
    came = world.now_ms
    world.later(hours=15)
    world.do("ines", "crew.sign_in")
    params = {"task": "T1"} if name == "task" else {}
    assert world.view("ines", name, **params).valid_until_ms == came + DAY_IN_MS
    assert world.view("ines", "queue").start_now is not None
    world.now_ms = came + DAY_IN_MS
    assert world.view("ines", "queue").start_now is None


def test_r7_wanting_help_shows_at_once_in_the_others_queues(new_world):
    """R7: with the next look of everybody else, first of all; who is on it may take it back, and enough who come end it."""
    world = new_world(w.plan(w.task("T1", better_people=2), w.task("T2")))
    world.do("bram", "task.take", task="T1")
    refused = world.refused("priya", "task.want_help", "another_has_it", task="T1")
    assert refused.params["holder_person"] == "bram"
    world.do("bram", "task.want_help", task="T1")
    assert wanted(world, "priya") == [("T1", "help_wanted")]
    assert wanted(world, "bram") == []
    world.do("bram", "task.want_help", task="T1", wanted=False)
    assert ("T1", "help_wanted") not in wanted(world, "priya")
    world.do("bram", "task.want_help", task="T1")
    world.do("priya", "task.join", task="T1")
    assert not world.get(Task, "T1").help_wanted
    assert wanted(world, "aled") == []


def wanted(world, person):
    return [(card.task, card.reason.code) for card in world.view(person, "queue").help_wanted]
