"""Who gets in, on which device, and what a device can be made to do by others."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from support.phones import PIN, PINS, Garage, Phone
from support.service import command_id
from yokemate.handle import recover
from yokemate.routes.problems import render

SIGN_IN = "/api/tablet/sign-in"


def cookie_of(phone: Phone, path: str, body: dict[str, Any]) -> str:
    answer = phone.ask("POST", path, body)
    assert answer.status_code == 200, answer.text
    return answer.headers["set-cookie"]


def test_an_empty_service_leads_its_first_person_to_a_build(empty: Garage) -> None:
    """R29: nobody is known before; the first is lead and enrolled; a second first does not get in."""
    before = empty.phone().get("/api/me")
    lead = empty.first()
    second = empty.phone().post("/api/first-run", {"build_name": "x", "name": "x", "pin": "12345678"})

    assert (before["first_run"], before["person"], before["builds"]) == (True, None, [])
    assert lead.get("/api/me")["builds"] == [{"id": empty.build, "name": "Quillback Two", "role": "lead"}]
    assert second["code"] == "not_first"
    assert empty.phone().get("/api/me")["first_run"] is False


def test_a_first_run_that_fails_leaves_the_service_empty(empty: Garage) -> None:
    """R32: a faulty plan makes no build and no lead."""
    asked = {
        "build_name": "x",
        "name": "Ines",
        "pin": PINS["ines"],
        "plan_text": "format: yokemate-plan/1\ntasks: 5\n",
    }
    answer = empty.phone().post("/api/first-run", asked)

    assert (answer["code"], answer["status"]) == ("plan_faulty", 422)
    assert [one for one in answer["params"]["findings"] if one.startswith("Line 2")]
    assert empty.phone().get("/api/me")["first_run"] is True


def test_the_cookie_is_locked_to_https(empty: Garage) -> None:
    """R29: __Host-, Secure, HttpOnly, SameSite=Strict, whole site, no domain."""
    body = {"build_name": "x", "name": "Ines", "pin": PINS["ines"]}
    said = cookie_of(empty.phone(), "/api/first-run", body).lower()

    assert said.startswith("__host-yokemate=")
    assert {"secure", "httponly", "samesite=strict", "path=/"} <= {part.strip() for part in said.split(";")}
    assert "domain" not in said


def test_plain_http_has_a_cookie_of_its_own(plain: Garage) -> None:
    """R29: over plain HTTP another name without prefix, HttpOnly, Strict, for twelve hours."""
    code = plain.phones["ines"].invite()["code"]
    said = cookie_of(plain.phone(), "/api/join", {"code": code, "name": "Aled", "pin": PIN}).lower()

    assert said.startswith("yokemate-plain=")
    assert {"httponly", "samesite=strict", "max-age=43200"} <= {part.strip() for part in said.split(";")}
    assert "secure" not in said


def test_an_invite_works_once(garage: Garage) -> None:
    """R29: the second who scans it is told whom to ask; nothing of them is kept."""
    made = garage.phones["ines"].invite()
    first = garage.phone().post("/api/join", {"code": made["code"], "name": "Aled", "pin": PIN})
    second = garage.phone().post("/api/join", {"code": made["code"], "name": "Eve", "pin": PIN})

    assert first["build"] == garage.build
    assert second["detail"] == "This invite is used up."
    assert second["way_on"] == "Ask Ines for a new one."
    assert "Eve" not in {
        one["name"] for one in garage.phones["ines"].get(f"/api/builds/{garage.build}/people")
    }


def test_an_invite_ends(garage: Garage) -> None:
    """R29: for a limited time; the answer says when it ended, by the build's clock."""
    code = garage.phones["ines"].invite(valid_minutes=5)["code"]
    garage.clock.wait(301)

    for path, more in (("/api/invites/look", {}), ("/api/join", {"name": "Aled", "pin": PIN})):
        answer = garage.phone().post(path, {"code": code, **more})
        assert (answer["code"], answer["status"]) == ("invite_over", 410)
        assert answer["detail"] == "This invite ended at 16:05."  # 16:00 UTC and 5 minutes, London in winter


