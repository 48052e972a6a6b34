"""Labels of bags and tasks: printed, photographed, held into the camera, typed. Codes to read are drawn by segno, another
encoder than the app's own.
"""

from __future__ import annotations

import io
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
import segno
from PIL import Image
from playwright.sync_api import Browser, expect

from support.axe import axe_violations
from support.browser import ARGUMENTS, on_path
from support.crew_day_plan import PLAN
from support.server import Running
from support.web_crew import NewPhone, WebCrew
from support.web_phones import WebPhone

BAGS = """\
bags: [{id: B24, label: "24 · hose clips", holds: [{part: clip, count: 4}]}, {id: B25, label: 25 · spare}]
parts: [{id: clip, name: Hose clip, source: kit, count: 4}]
"""
WITH_BAGS = PLAN.replace("skills:", f"{BAGS}skills:", 1).replace(
    "title: Fit the top hose", "title: Fit the top hose\n  bags: [B24]", 1
)


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(new_phone, empty_site.url, WITH_BAGS, {"aled": {"role": "helper"}})


def held_up(text: str, size: tuple[int, int] = (640, 480)) -> bytes:
    """A photo of a code held up: turned a little, on a grey wall."""
    drawn = io.BytesIO()
    segno.make(text, error="m").save(drawn, kind="png", scale=6, border=4)
    code = Image.open(drawn).convert("L").rotate(7, expand=True, fillcolor=255)
    photo = Image.new("L", size, 120)
    photo.paste(code, ((size[0] - code.width) // 2, (size[1] - code.height) // 2))
    out = io.BytesIO()
    photo.convert("RGB").save(out, "JPEG", quality=80)
    return out.getvalue()


def photographed(phone: WebPhone, photo: bytes) -> None:
    files = {"name": "label.jpg", "mimeType": "image/jpeg", "buffer": photo}
    phone.page.get_by_label("Photo of the label").set_input_files(files)  # type: ignore[arg-type]


def test_a_photo_of_a_label_and_a_number_typed(crew: WebCrew) -> None:
    """Any phone opens bag or task; a foreign code leads nowhere; without a code it says so."""
    aled = crew.opened("aled", "/scan", "Scan a label")
    photographed(aled, held_up("https://shop.example/spanner?buy=1"))
    aled.sees("This is no label of a bag or a task of Yokemate.")
    photographed(aled, held_up("x" * 5)[:200])
    aled.sees("This phone can't read that file as a picture.")
    photographed(aled, held_up("https://old-name.local/bags/B24"))
    aled.title("Bag 24 · hose clips")
    aled.sees("4 × Hose clip")
    assert axe_violations(aled.page) == []
    aled.follow("Fit the top hose", exact=False)
    aled.title("Fit the top hose")

    aled.open("/scan")
    aled.fill("Or its number", "25")
    aled.press("Open it")
    aled.title("Bag 25 · spare")
    aled.open("/scan")
    aled.fill("Or its number", "99")
    aled.press("Open it")
    aled.sees("No bag and no task is called 99.")


def test_what_is_printed_can_be_read(crew: WebCrew) -> None:
    ines = crew.opened("ines", "/labels", "Labels to print")
    expect(ines.page.get_by_role("img", name="Code of", exact=False)).to_have_count(2)
    assert axe_violations(ines.page) == []
    printed = ines.page.get_by_role("img", name="Code of Bag 24").locator("..").screenshot()
    ines.open("/scan")
    photographed(ines, printed)
    ines.title("Bag 24 · hose clips")


@pytest.fixture
def watching(browser: Browser, empty_site: Running, tmp_path: Path) -> Iterator[Browser]:
    """A browser whose camera sees the label of a task, all the time."""
    film = tmp_path / "label.mjpeg"
    film.write_bytes(held_up(f"{empty_site.url}/tasks/hoses") * 3)
    camera = [
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    ]
    started = browser.browser_type.launch(
        executable_path=os.environ.get("YOKEMATE_BROWSER") or on_path(), args=[*ARGUMENTS, *camera]
    )
    yield started
    started.close()


def test_a_label_held_into_the_camera(crew: WebCrew, watching: Browser) -> None:
    """It opens by itself, and the camera is let go."""
    invited = crew.act("ines", "/invites", invite="invite-kofi", role="helper")
    phone = WebPhone(watching, crew.phones["ines"].url)
    phone.post("/api/join", {"code": invited["code"], "name": "Kofi", "pin": "246812"})
    phone.open("/scan")
    phone.title("Fit the top hose")
    assert phone.errors == []
    phone.close()
