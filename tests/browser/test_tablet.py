"""The garage tablet in a browser: icon, PIN, a minute without a press, the next person (R29)."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from support.axe import axe_violations
from support.crew_day_plan import PLAN
from support.server import Running
from support.web_crew import LEAD_PIN, PIN, NewPhone, WebCrew
from support.web_phones import WebPhone
from yokemate.routes import doors, tablet

A_WHILE_MS = 8_000  # instead of the minute, so that the test is over in this life


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone, monkeypatch: pytest.MonkeyPatch) -> WebCrew:
    for where in (doors, tablet):
        monkeypatch.setattr(where, "TABLET_MS", A_WHILE_MS)
    return WebCrew(new_phone, empty_site.url, PLAN, {"aled": {"role": "helper", "skills": ["brakes"]}})


def shared(crew: WebCrew, new_phone: NewPhone) -> WebPhone:
    """One of the lead's devices, shared in the garage."""
    found = new_phone(crew.phones["ines"].url)
    code = crew.phones["ines"].post("/api/me/devices", {})["code"]
    found.post("/api/join", {"code": code, "name": "x", "pin": LEAD_PIN})
    found.post("/api/tablet", {"share": True})
    found.open("/")
    found.title("Who are you?")
    return found


def signs_in(tablet: WebPhone, name: str, pin: str) -> None:
    tablet.press(name)
    tablet.title(f"{name}: your PIN")
    tablet.fill("PIN", pin)
    tablet.press("Sign in")


def test_the_next_person_picks_their_icon_after_a_minute_without_a_press(
    crew: WebCrew, new_phone: NewPhone
) -> None:
    """A wrong PIN lets nobody in. Aled dawdles: after the while the tablet asks who is there, whatever screen was open,
    and shows nothing of his;
    Ines signs in after him and is herself.
    """
    tablet = shared(crew, new_phone)
    assert axe_violations(tablet.page) == []
    signs_in(tablet, "Aled", "000000")
    tablet.sees("Wrong PIN. 4 tries left.")
    tablet.fill("PIN", "1357")
    tablet.press("Somebody else")
    tablet.press("Ines")
    expect(tablet.page.get_by_label("PIN")).to_have_value("")  # nobody finds what the one before typed
    tablet.sees_not("Wrong PIN. 4 tries left.")
    tablet.press("Somebody else")
    signs_in(tablet, "Aled", PIN)
    tablet.title("Queue")
    tablet.go("/tasks/hoses")
    tablet.press("Take it")
    tablet.sees("You have it.")
    tablet.nothing_waits()

    tablet.title("Who are you?")

    assert tablet.page.get_by_text("Aled").count() == 1, "his name to pick, and no more"
    signs_in(tablet, "Ines", LEAD_PIN)
    tablet.sees("Aled")  # the task he has taken stands open, as it did
    assert tablet.get("/api/me")["name"] == "Ines"


def test_r31_the_next_person_sees_nothing_of_what_was_prepared_for_the_one_before(
    crew: WebCrew, new_phone: NewPhone
) -> None:
    """Aled's queue stands on the tablet when his time is over. The service is slow with Ines's: until it is there she is shown
    none, and not his."""
    tablet = shared(crew, new_phone)
    signs_in(tablet, "Aled", PIN)
    tablet.title("Queue")
    his = tablet.page.locator("main").get_by_text("Start this now")
    expect(his).to_be_visible()
    tablet.nothing_waits()
    tablet.title("Who are you?")

    tablet.page.route("**/queue", lambda route: None)  # never answered
    signs_in(tablet, "Ines", LEAD_PIN)

    tablet.title("Queue")
    tablet.page.wait_for_timeout(500)
    assert his.count() == 0