def test_a_code_has_160_bits_and_stands_in_the_fragment(garage: Garage) -> None:
    """R29: at least 128 bits, in the part of the address that is never sent by itself; shown once."""
    made = garage.phones["ines"].invite()
    id = command_id()
    body = {"invite": "again", "role": "helper"}
    garage.phones["ines"].act("/invites", around={"id": id}, **body)
    again = garage.phones["ines"].act("/invites", 409, around={"id": id}, **body)

    assert len(made["code"]) >= 27  # 160 bits, six a letter
    assert made["url"] == f"https://yokemate.test/join#{made['code']}"
    assert made["qr_svg"].startswith("<svg")
    assert again["code"] == "shown_once"


@pytest.mark.parametrize(
    ("role", "pin", "good"),
    [
        ("helper", "24681", False),
        ("helper", "246810", True),
        ("lead", "246810", False),
        ("lead", "24681012", True),
        ("lead", "blue van", True),
        ("helper", "abc", False),
        ("helper", "111111", False),
        ("lead", "kkkkkkkk", False),
    ],
)
def test_a_pin_is_long_enough(garage: Garage, role: str, pin: str, good: bool) -> None:
    """R29: six digits or more, not all the same; a lead eight, or a phrase."""
    code = garage.phones["ines"].invite(role)["code"]

    answer = garage.phone().post("/api/join", {"code": code, "name": "Aled", "pin": pin})

    assert ("person" in answer) is good
    assert good or answer["code"] == "pin_too_short"


def test_a_lost_phone_is_shut_out_at_once(garage: Garage) -> None:
    """R29: shut out by a lead, it is refused at its very next request."""
    ines, bram = garage.phones["ines"], garage.phones["bram"]
    [phone] = ines.get(f"/api/builds/{garage.build}/people/{bram.person}/devices")

    ines.act(f"/devices/{phone['device']}/shut-out", person=bram.person)

    assert bram.get(f"{bram.home}/people", 403)["code"] == "shut_out"
    assert bram.get("/api/me")["person"] is None


def test_who_is_on_no_crew_makes_no_build(garage: Garage) -> None:
    """R29: taken off the crew, a phone has nothing more to make here."""
    ines, kofi = garage.phones["ines"], garage.phones["kofi"]
    ines.act(f"/members/{kofi.person}/leave")

    assert kofi.post("/api/builds", {"build_name": "Mine"}, 403)["code"] == "not_a_member"
    assert kofi.get("/api/me")["builds"] == []


def test_nobody_shuts_out_a_device_of_another_name(garage: Garage) -> None:
    """R29: one's own device, or anybody's for a lead; a device is not called somebody else's to get at it."""
    ines, bram, kofi = (garage.phones[name] for name in ("ines", "bram", "kofi"))
    [of_ines] = ines.get("/api/me/devices")

    mine = kofi.act(f"/devices/{of_ines['device']}/shut-out", 404, person=kofi.person)
    hers = kofi.act(f"/devices/{of_ines['device']}/shut-out", 403, person=ines.person)

    assert (mine["code"], hers["code"]) == ("unknown", "role")
    assert bram.get(f"/api/builds/{garage.build}/people/{ines.person}/devices", 403)["code"] == "role"


def test_a_second_device_of_ones_own(garage: Garage) -> None:
    """R29: a code from one's own phone enrols another, with one's own PIN; a wrong PIN gets nobody in."""
    bram = garage.phones["bram"]
    code = bram.post("/api/me/devices", {})["code"]
    new = garage.phone()

    wrong = new.post("/api/join", {"code": code, "name": "x", "pin": "999999"})
    right = new.post("/api/join", {"code": code, "name": "x", "pin": PIN})

    assert (wrong["code"], wrong["detail"]) == ("pin_wrong", "Wrong PIN. 4 tries left.")
    assert right["person"] == bram.person
    assert new.get("/api/me")["name"] == "Bram"
    assert len(bram.get("/api/me/devices")) == 2


@pytest.fixture
def tablet(garage: Garage) -> Phone:
    """A device of the lead's, shared in the garage."""
    made = garage.phone()
    code = garage.phones["ines"].post("/api/me/devices", {})["code"]
    made.post("/api/join", {"code": code, "name": "x", "pin": PINS["ines"]}, 200)
    made.post("/api/tablet", {"share": True}, 200)
    return made


