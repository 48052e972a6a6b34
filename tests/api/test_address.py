"""Where the service is found: what the lead is told, whose phones were left behind, and how they get in again."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from support.phones import PIN, Garage, Phone, item
from support.service import command_id
from yokemate.settings import Reach

ADDRESS = "https://yokemate.test"
REACH = Reach(
    addresses=("https://yokemate.local:8420",),
    origins=frozenset({"https://yokemate.local:8420"}),
    join_page="http://192.168.1.5:8421",
    fingerprint="AB:CD",
    authority="Yokemate garage bench",
)


def let_in_again(garage: Garage, name: str, pin: str = PIN) -> Phone:
    """Somebody on a phone that nobody knows, by a code that the lead made for them."""
    code = garage.phones["ines"].post(
        f"/api/builds/{garage.build}/people/{garage.phones[name].person}/devices", {}, 200
    )["code"]
    again = garage.phone()
    again.person = garage.phones[name].person
    again.post("/api/join", {"code": code, "name": "x", "pin": pin}, 200)
    return again


def test_a_phone_learns_where_the_service_is(one: Garage) -> None:
    """Best address, join page with its drawing, and the fingerprint to compare."""
    one.service.reach = REACH
    said = one.phones["ines"].get("/api/address")

    assert said["addresses"] == ["https://yokemate.local:8420"]
    assert (said["join_page"], said["fingerprint"]) == ("http://192.168.1.5:8421", "AB:CD")
    assert said["join_qr_svg"].startswith("<svg")
    assert one.phone().ask("GET", "/api/address").status_code == 401


def test_phones_of_an_address_that_is_gone_are_counted(garage: Garage) -> None:
    """They were enrolled at one that leads here no more; a phone shut out is not waited for."""
    garage.joined("aled")
    garage.service.reach = REACH
    before = garage.phones["ines"].get("/api/address")["moved"]
    garage.service.reach = dataclasses.replace(REACH, origins=frozenset({ADDRESS}))
    here = garage.phones["ines"].get("/api/address")["moved"]

    assert before == [{"origin": ADDRESS, "phones": len(garage.phones)}]
    assert here == []


def test_where_it_can_not_be_known_nobody_is_alarmed(one: Garage) -> None:
    one.service.reach = Reach()

    assert one.phones["ines"].get("/api/address")["moved"] == []


def test_invites_name_an_address_that_phones_can_reach(one: Garage) -> None:
    """The lead sits at the machine itself: a phone would look for `localhost` in its own pocket."""
    one.service.reach = REACH
    ines = one.phones["ines"]
    elsewhere = ines.invite()["url"]
    ines.http.headers["Host"] = "localhost:8420"
    at_home = ines.invite()["url"]

    assert elsewhere.startswith("https://yokemate.test/join#")
    assert at_home.startswith("https://yokemate.local:8420/join#")


def test_r29_the_lead_lets_a_new_phone_in_and_its_owner_alone_can_use_it(garage: Garage) -> None:
    """R29: the same person as before, by their own PIN; the code works once; nobody but a lead makes it for others."""
    aled = garage.joined("aled")
    garage.joined("lucia")
    code = garage.phones["ines"].post(f"/api/builds/{garage.build}/people/{aled.person}/devices", {}, 200)[
        "code"
    ]
    offer = garage.phone().post("/api/invites/look", {"code": code}, 200)
    wrong = garage.phone().post("/api/join", {"code": code, "name": "x", "pin": "999111"})
    new = garage.phone()
    new.post("/api/join", {"code": code, "name": "x", "pin": PIN}, 200)
    spent = garage.phone().post("/api/join", {"code": code, "name": "x", "pin": PIN})
    by_lucia = garage.phones["lucia"].post(f"/api/builds/{garage.build}/people/{aled.person}/devices", {})

    assert (offer["by"], offer["device_only"]) == ("Aled", True)
    assert wrong["code"] == "pin_wrong"
    assert new.get("/api/me")["person"] == aled.person
    assert spent["code"] == "invite_used"
    assert by_lucia["code"] == "role"


def sent(phone: Phone, *commands: dict[str, Any]) -> list[str]:
    return [one["status"] for one in phone.sync(*commands)["outcomes"]]


def test_r3_what_one_phone_had_waiting_another_of_the_same_person_hands_over(garage: Garage) -> None:
    """R3: the same ids, once: whether the file or the old phone comes first, and however often."""
    aled = garage.joined("aled")
    new = let_in_again(garage, "aled")
    command = item("crew.sign_in")
    first = sent(new, command)
    head = new.head()
    again = [*sent(aled, command), *sent(new, command), *sent(aled, command)]

    assert first == ["accepted"]
    assert again == ["accepted"] * 3
    assert new.head() == head


def test_r3_the_same_id_from_somebody_else_tells_nothing(garage: Garage) -> None:
    """Another person's command of that id is their own: no answer of Aled's is given away, and nothing is mixed up."""
    aled, lucia = garage.joined("aled"), garage.joined("lucia")
    command = item("crew.sign_in")
    sent(aled, command)
    head = aled.head()

    assert sent(lucia, command) == ["accepted"]
    assert lucia.head() == head + 1


def test_r3_another_body_under_a_known_id_is_refused_from_the_new_phone_too(garage: Garage) -> None:
    aled = garage.joined("aled")
    new = let_in_again(garage, "aled")
    id = command_id()
    sent(aled, {"id": id, "kind": "crew.sign_in", "body": {}})
    outcome = new.sync({"id": id, "kind": "crew.sign_out", "body": {}})["outcomes"][0]

    assert outcome["problem"]["code"] == "same_id"


@pytest.mark.parametrize("origin", ["https://garage.example.org", None])
def test_a_proxy_may_rewrite_the_host(one: Garage, origin: str | None) -> None:
    """The public address counts as ours; a third one still does not."""
    settings = one.service.settings
    one.service.settings = dataclasses.replace(settings, public_url="https://garage.example.org")
    ines = one.phones["ines"]
    try:
        ines.http.headers["Host"] = "127.0.0.1:8420"
        ines.http.headers["Origin"] = origin or "https://elsewhere.example"
        answer = ines.ask("POST", f"{ines.home}/sync", {"cursor": None, "commands": []})
    finally:
        one.service.settings = settings

    assert answer.status_code == (200 if origin else 403)
