"""Plans of the build days over HTTP: at once, improved apart, taken by the lead; who may ask; nothing left running."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from rules.world import lift, plan, task
from support.phones import Garage
from support.small_plan import SMALL
from yokemate import planner
from yokemate.planfile.model import Step, ToolPlan
from yokemate.planfile.write import write
from yokemate.planner import Job, Planner
from yokemate.planning.windows import windows_for
from yokemate.store import hours, ledger, offers

WEEK = {
    "weekly": [{"weekday": day, "begins": "09:00", "ends": "17:00"} for day in range(7)],
    "exceptions": [],
}
PATIENCE_S = 60.0
WITH_A_LIFT = plan(
    task("T1", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", hazards=["lift"]),
    task("T2", "Sweep the floor"),
    lifts=[lift("L1", mass_kg="20")],
)


@pytest.fixture
def ready(one: Garage) -> Iterator[Garage]:
    """A plan is loaded and everybody gave hours."""
    ines = one.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}}, 200)
    for name in ("ines", "bram", "kofi"):
        path = f"{ines.home}/people/{one.phones[name].person}/hours"
        assert ines.ask("PUT", path, WEEK).status_code == 200
    one.service.settings = replace(one.service.settings, plan_seconds=0)
    yield one
    one.service.planner.close()


def ended(job: Job) -> bool:
    """Its process has ended, waited for as long as a busy machine may need."""
    until = time.monotonic() + PATIENCE_S
    while (job.working or (job.process is not None and job.process.alive)) and time.monotonic() < until:
        time.sleep(0.05)
    return not job.working and (job.process is None or not job.process.alive)


def test_a_plan_is_there_at_once_and_taken_by_the_lead(ready: Garage) -> None:
    """R2, R30: nothing changes before it is taken; what is taken stands in the record."""
    ines = ready.phones["ines"]
    head = ines.head()

    offered = ines.post(f"{ines.home}/days/plan", {}, 200)

    assert offered["placed"] > 0
    assert ines.head() == head
    assert ines.get(f"{ines.home}/days")["taken_ms"] is None
    assert ready.phones["bram"].act("/days/take", 403, offer=offered["offer"])["code"] == "role"
    ines.act("/days/take", offer=offered["offer"])
    seen = ready.phones["kofi"].get(f"{ines.home}/days")
    assert seen["taken_by"] == ines.person
    assert seen["days"]


def test_somebody_cancels_and_the_new_plan_says_what_moves(ready: Garage) -> None:
    """The lead sees what no longer holds; re-planning lists the differences; what holds stays."""
    ines, bram = ready.phones["ines"], ready.phones["bram"]
    ines.act("/days/take", offer=ines.post(f"{ines.home}/days/plan", {}, 200)["offer"])
    assert ines.post(f"{ines.home}/days/plan", {}, 200)["differences"] == []
    day = ines.get(f"{ines.home}/days")["days"][0]
    busy = next(p["person"] for p in day["persons"] if p["person"] in (ines.person, bram.person))

    gone = {**WEEK, "exceptions": [{"on": day["on"], "comes": False}]}
    ines.ask("PUT", f"{ines.home}/people/{busy}/hours", gone)

    trouble = ines.get(f"{ines.home}/days")["trouble"]
    assert {one["person"] for one in trouble} == {busy}
    again = ines.post(f"{ines.home}/days/plan", {}, 200)
    assert {one["task"] for one in trouble} <= {one["task"] for one in again["differences"]}


def taken(garage: Garage) -> list[dict[str, Any]]:
    """A plan is worked out and taken; its blocks."""
    ines = garage.phones["ines"]
    ines.act("/days/take", offer=ines.post(f"{ines.home}/days/plan", {}, 200)["offer"])
    job = garage.service.planner.job(garage.build)
    assert job is not None
    return list(job.best.offer.data["blocks"])


def trouble(garage: Garage) -> list[tuple[str, str]]:
    ines = garage.phones["ines"]
    return [(one["kind"], one["task"]) for one in ines.get(f"{ines.home}/days")["trouble"]]


def test_what_should_be_over_is_said_and_planned_again(ready: Garage) -> None:
    """T1 was not begun; a quarter of an hour after its end that is no slip any more. T3, which waits for it, moves too."""
    ines = ready.phones["ines"]
    first = next(b for b in taken(ready) if b["task"] == "T1")
    ready.clock.now_ms = first["to_ms"] + 14 * 60_000
    assert ("overdue", "T1") not in trouble(ready)
    ready.clock.now_ms = first["to_ms"] + 15 * 60_000
    assert ("overdue", "T1") in trouble(ready)

    moves = {one["task"]: one for one in ines.post(f"{ines.home}/days/plan", {}, 200)["differences"]}
    blocks = {b["task"]: b for b in taken(ready)}
    assert moves["T1"]["kind"] == "moved"
    assert blocks["T1"]["from_ms"] >= ready.clock.now_ms
    assert blocks["T3"]["from_ms"] >= blocks["T1"]["to_ms"]
    assert trouble(ready) == []


def test_a_part_that_comes_late_is_said_and_planned_again(ready: Garage) -> None:
    """A seal off the shelf, then said to come three days later (the garage's days are London's)."""
    ines = ready.phones["ines"]
    seal = plan(
        task("T1", "Fit it", uses=[{"part": "P1"}]), parts=[{"id": "P1", "name": "Seal", "source": "new"}]
    )
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(seal), "options": {}}, 200)
    [first] = taken(ready)
    late = datetime.fromtimestamp(first["from_ms"] / 1000, UTC).date() + timedelta(days=3)
    ines.act("/tasks/T1/have-part", part="P1", have=False)
    assert trouble(ready) == [("no_date", "T1")]
    ines.act("/parts/P1/expected", on=late.isoformat())
    assert trouble(ready) == [("part_late", "T1")]

    [moved] = ines.post(f"{ines.home}/days/plan", {}, 200)["differences"]
    [again] = taken(ready)
    assert (moved["kind"], moved["task"]) == ("moved", "T1")
    assert datetime.fromtimestamp(again["from_ms"] / 1000, UTC).date() == late
    assert trouble(ready) == []


def test_a_plan_that_no_longer_holds_is_not_taken(ready: Garage) -> None:
    """R32: whoever is planned for a task cancels after it was worked out; nothing changes. The new plan is taken."""
    ines = ready.phones["ines"]
    offered = ines.post(f"{ines.home}/days/plan", {}, 200)
    job = ready.service.planner.job(ready.build)
    assert job is not None
    block = job.best.offer.data["blocks"][0]
    on = datetime.fromtimestamp(block["from_ms"] / 1000, UTC).date().isoformat()
    gone = {**WEEK, "exceptions": [{"on": on, "comes": False}]}
    for person in block["team"]:
        ines.ask("PUT", f"{ines.home}/people/{person}/hours", gone)
    head = ines.head()

    refused = ines.act("/days/take", 409, offer=offered["offer"])
    assert (refused["code"], refused["params"]["what"]) == ("offer_stale", block["task"])
    assert ines.head() == head
    ines.act("/days/take", offer=ines.post(f"{ines.home}/days/plan", {}, 200)["offer"])


def test_where_nobody_gives_hours_any_more_no_plan_is_taken(ready: Garage) -> None:
    """R32: everybody takes back what they said after it was worked out."""
    ines = ready.phones["ines"]
    offered = ines.post(f"{ines.home}/days/plan", {}, 200)
    for name in ("ines", "bram", "kofi"):
        path = f"{ines.home}/people/{ready.phones[name].person}/hours"
        assert ines.ask("PUT", path, {"weekly": [], "exceptions": []}).status_code == 200
    head = ines.head()

    assert ines.act("/days/take", 409, offer=offered["offer"])["code"] == "offer_stale"
    assert ines.head() == head


def test_what_one_process_found_is_taken_by_another(ready: Garage) -> None:
    """A second process on the same database: it says how the search of the first stands, hands on its offer, and ends it by
    asking itself; so does ending it there. What it offers is taken through the first."""
    ready.service.settings = replace(ready.service.settings, plan_seconds=60)
    here, there = ready.service.planner, Planner(ready.service.database)
    ines = ready.phones["ines"]
    offered = ines.post(f"{ines.home}/days/plan", {}, 200)
    first = here.job(ready.build)
    assert first is not None
    seen = there.standing(ready.build)
    assert seen is not None
    assert (seen.working, seen.broke) == (True, False)
    assert seen.best.offer.data["blocks"]

    loaded = ready.service.handler.states.current(ready.build)
    assert loaded is not None
    with ready.service.database.read() as connection:
        said = hours.of_build(connection, ready.build)
    second = there.plan(ready.build, loaded.state, said, ready.clock.now_ms)
    assert ended(first), "the second request came to another process, and ends it all the same"
    shown = ines.get(f"{ines.home}/days/plan")
    assert (shown["offer"], shown["working"], shown["broke"]) == (second.best.id, False, False)
    ines.act("/days/take", offer=second.best.id)
    ines.act("/days/take", offer=offered["offer"])

    ines.post(f"{ines.home}/days/plan", {}, 200)
    third = here.job(ready.build)
    assert third is not None
    found = there.end(ready.build)
    assert found is not None
    assert not found.working
    assert ended(third)


def test_a_search_whose_process_is_gone_is_over(ready: Garage) -> None:
    """It was killed, or the machine went down, and could say nothing: its last plan stands and may be taken."""
    ines = ready.phones["ines"]
    offered = ines.post(f"{ines.home}/days/plan", {}, 200)
    silent_ms = time.time_ns() // 1_000_000 - planner.SILENT_MS - 1000
    with ready.service.database.write() as connection:
        offers.begin(connection, ready.build, "search-x", offered["offer"], "working", silent_ms)

    assert not ines.get(f"{ines.home}/days/plan")["working"]
    ines.act("/days/take", offer=offered["offer"])


def test_looking_no_further_leaves_the_best_so_far(ready: Garage) -> None:
    ready.service.settings = replace(ready.service.settings, plan_seconds=60)
    ines = ready.phones["ines"]
    assert ines.post(f"{ines.home}/days/plan/end", {})["code"] == "offer_gone"
    ines.post(f"{ines.home}/days/plan", {}, 200)
    job = ready.service.planner.job(ready.build)
    assert job is not None

    best = ines.post(f"{ines.home}/days/plan/end", {}, 200)

    assert not best["working"]
    assert ended(job)
    ines.act("/days/take", offer=best["offer"])


def test_a_time_for_a_lift_is_proven_again_when_it_is_chosen(ready: Garage) -> None:
    """The best time is there again until those who would lift cancel that day."""
    ines = ready.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(WITH_A_LIFT), "options": {}}, 200)
    times = f"{ines.home}/days/lifts/L1/times"
    found = ines.get(times)
    first = found["offers"][0]
    assert first["cost_min"] == 0
    assert ines.get(f"{times}/{first['from_ms']}") == first

    on = datetime.fromtimestamp(first["from_ms"] / 1000, UTC).date().isoformat()
    for person in first["people"]:
        gone = {**WEEK, "exceptions": [{"on": on, "comes": False}]}
        ines.ask("PUT", f"{ines.home}/people/{person}/hours", gone)
    assert ines.ask("GET", f"{times}/{first['from_ms']}").json()["code"] == "time_gone"
    assert ines.ask("GET", f"{times}/soon").json()["code"] == "bad_input"


@pytest.mark.parametrize(("name", "code"), [("bram", "role"), ("kofi", "role"), ("vera", "viewer")])
def test_r30_planning_is_the_leads(ready: Garage, name: str, code: str) -> None:
    phone = ready.phones[name]

    assert phone.post(f"{phone.home}/days/plan", {})["code"] == code
    assert phone.post(f"{phone.home}/days/plan/end", {})["code"] == code
    assert phone.ask("GET", f"{phone.home}/days/plan").json()["code"] == code
    assert phone.ask("GET", f"{phone.home}/days/lifts/L1/times").json()["code"] == code
    assert phone.ask("GET", f"{phone.home}/days/lifts/L1/times/0").json()["code"] == code


def test_without_hours_it_says_what_to_do(one: Garage) -> None:
    ines = one.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}}, 200)

    answer = ines.post(f"{ines.home}/days/plan", {})

    assert (answer["code"], answer["status"]) == ("no_days", 409)
    assert "Hours I can come" in answer["way_on"]


def test_improving_runs_apart_and_a_second_request_ends_the_first(ready: Garage) -> None:
    """Phones are answered meanwhile; the first process is ended by the second request, the second by closing."""
    ready.service.settings = replace(ready.service.settings, plan_seconds=60)
    ines = ready.phones["ines"]

    assert ines.post(f"{ines.home}/days/plan", {}, 200)["working"]
    first = ready.service.planner.job(ready.build)
    assert first is not None
    assert ines.get(f"{ines.home}/queue")
    best = ines.get(f"{ines.home}/days/plan")
    ines.post(f"{ines.home}/days/plan", {}, 200)
    second = ready.service.planner.job(ready.build)
    assert second is not None
    assert second is not first
    assert ended(first)
    ready.service.planner.close()
    assert ended(second)
    assert (first.broke, second.broke) == (False, False), "they were ended, they did not break"
    assert best["placed"] > 0


def test_more_builds_than_the_machine_bears_are_improved_one_after_the_other(ready: Garage) -> None:
    """Two are looked at while one may be: the second waits, its plan may be taken meanwhile; its turn comes when the first
    is ended. Nobody's plan that may be taken is lost to another build's.
    """
    at = ready.service.planner
    at._turns = threading.Semaphore(1)
    at._turns.acquire()  # another build is improved
    loaded = ready.service.handler.states.current(ready.build)
    assert loaded is not None
    with ready.service.database.write() as connection:
        said = hours.of_build(connection, ready.build)
        ledger.found_build(connection, "other", ready.clock.now_ms)
    first = at.plan("other", loaded.state, said, ready.clock.now_ms, 0)

    ready.service.settings = replace(ready.service.settings, plan_seconds=60)
    ines = ready.phones["ines"]
    for _ in range(25):
        offered = ines.post(f"{ines.home}/days/plan", {}, 200)
    assert (offered["working"], offered["waiting"]) == (True, True)
    with ready.service.database.read() as connection:
        assert offers.data_of(connection, "other", first.best.id) is not None
    job = at.job(ready.build)
    assert job is not None
    at._turns.release()
    until = time.monotonic() + PATIENCE_S
    while job.process is None and time.monotonic() < until:
        time.sleep(0.05)
    assert job.process is not None
    assert not job.waiting
    job.stop()
    assert at._turns.acquire(timeout=PATIENCE_S), "who is ended gives the turn on"
    ines.act("/days/take", offer=offered["offer"])


def test_a_time_is_found_apart_and_here_where_that_gives_no_answer(
    ready: Garage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Phones are answered while somebody looks: the service itself does not. Where a process ends without a word it does."""
    ines = ready.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(WITH_A_LIFT), "options": {}}, 200)
    here: list[str] = []

    def counted(*args: Any, **more: Any) -> Any:
        here.append(args[1])
        return windows_for(*args, **more)

    monkeypatch.setattr(planner, "windows_for", counted)
    apart = ines.get(f"{ines.home}/days/lifts/L1/times")
    assert here == []
    monkeypatch.setattr(sys, "executable", shutil.which("false"))
    again = ines.get(f"{ines.home}/days/lifts/L1/times")
    assert here == ["T1"]
    # How many days are looked at in a second depends on the machine; that some do does not.
    assert apart["offers"] and again["offers"]
    assert [one["reasons"] for one in (apart, again)] == [[], []]