def test_the_tablet_wants_a_face_and_a_pin(garage: Garage, tablet: Phone) -> None:
    """R29: nobody is signed in at first; with one's own PIN one is, and the record says which device it was."""
    bram = garage.phones["bram"]
    faces = {one["name"]: one["person"] for one in tablet.get("/api/tablet/people")}
    out = tablet.get(f"{bram.home}/people", 401)

    tablet.post(SIGN_IN, {"person": faces["Bram"], "pin": PIN}, 200)
    acted = tablet.act("/sign-in")

    entry = bram.get(f"{bram.home}/record?from={acted['entries'][0]}")["entries"][0]
    assert out["code"] == "signed_out"
    assert entry["by"] == bram.person
    assert entry["kind"] == "crew.signed_in"


def test_the_tablet_signs_out_after_a_minute(garage: Garage, tablet: Phone) -> None:
    """R29: a minute after the last press; looking and exchanging don't count as presses."""
    tablet.post(SIGN_IN, {"person": garage.phones["bram"].person, "pin": PIN}, 200)
    garage.clock.wait(50)
    tablet.act("/sign-in")
    garage.clock.wait(50)
    tablet.sync()
    assert tablet.get("/api/me")["name"] == "Bram"
    garage.clock.wait(10)

    assert tablet.get(f"{tablet.home}/people", 401)["code"] == "signed_out"
    assert tablet.get("/api/me") | {"now_ms": 0} == {
        "person": None, "name": None, "device": tablet.get("/api/me")["device"], "device_shared": True, "mode": "https",
        "first_run": False, "builds": [], "session_until_ms": None, "now_ms": 0,
    }  # fmt: skip


def test_the_tablet_shows_nothing_private(garage: Garage, tablet: Phone) -> None:
    """R21: limit, PIN and devices are not reached from a device that others touch."""
    tablet.post(SIGN_IN, {"person": garage.phones["bram"].person, "pin": PIN}, 200)

    for path in ("/api/me/private", "/api/me/devices"):
        assert tablet.get(path, 403)["code"] == "not_on_tablet"
    assert tablet.post("/api/me/devices", {})["code"] == "not_on_tablet"


def test_guessing_at_the_tablet_waits(garage: Garage, tablet: Phone) -> None:
    """R29: five tries, then it waits, and says until when."""
    bram = garage.phones["bram"].person
    answers = [tablet.post(SIGN_IN, {"person": bram, "pin": "000000"}) for _ in range(5)]

    assert [one["code"] for one in answers] == ["pin_wrong"] * 4 + ["pin_waits"]
    assert answers[-1]["detail"] == "Five wrong. Wait until 16:01."
    assert tablet.post(SIGN_IN, {"person": bram, "pin": PIN})["code"] == "pin_waits"


def test_only_its_owner_takes_the_tablet_back(garage: Garage, tablet: Phone) -> None:
    """R29: pressing *not shared any more* makes nobody the lead."""
    tablet.post(SIGN_IN, {"person": garage.phones["bram"].person, "pin": PIN}, 200)

    refused = tablet.post("/api/tablet", {"share": False})

    assert refused["code"] == "signed_out"
    assert tablet.get("/api/me")["device_shared"] is True


def test_typed_for_somebody_else_says_so(garage: Garage) -> None:
    """R29: typed for Kofi on Bram's phone: the entry names both."""
    bram, kofi = garage.phones["bram"], garage.phones["kofi"]

    acted = bram.act("/sign-in", around={"for_person": kofi.person})

    entry = bram.get(f"{bram.home}/record?from={acted['entries'][0]}")["entries"][0]
    assert (entry["by"], entry["typed_by"]) == (kofi.person, bram.person)


def test_typing_for_nobody_names_who_is_not_there(garage: Garage) -> None:
    """R32: it is not the one who types that is no member."""
    said = garage.phones["bram"].act("/sign-in", 404, around={"for_person": "person-nobody"})

    assert (said["code"], said["params"]) == ("unknown", {"what": "member", "id": "person-nobody"})


