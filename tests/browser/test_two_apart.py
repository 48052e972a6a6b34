"""Two phones without signal at once, opened cold; and a page that ends between send and answer."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Route, expect

from browser.test_first_bolts import PLAN, final_pass
from support.server import Running
from support.tls_phones import NewTlsPhone
from support.tls_site import NAME, Site
from support.web_crew import PIN, NewPhone, WebCrew
from support.web_phones import WebPhone

TASK, GROUP = "/tasks/T1", "/groups/hoop-foot/torque"


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return at_work(empty_site.url, new_phone)


@pytest.fixture
def garage_crew(tls_site: Site, new_tls_phone: NewTlsPhone) -> WebCrew:
    """Over the garage's own HTTPS, on phones that trust it: as a crew has it."""
    return at_work(tls_site.at(NAME), new_tls_phone)


def at_work(url: str, new_phone: NewPhone) -> WebCrew:
    """Bram has the task, Aled joined him."""
    checked = (datetime.now(UTC) - timedelta(days=40)).date().isoformat()
    made = WebCrew(
        new_phone,
        url,
        PLAN.replace("CHECKED", checked),
        {
            "bram": {"role": "builder"},
            "aled": {"role": "builder"},
            "sofia": {"role": "builder", "may_countersign": True},
        },
    )
    made.act("bram", f"{TASK}/take")
    made.act("aled", f"{TASK}/join")
    return made


def cold_without_signal(phone: WebPhone, title: str) -> None:
    """The app was closed and is opened again with no network at all: the worker brings it."""
    phone.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    phone.page.wait_for_function("navigator.serviceWorker.controller !== null")
    phone.cut_off()
    phone.page.reload()
    phone.title(title)
    phone.sees("No connection since")


def record(crew: WebCrew, kind: str) -> list[Any]:
    entries = crew.view("ines", "/record?count=500")["entries"]
    return [one for one in entries if one["kind"] == kind]


def set_and_first_pass(phone: WebPhone) -> None:
    phone.choose("Faces, as found", "Clean")
    phone.choose("Threads, as found", "Clean and dry")
    phone.press("Set, begin")
    phone.press("Clicked at 22 N·m, all 4")


def countersigned(crew: WebCrew) -> Any:
    """Sofia looked at every bolt and signed, for the readings there were then."""
    digest = crew.view("sofia", GROUP)["readings_digest"]
    looked = [{"n": n, "found": "holds", "how": "torque_wrench_again"} for n in (1, 2, 3, 4)]
    check = crew.act("sofia", "/groups/hoop-foot/checks", readings_digest=digest, bolts=looked)
    body = {"checks": [check["id"]], "readings_digests": {"hoop-foot": digest}}
    crew.phones["sofia"].post(f"{crew.home}/countersigns", {"body": body, "pin": PIN, "seen": check["head"]})
    signed = crew.view("ines", GROUP)["countersign"]
    assert signed
    return signed


def test_two_phones_tighten_the_same_group_apart(garage_crew: WebCrew) -> None:
    """R13, R14: each opens the app cold with no signal and tightens; Aled comes back and is countersigned; then Bram
    comes back with his two bolts: every reading is kept, the countersign lapses, both read in words what happened."""
    crew = garage_crew
    crew.act("bram", f"{TASK}/tick", steps=["offer"])
    bram, aled = (crew.opened(name, "/tasks/T1", "Bolt down the roll hoop") for name in ("bram", "aled"))
    for phone in (bram, aled):
        phone.follow("Go on: the torque")
        phone.sees("42 to 46")
        cold_without_signal(phone, "Roll hoop foot left")
    for phone, bolts in ((bram, 2), (aled, 4)):
        set_and_first_pass(phone)
        final_pass(phone, bolts)
    aled.go("/tasks/T1")
    aled.press("Step 2 done")  # the readings that lie here bring the group that far
    aled.sees_not("Go on: the torque")
    aled.go("/groups/hoop-foot?task=T1&step=torque")
    assert record(crew, "torque.read") == []

    aled.back_on()
    aled.nothing_waits()
    countersigned(crew)
    aled.sees("Countersigned by Sofia")

    bram.back_on()
    bram.nothing_waits()
    for phone in (bram, aled):
        phone.sees("Bolts 1, 3: tightened by")
        expect(phone.page.locator("s", has_text="Countersigned by Sofia")).to_be_visible()
        phone.sees("Readings: 14")
    readings = [one for entry in record(crew, "torque.read") for one in entry["data"]["readings"]]
    people = [crew.people[name] for name in ("bram", "aled")]
    assert [sum(one["by"] == person for one in readings) for person in people] == [6, 8]
    assert crew.view("ines", GROUP)["countersign"] is None
    assert len(record(crew, "countersign.lapsed")) == 1


def test_a_page_that_ends_between_send_and_answer(crew: WebCrew) -> None:
    """R3: the service has it, the page is gone before it heard so. Opened again, it is there once."""
    bram = crew.opened("bram", "/tasks/T1", "Bolt down the roll hoop")
    had: list[int] = []

    def swallowed(route: Route) -> None:
        if "task.tick" in (route.request.post_data or ""):
            had.append(route.fetch().status)  # and the page never hears of it
        else:
            route.continue_()

    bram.context.route("**/sync", swallowed)
    bram.press("Step 1 done")
    while not had:
        bram.page.wait_for_timeout(20)
    bram.page.close()
    bram.context.unroute("**/sync")
    assert had == [200]
    assert len(record(crew, "task.ticked")) == 1

    bram.page = bram.context.new_page()
    bram.open("/tasks/T1")
    bram.title("Bolt down the roll hoop")
    bram.nothing_waits()
    bram.sees("Go on: the torque")
    bram.go("/here")
    bram.sees("All sent")
    assert len(record(crew, "task.ticked")) == 1