def test_improving_ends_by_itself_with_a_plan_that_may_be_taken(ready: Garage) -> None:
    ready.service.settings = replace(ready.service.settings, plan_seconds=1)
    ines = ready.phones["ines"]
    first = ines.post(f"{ines.home}/days/plan", {}, 200)
    job = ready.service.planner.job(ready.build)
    assert job is not None
    assert ended(job)
    assert job.process is not None
    assert job.process.ended(0) == 0, "it was not ended from outside"

    best = ines.get(f"{ines.home}/days/plan")

    assert best["placed"] == first["placed"]
    ines.act("/days/take", offer=best["offer"])


def test_running_out_of_memory_leaves_the_plan_that_stands_and_says_so(ready: Garage) -> None:
    """The process may allocate nothing more once it has begun: it ends early, and the phones are answered."""
    ready.service.settings = replace(ready.service.settings, plan_seconds=30)
    ready.service.planner.memory_mb = 1
    ines = ready.phones["ines"]
    first = ines.post(f"{ines.home}/days/plan", {}, 200)
    assert first["working"]
    until = time.monotonic() + PATIENCE_S
    while (best := ines.get(f"{ines.home}/days/plan"))["working"] and time.monotonic() < until:
        time.sleep(0.05)

    assert best["broke"]
    assert best["placed"] == first["placed"]
    ines.act("/days/take", offer=best["offer"])