def test_typing_for_a_lead_makes_nobody_a_lead(garage: Garage) -> None:
    """R30: what a helper may not send, they may not send in the lead's name; with the PIN guessed wrong, neither."""
    ines, kofi = garage.phones["ines"], garage.phones["kofi"]
    act = f"/members/{kofi.person}/deputy"

    answer = kofi.act(
        act, 403, around={"for_person": ines.person, "pin": PINS["ines"]}, until_ms=garage.clock() + 1000
    )

    assert answer["code"] == "role"


def test_a_lead_typing_for_a_lead_gives_their_pin(garage: Garage) -> None:
    """R29: a command of the moment in somebody else's name wants that person's own PIN."""
    ines, dora = garage.phones["ines"], garage.joined("dora", "viewer")
    code = ines.invite("lead")["code"]
    other = garage.phone()
    sofia = other.post("/api/join", {"code": code, "name": "Sofia", "pin": "87654321"}, 200)["person"]
    act = f"/members/{dora.person}/leave"

    none = ines.act(act, 403, around={"for_person": sofia})
    wrong = ines.act(act, 403, around={"for_person": sofia, "pin": PINS["ines"]})
    right = ines.act(act, 200, around={"for_person": sofia, "pin": "87654321"})

    assert (none["code"], wrong["code"], right["status"]) == ("pin_needed", "pin_wrong", "accepted")


@pytest.mark.parametrize(
    ("headers", "code"),
    [
        ({"X-Yokemate": ""}, None),
        ({"Origin": "https://evil.test"}, "from_elsewhere"),
        ({"Origin": "null"}, "from_elsewhere"),
        ({"Sec-Fetch-Site": "cross-site"}, "from_elsewhere"),
        ({"Sec-Fetch-Site": "same-site"}, "from_elsewhere"),
        ({"Content-Type": "text/plain"}, "not_json"),
        ({"Content-Type": "application/x-www-form-urlencoded"}, "not_json"),
        ({"Origin": "https://yokemate.test", "Sec-Fetch-Site": "same-origin"}, None),
    ],
)
def test_another_site_can_press_nothing(one: Garage, headers: dict[str, str], code: str | None) -> None:
    """R29: what a form or a script of another site can send is refused, cookie or not."""
    ines = one.phones["ines"]
    body = b'{"body": {}}'

    answer = ines.http.post(
        f"{ines.home}/sign-in", content=body, headers={"Content-Type": "application/json", **headers}
    )

    assert (answer.json().get("code"), answer.status_code == 200) == (code, code is None)


def test_without_the_header_that_forms_cannot_send(one: Garage) -> None:
    """R29: a plain form of any site lacks it."""
    ines = one.phones["ines"]
    del ines.http.headers["X-Yokemate"]

    assert ines.post(f"{ines.home}/sign-in", {})["code"] == "from_elsewhere"


def test_the_demo_is_for_the_demo_only(one: Garage) -> None:
    """R29: outside the demo nobody can be picked."""
    stranger = one.phone()

    assert stranger.get("/api/demo/crew", 403)["code"] == "demo_only"
    assert stranger.post("/api/demo/pick", {"person": one.phones["ines"].person})["code"] == "demo_only"


LONG_PIN = "24681357"


def make_lead(garage: Garage, name: str) -> None:
    ines = garage.phones["ines"]
    fields = {"role": "lead", "may_countersign": True}
    ines.act(f"/members/{garage.phones[name].person}/change", around={"seen": ines.head()}, **fields)


def test_who_is_made_lead_signs_with_a_longer_pin_only(garage: Garage) -> None:
    """R29: six digits do for a helper and eight for a lead. The role is there at once; the next thing that wants the PIN
    asks for another one, also the shared tablet, where it opens all that a lead may do. The way back asks for nothing."""
    kofi, ines = garage.phones["kofi"], garage.phones["ines"]
    make_lead(garage, "kofi")
    hold = {"seen": kofi.head(), "body": {"step": "a"}}
    sign = lambda pin: kofi.post(f"{kofi.home}/tasks/T1/sign-hold", {**hold, "pin": pin})["code"]  # noqa: E731
    tablet = garage.phone()
    code = ines.post("/api/me/devices", {})["code"]
    tablet.post("/api/join", {"code": code, "name": "x", "pin": PINS["ines"]}, 200)
    tablet.post("/api/tablet", {"share": True}, 200)
    at_tablet = lambda pin: tablet.post(SIGN_IN, {"person": kofi.person, "pin": pin}).get("code")  # noqa: E731

    assert (sign("000000"), sign(PIN), at_tablet(PIN)) == ("pin_wrong", "pin_outgrown", "pin_outgrown")
    assert kofi.ask("PUT", "/api/me/pin", {"old": PIN, "new": "135791"}).json()["code"] == "pin_too_short"
    assert kofi.ask("PUT", "/api/me/pin", {"old": PIN, "new": LONG_PIN}).json() == {"done": True}
    assert (sign(LONG_PIN), at_tablet(LONG_PIN)) == ("unknown", None)

    ines.act(f"/members/{kofi.person}/change", around={"seen": ines.head()}, role="helper")
    assert sign(LONG_PIN) == "unknown"
    assert kofi.ask("PUT", "/api/me/pin", {"old": LONG_PIN, "new": PIN}).json() == {"done": True}
    assert sign(PIN) == "unknown"


