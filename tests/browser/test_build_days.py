"""The lead finds a time, calls the lift, somebody cancels, the lead re-plans and sees what moves and what stays; the plan
shows the range of the finish, the chain that carries it, and the lift where it was called."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from support.server import Running
from support.web_crew import NewPhone, WebCrew

PLAN = """\
format: yokemate-plan/1
name: Two days
manual: {title: Build manual, revision: A}
stages: [{id: S1, name: Body}]
zones: [{id: bay, name: Frame bay}]
lifts:
- id: L1
  title: Body shell on
  mass_kg: 40
  cg_x_mm: 800
  cg_y_mm: 0
  supports:
  - {id: fl, say: front left, kind: lifter, x_mm: 0, y_mm: -500}
  - {id: fr, say: front right, kind: lifter, x_mm: 0, y_mm: 500}
  - {id: hook, say: engine crane behind, kind: crane, x_mm: 1290, y_mm: 0, rated_kg: 500}
tasks:
- {id: T1, title: Clear the frame, stage: S1, zone: bay, minutes: [20, 30, 60], steps: [{id: a, say: Clear it.}]}
- id: T2
  title: Set the shell on the frame
  stage: S1
  zone: bay
  minutes: [20, 40, 60]
  after: [{task: T1}]
  lift: L1
  hazards: [lift]
  must_people: 2
  steps: [{id: lift, say: Lift it on., kind: lift}]
- {id: T3, title: Bolt the shell, stage: S1, zone: bay, minutes: [60, 90, 120], after: [{task: T2}], steps: [{id: a, say: Bolt it.}]}
"""
OTHERS = {"bram": {"role": "builder"}, "sofia": {"role": "builder"}, "priya": {"role": "helper"}}


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(new_phone, empty_site.url, PLAN, OTHERS)


def test_find_a_time_call_it_one_cancels_replan(crew: WebCrew) -> None:
    ines = crew.opened("ines", "/crew/me/hours", "Hours I can come")
    for day in ("Saturday", "Sunday"):
        ines.page.locator("label.choice", has_text=day).click()
    ines.press("Keep these hours")
    ines.sees("Kept. The lead can plan with it.")
    week = {
        "weekly": [{"weekday": day, "begins": "09:00", "ends": "17:00"} for day in (5, 6)],
        "exceptions": [],
    }
    for name in ("bram", "sofia", "priya"):
        path = f"{ines.url}{crew.home}/people/{crew.people[name]}/hours"
        assert crew.phones[name].context.request.put(path, data=week, headers={"X-Yokemate": "1"}).ok

    ines.go("/plan")
    ines.sees("Who comes when")
    ines.press("Re-plan")
    ines.sees("New plan")
    ines.press("Take this plan")
    ines.sees(re.compile("Plan taken by you"))
    ines.sees(
        re.compile("All work: half a chance by .*, four in five by")
    )  # with the hours of two days a week
    first = crew.view("ines", "/days")["days"][0]
    at_it = next(
        name
        for name, person in crew.people.items()
        if any(
            one["person"] == person and any(b["task"] == "T1" for b in one["blocks"])
            for one in first["persons"]
        )
    )
    crew.opened(at_it, "/plan", "Plan").sees(
        re.compile("^T1 .*carries the finish")
    )  # all three, one after the other
    bram = crew.opened("bram", "/plan", "Plan")
    bram.sees(re.compile("T[123]"))
    expect(bram.button("Re-plan")).to_have_count(0)

    ines.go("/lifts/L1")
    ines.press("Find a time")
    ines.sees("Costs the finish nothing.")
    ines.sees(re.compile("Before it: T1 Clear the frame"))
    found = crew.view("ines", "/days/lifts/L1/times")["offers"]
    chosen = ines.button(re.compile("^Choose this time")).first
    ines.touch(chosen)
    ines.sees("Chosen. It still holds; call the lift below.")
    ines.press("Call the lift")
    expect(ines.button("I will be there")).to_be_visible()
    lift = crew.view("ines", "/lifts/L1")
    assert (lift["state"], lift["when_ms"]) == ("called", found[0]["from_ms"])
    crew.act("bram", "/lifts/L1/answer", will_come=True)

    day = crew.view("ines", "/days")["days"][0]
    busy = next(
        name
        for name in ("sofia", "priya", "bram", "ines")
        if any(
            p["person"] == crew.people[name] and any(b["task"] != "T2" for b in p["blocks"])
            for p in day["persons"]
        )
    )
    ines.go("/plan")
    ines.sees(re.compile("Plan taken by you"))
    gone = {**week, "exceptions": [{"on": day["on"], "comes": False}]}
    path = f"{ines.url}{crew.home}/people/{crew.people[busy]}/hours"
    assert crew.phones[busy].context.request.put(path, data=gone, headers={"X-Yokemate": "1"}).ok

    ines.sees(re.compile("can't come to T"))  # heard live: no entry came
    ines.press("Re-plan")
    ines.sees(re.compile(r"\d+ changes?, (1 stays as it is|\d+ stay as they are)"))
    lines = ines.page.get_by_role("region", name="New plan").locator(
        "li", has_text=re.compile(r"T[13]: .+ → .+")
    )
    expect(lines.first).to_be_visible()
    ines.press("Take this plan")
    ines.sees_not(re.compile("can't come to T[13]"))

    blocks = [b for one in crew.view("ines", "/days")["days"] for p in one["persons"] for b in p["blocks"]]
    assert {b["from_ms"] for b in blocks if b["task"] == "T2"} == {lift["when_ms"]}
    build_days = ines.page.get_by_role("region", name="Build days")
    build_days.get_by_text("Read it as a list").first.click()
    ines.sees(re.compile("lift T2"))
