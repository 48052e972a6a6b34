"""Photos on phones: taken without a connection, scaled and without their position, awaited, shown, withdrawn."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image
from playwright.sync_api import Locator, Route, expect

from support.axe import axe_violations
from support.crew_day_plan import PLAN
from support.pictures import name_of, picture
from support.server import Running
from support.web_crew import NewPhone, WebCrew
from support.web_phones import WebPhone

PHOTOS = re.compile(r"/photos/[0-9a-f]{64}$")
CAMERA = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": picture(size=(3000, 2000), gps=True)}


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(new_phone, empty_site.url, PLAN, {"aled": {"role": "builder"}})


def noted(phone: WebPhone, words: str) -> None:
    """*Add photo* under More: the picture is shown before it leaves."""
    phone.press("More")
    phone.press("Add photo")
    phone.page.get_by_label("Add photo").set_input_files(CAMERA)  # type: ignore[arg-type]
    expect(phone.page.get_by_role("img", name="As it will be sent")).to_be_visible()
    phone.fill("What should the crew know?", words)


def shown(phone: WebPhone) -> None:
    picture_read(phone.page.get_by_role("button", name="Photo: Note by", exact=False).locator("img"))


def picture_read(small: Locator) -> None:
    """The picture has really been read, not only an empty frame."""
    expect(small).to_be_visible()
    assert small.evaluate("img => img.decode().then(() => img.naturalWidth)") == 1800


def kept(crew: WebCrew) -> dict[str, str]:
    """The one note of the crew as the service has it."""
    phone = crew.phones["ines"]
    said = phone.post(f"{crew.home}/sync", {"cursor": None, "commands": []})
    return next(row["body"] for row in said["rows"] if row["kind"] == "note")


def test_a_photo_taken_without_a_connection(crew: WebCrew) -> None:
    """R3: it waits beside its task and is counted, follows its note by itself, and what arrives is only the picture."""
    aled = crew.opened(
        "aled", "/here", "Still on this phone"
    )  # its screen is fetched: there is no worker here
    aled.go("/tasks/fill")
    aled.title("Fill with coolant")
    aled.cut_off()
    noted(aled, "the hose is split here")
    assert axe_violations(aled.page) == []
    aled.press("Write the note")
    aled.sees("On this phone, waiting")
    picture_read(aled.page.get_by_role("img", name="Photo: Note", exact=True))
    expect(aled.link("2 here", exact=False)).to_be_visible()
    aled.follow("2 here", exact=False)
    aled.sees(re.compile(r"\d+ kB\. It waits for a connection"))

    broken = [True]  # a route that is taken away may leave a request that it holds without an answer

    def put(route: Route) -> None:
        if broken and route.request.method == "PUT":
            route.abort()
        else:
            route.fallback()

    aled.page.context.route(PHOTOS, put)
    aled.back_on()
    ines = crew.opened("ines", "/tasks/fill", "Fill with coolant")
    ines.sees("the hose is split here")
    ines.sees("Photo awaited: it is still on a phone")

    broken.clear()
    aled.press("Send now")
    aled.sees("All sent")
    ines.open("/tasks/fill")
    shown(ines)
    payload = kept(crew)["photo"]
    sha256 = crew.view("ines", f"/payloads/{payload}")["photo"]
    got = ines.context.request.get(f"{ines.url}{crew.home}/photos/{sha256}").body()
    arrived = Image.open(io.BytesIO(got))
    assert (arrived.size, dict(arrived.getexif()), name_of(got)) == ((1800, 1200), {}, sha256)


def held(phone: WebPhone, store: str) -> int:
    """How many a store of the phone's own database holds."""
    return int(
        phone.page.evaluate(
            """store => new Promise(done => {
                const opened = indexedDB.open("yokemate");
                opened.onsuccess = () => {
                    const asked = opened.result.transaction(store).objectStore(store).count();
                    asked.onsuccess = () => { opened.result.close(); done(asked.result); };
                };
            })""",
            store,
        )
    )


def test_r1_the_lead_withdraws_a_photo(crew: WebCrew) -> None:
    """R1: seen once it is shown without a connection too; withdrawn with a reason it goes from every phone at its next
    exchange, the words stay. R31: a phone that is shut out keeps nothing of the crew's."""
    aled = crew.opened("aled", "/tasks/fill", "Fill with coolant")
    noted(aled, "somebody's face by mistake")
    aled.press("Write the note")
    aled.nothing_waits()
    shown(aled)
    ines = crew.opened("ines", "/tasks/fill", "Fill with coolant")
    shown(ines)
    ines.cut_off()
    ines.go("/tasks/hoses")
    ines.title("Fit the top hose")
    ines.go("/tasks/fill")
    shown(ines)
    assert [held(phone, "picture_bytes") for phone in (ines, aled)] == [1, 1]
    ines.back_on()
    ines.touch(ines.page.get_by_role("button", name="Photo: Note by Aled"))
    assert axe_violations(ines.page) == []
    ines.press("Withdraw this photo")
    ines.choose("Why?", "Something else")
    ines.press("Withdraw this photo")

    for phone in (ines, aled):
        phone.sees("(photo withdrawn)")
        phone.sees("somebody's face by mistake")
        assert held(phone, "picture_bytes") == 0

    device = aled.get("/api/me")["device"]
    crew.act("ines", f"/devices/{device}/shut-out", person=crew.people["aled"])
    aled.sees("This phone was shut out.")
    assert (held(aled, "rows"), held(aled, "views")) == (0, 0)


def test_a_file_that_is_no_picture(crew: WebCrew) -> None:
    aled = crew.opened("aled", "/tasks/fill", "Fill with coolant")
    aled.press("More")
    aled.press("Add photo")
    words = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"words"}
    aled.page.get_by_label("Add photo").set_input_files(words)  # type: ignore[arg-type]
    aled.sees("This phone can't read that file as a picture.")
    expect(aled.button(re.compile("Write the note"), exact=False)).to_be_disabled()