def test_typing_for_who_was_made_lead_wants_their_longer_pin(garage: Garage) -> None:
    """R29: on somebody else's phone too, and their own role is what counts, not that of whose phone it is."""
    make_lead(garage, "kofi")
    ines, kofi, vera = (garage.phones[name] for name in ("ines", "kofi", "vera"))
    leave = lambda pin: ines.act(  # noqa: E731
        f"/members/{vera.person}/leave", around={"for_person": kofi.person, "pin": pin}
    )

    with pytest.raises(AssertionError, match="pin_outgrown"):
        leave(PIN)
    kofi.ask("PUT", "/api/me/pin", {"old": PIN, "new": LONG_PIN})
    assert leave(LONG_PIN)["status"] == "accepted"


@pytest.mark.parametrize("name", ["Bram", "bram ", "BRAM", "Ｂｒａｍ"])
def test_no_two_of_a_build_have_the_same_name(garage: Garage, name: str) -> None:
    """R29, R32: "Bram is under the car" must mean one person. However it is written; the invite is not used up by it."""
    made = garage.phones["ines"].invite(guest_for_the_day=True)
    phone = garage.phone()

    refused = phone.post("/api/join", {"code": made["code"], "name": name, "pin": PIN}, 409)

    assert (refused["code"], refused["field"]) == ("name_taken", "name")
    assert refused["detail"] == "There is a Bram in this crew already."
    assert refused["way_on"] == "Add what tells you apart, such as the first letter of your surname."
    phone.post("/api/join", {"code": made["code"], "name": f"{name.strip()} V.", "pin": PIN}, 200)


def test_who_left_keeps_nobody_from_coming_again(garage: Garage) -> None:
    """R29: a guest comes again next week, by another invite, and is called as before."""
    ines = garage.phones["ines"]
    guest = {"name": "Gus", "pin": PIN}
    garage.phone().post("/api/join", {"code": ines.invite(guest_for_the_day=True)["code"], **guest}, 200)
    again = ines.invite(guest_for_the_day=True, valid_minutes=2 * 24 * 60)["code"]
    assert garage.phone().post("/api/join", {"code": again, **guest})["code"] == "name_taken"
    garage.clock.wait(24 * 3600)
    garage.phone().post("/api/join", {"code": again, **guest}, 200)


def test_of_two_who_join_at_once_with_the_same_name_one_is_refused(garage: Garage) -> None:
    """R29, R32: on each engine, with a code each."""
    codes = [garage.phones["ines"].invite()["code"] for _ in range(4)]
    joining = lambda code: garage.phone().post("/api/join", {"code": code, "name": "Aled", "pin": PIN})  # noqa: E731

    with ThreadPoolExecutor(len(codes)) as pool:
        answers = list(pool.map(joining, codes))

    assert sorted(answer.get("code", "in") for answer in answers) == ["in"] + ["name_taken"] * 3


def test_refusals_tell_two_of_the_same_first_name_apart(garage: Garage) -> None:
    """R27: by the first letter of the surname, where there is one."""
    garage.joined("bram visser")
    found = render(
        garage.service,
        "taken_by",
        {"task": "T1", "holder_person": garage.phones["bram visser"].person, "taken_ms": garage.clock()},
        build=garage.build,
    )

    assert found.detail == "Bram V. took it at 16:00."


