"""STOP gets through from whoever stands at a load, whatever else their phone may do by then (R19, R29)."""

from __future__ import annotations

import pytest

from rules.world import lift, plan, task
from support.phones import PIN, PINS, Garage, Phone
from yokemate.planfile.model import Step
from yokemate.planfile.write import write
from yokemate.rules.decide.crew import GUEST_DAY_MS

PLAN = plan(
    task("T1", Step(id="s1", say="Lift it on", kind="lift"), lift="L1"), lifts=[lift("L1", mass_kg="20")]
)
STOP = "/lifts/L1/stop"


def lifted(garage: Garage, front: Phone, *, wait_s: int = 0) -> None:
    """Ines calls; `front` and Kofi lift; a while after all have come the word is given."""
    ines, kofi = garage.phones["ines"], garage.phones["kofi"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(PLAN), "options": {}}, 200)
    ines.act("/lifts/L1/call", when_ms=garage.clock() + wait_s * 1000)
    for phone, place in ((front, "front"), (kofi, "rear"), (ines, "caller")):
        phone.act(f"/lifts/L1/places/{place}")
        phone.act("/lifts/L1/ready")
    garage.clock.wait(wait_s)
    for place in ("front", "rear"):
        ines.act("/lifts/L1/roll", place=place)
    ines.act("/lifts/L1/floor", children_out=True, nobody_beneath=True)
    ines.post(f"{ines.home}/beat", {}, 200)
    ines.act("/lifts/L1/lift")


def state(garage: Garage) -> str:
    ines = garage.phones["ines"]
    said: str = ines.get(f"{ines.home}/lifts/L1")["state"]
    return said


def test_r19_a_guest_whose_day_ends_at_the_load_keeps_the_screen_and_stops_it(one: Garage) -> None:
    """Nothing else is theirs any more; and when it is down, nor is that."""
    code = one.phones["ines"].invite("helper", guest_for_the_day=True)["code"]
    guest = one.phone()
    guest.post("/api/join", {"code": code, "name": "Gus", "pin": PIN}, 200)
    day_s = GUEST_DAY_MS // 1000
    lifted(one, guest, wait_s=day_s - 60)
    one.clock.wait(120)
    assert guest.get(f"{guest.home}/lifts/L1")["my_places"] == ["front"]
    assert [build["id"] for build in guest.get("/api/me")["builds"]] == [one.build]
    assert guest.act("/lifts/L1/leave-place", 403)["code"] == "guest_over"
    guest.act(STOP)
    assert state(one) == "held"
    one.phones["ines"].act("/lifts/L1/set-down")
    one.clock.wait(601)
    assert guest.act(STOP, 403)["code"] == "guest_over"
    assert guest.get("/api/me")["builds"] == []


def test_r19_a_phone_that_is_shut_out_at_the_load_can_stop_it_and_nothing_else(one: Garage) -> None:
    """R29, R31: shut out at once, it reads and says nothing more; only the word that nobody may miss gets through."""
    ines, bram = one.phones["ines"], one.phones["bram"]
    lifted(one, bram)
    [device] = ines.get(f"{ines.home}/people/{bram.person}/devices")
    ines.act(f"/devices/{device['device']}/shut-out", person=bram.person)
    assert bram.ask("GET", f"{bram.home}/lifts/L1").json()["code"] == "shut_out"
    assert bram.act("/sign-in", 403)["code"] == "shut_out"
    bram.act(STOP)
    assert state(one) == "held"
    ines.act("/lifts/L1/set-down")
    one.clock.wait(601)
    assert bram.act(STOP, 403)["code"] == "shut_out"


@pytest.fixture
def tablet(one: Garage) -> Phone:
    made = one.phone()
    code = one.phones["ines"].post("/api/me/devices", {})["code"]
    made.post("/api/join", {"code": code, "name": "x", "pin": PINS["ines"]}, 200)
    made.post("/api/tablet", {"share": True}, 200)
    made.post("/api/tablet/sign-in", {"person": one.phones["bram"].person, "pin": PIN}, 200)
    return made


def test_r19_the_garage_tablet_stays_with_whoever_holds_a_load(one: Garage, tablet: Phone) -> None:
    """No press for ten minutes, nor any request: hands are at the load. A minute after it is over it is signed out."""
    lifted(one, tablet)
    one.clock.wait(600)
    tablet.act(STOP)
    assert state(one) == "held"
    one.phones["ines"].act("/lifts/L1/set-down")
    one.clock.wait(590)
    tablet.post(f"{tablet.home}/beat", {}, 200)
    assert tablet.get("/api/me")["name"] == "Bram"
    one.clock.wait(61)
    assert tablet.act(STOP, 401)["code"] == "signed_out"