def test_what_is_in_the_way_is_found_out_apart_and_no_private_limit_changes_it(ready: Garage) -> None:
    """One day of 8 h and two tasks of 5 h on one press. R21: whatever limit Bram keeps, the lead reads the same."""
    ready.service.settings = replace(
        ready.service.settings, plan_seconds=120
    )  # ended as soon as it is found out
    ines, bram = ready.phones["ines"], ready.phones["bram"]
    five_hours = {"minutes": (300, 300, 300), "tools": ["K1"]}
    press = SMALL.model_copy(
        update={
            "tasks": [SMALL.tasks[n].model_copy(update=five_hours) for n in (0, 1)],
            "tools": [ToolPlan(id="K1", name="Press")],
        }
    )
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(press), "options": {}}, 200)
    one_day = {
        "weekly": [],
        "exceptions": [{"on": "2025-11-29", "comes": True, "begins": "09:00", "ends": "17:00"}],
    }
    for name in ("ines", "bram", "kofi"):
        ines.ask("PUT", f"{ines.home}/people/{ready.phones[name].person}/hours", one_day)

    def said() -> list[dict[str, object]]:
        at_once = ines.post(f"{ines.home}/days/plan", {}, 200)
        assert [(one["task"], one["open"]) for one in at_once["reasons"]] == [("T2", True)]
        until = time.monotonic() + PATIENCE_S
        while (found := ines.get(f"{ines.home}/days/plan"))["reasons"][0][
            "open"
        ] and time.monotonic() < until:
            time.sleep(0.1)
        return list(found["reasons"])

    bram.ask("PUT", "/api/me/private", {"limit_kg": "5", "guideline_kg": 16})
    [low] = said()
    bram.ask("PUT", "/api/me/private", {"limit_kg": "25", "guideline_kg": 25})

    assert said() == [low]
    assert low["causes"] == ["Press, of which there is one", "T1, Task T1, which has a place"]
    assert low["params"] == {}


@pytest.mark.parametrize("path", ["/gates/{gate}/wanted", "/parts/{part}/expected"])
@pytest.mark.parametrize("on", ["2026-02-30", "in spring"])
def test_r32_a_date_that_is_none_is_refused(ready: Garage, path: str, on: str) -> None:
    """R32: the field is named, with how it is written, and nothing changes."""
    ines = ready.phones["ines"]
    head = ines.head()
    said = ines.act(path.format(gate="G1", part="P1"), 422, on=on)
    assert (said["code"], said["field"]) == ("bad_input", "on")
    assert said["way_on"] == "Write it like 2026-12-05."
    assert ines.head() == head