def test_lifting_figures_are_asked_of_those_who_may_have_a_place(garage: Garage) -> None:
    """R8, R18, R30: nobody under 18 and no viewer ever has one."""
    ines = garage.phones["ines"]
    look = lambda made: garage.phone().post("/api/invites/look", {"code": made["code"]}, 200)["lifts"]  # noqa: E731

    assert [look(ines.invite(role)) for role in ("helper", "builder", "lead", "viewer")] == [
        True,
        True,
        True,
        False,
    ]
    assert [look(ines.invite(minor=minor)) for minor in ("no", "watch", "with_adult")] == [False] * 3
    assert look(ines.post("/api/me/devices", {})) is False


def test_ones_pin_is_changed_with_the_old_one(garage: Garage) -> None:
    """R29: the old PIN is asked; wrong ones count as tries."""
    bram = garage.phones["bram"]
    ask = lambda old: bram.ask("PUT", "/api/me/pin", {"old": old, "new": "135791"}).json()  # noqa: E731

    assert ask(None)["code"] == "pin_needed"
    assert ask("000000")["code"] == "pin_wrong"
    assert ask(PIN) == {"done": True}
    assert ask(PIN)["code"] == "pin_wrong"


def test_who_forgot_their_pin_sets_another_with_a_code_from_the_machine(garage: Garage) -> None:
    """R29: an entry says so; the phone they have stays theirs, the old PIN is none any more, and the code works once."""
    bram = garage.phones["bram"]
    handler = garage.service.handler
    [(build, person, role)] = recover.found(handler, "Bram")
    assert (build, person.id, role) == (garage.build, bram.person, "builder")

    code = recover.new_pin(handler, build, person.id)
    asked = {"code": code, "name": "x", "pin": "864209"}
    assert bram.post("/api/invites/look", {"code": code})["sets_pin"] is True
    assert garage.phone().post("/api/join", {**asked, "pin": "864"}, 422)["code"] == "pin_too_short"
    garage.phone().post("/api/join", asked, 200)

    assert garage.phone().post("/api/join", asked, 410)["code"] == "invite_used"
    assert bram.get("/api/me")["name"] == "Bram"
    assert bram.ask("PUT", "/api/me/pin", {"old": PIN, "new": "999888"}).json()["code"] == "pin_wrong"
    assert bram.ask("PUT", "/api/me/pin", {"old": "864209", "new": "999888"}).status_code == 200
    said = bram.get(f"{bram.home}/record?count=500")["entries"]
    assert [one["kind"] for one in said if one["kind"] == "crew.pin_renewed"] == ["crew.pin_renewed"]


def test_a_lead_who_lost_their_phone_gets_in_from_the_machine(garage: Garage) -> None:
    """R29: old phones are shut out, another PIN is set on the new one, and only what they led is theirs to lead."""
    bram, ines = garage.phones["bram"], garage.phones["ines"]
    other = bram.post("/api/builds", {"build_name": "Another"}, 200)["build"]
    assert recover.lost_lead(garage.service.handler, "bram")[0][0] == other
    [(build, person)] = recover.lost_lead(garage.service.handler, "Ines")

    code = recover.let_in(garage.service.handler, build, person.id)
    new = garage.phone()
    assert new.post("/api/join", {"code": code, "name": "x", "pin": "246810"}, 422)["code"] == "pin_too_short"
    new.post("/api/join", {"code": code, "name": "x", "pin": "24681012"}, 200)

    assert ines.ask("GET", f"{ines.home}/people").json()["code"] == "shut_out"
    assert [(one["id"], one["role"]) for one in new.get("/api/me")["builds"]] == [(garage.build, "lead")]


def test_what_is_private_comes_back_to_its_owner_alone(garage: Garage) -> None:
    """R21: limit and guideline figure are read and set by their owner on their own phone."""
    bram = garage.phones["bram"]
    kept = bram.get("/api/me/private")
    bram.ask("PUT", "/api/me/private", {"limit_kg": "14.5", "guideline_kg": 25})

    assert kept == {"limit_kg": "12", "guideline_kg": 16}
    assert bram.get("/api/me/private") == {"limit_kg": "14.5", "guideline_kg": 25}
    assert garage.phones["ines"].get("/api/me/private")["limit_kg"] is None
