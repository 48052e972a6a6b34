"""A service that is put back to a backup made before a phone was enrolled: what was made on that phone is not lost."""

from __future__ import annotations

import re
import shutil
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from support import web_app
from support.axe import axe_violations
from support.crew_day_plan import PLAN
from support.pictures import picture
from support.server import Running
from support.service import CHEAP_KIB, SECRET
from support.web_crew import PIN, NewPhone, WebCrew
from support.web_phones import WebPhone
from yokemate.app import make_service
from yokemate.settings import Settings, sqlite_url

CAMERA = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": picture(size=(900, 600))}


class Machine:
    """The garage's machine, with a backup of its data folder as somebody makes one while the service is down."""

    def __init__(self, data: Path, backup: Path) -> None:
        self._data, self._backup = data, backup
        self._server = self._serving(0)

    def _serving(self, port: int) -> Running:
        settings = Settings(
            sqlite_url(self._data),
            SECRET,
            mode="plain",
            argon2_memory_kib=CHEAP_KIB,
            web_folder=web_app.built(),
        )
        server = Running(make_service(settings), port)
        server.start()
        return server

    @property
    def url(self) -> str:
        return self._server.url

    def stop(self) -> None:
        self._server.stop()

    def back_up(self) -> None:
        self.stop()
        shutil.copytree(self._data, self._backup)
        self._server = self._serving(self._server.port)

    def put_back(self) -> None:
        self.stop()
        shutil.rmtree(self._data)
        shutil.copytree(self._backup, self._data)
        self._server = self._serving(self._server.port)


@pytest.fixture
def machine(sqlite_template: Path, tmp_path: Path) -> Iterator[Machine]:
    data = tmp_path / "data"
    data.mkdir()
    shutil.copyfile(sqlite_template, data / "yokemate.sqlite3")
    made = Machine(data, tmp_path / "backup")
    yield made
    made.stop()


def let_in(crew: WebCrew, aled: WebPhone) -> str:
    invited = crew.act("ines", "/invites", invite=f"invite-{uuid.uuid4()}", role="builder")
    joined = aled.post("/api/join", {"code": invited["code"], "name": "Aled", "pin": PIN})
    return str(joined["person"])


def test_what_was_made_on_a_phone_that_the_backup_does_not_know_is_handed_over_anew(
    machine: Machine, new_phone: NewPhone
) -> None:
    """R1, R3: Aled joins after the backup, takes a task and adds a photo, and the service has all of it. Then the backup is
    put back. He is put out, is invited anew under another id, says that what is on his phone is his, and the service has task,
    note and photo again.
    """
    crew = WebCrew(new_phone, machine.url, PLAN, {})
    machine.back_up()
    aled = new_phone(machine.url)
    let_in(crew, aled)
    aled.open("/tasks/hoses")
    aled.press("Take it")
    aled.sees("You have it.")
    aled.press("More")
    aled.press("Add photo")
    aled.page.get_by_label("Add photo").set_input_files(CAMERA)  # type: ignore[arg-type]
    expect(aled.page.get_by_role("img", name="As it will be sent")).to_be_visible()
    aled.fill("What should the crew know?", "the hose is split here")
    aled.press("Write the note")
    aled.nothing_waits()

    machine.put_back()

    aled.sees("This phone is not enrolled.", within_ms=40_000)
    anew = let_in(crew, aled)
    aled.open("/here")
    aled.sees(re.compile("3 made on this phone by somebody whom the crew does not know now"))
    assert axe_violations(aled.page) == []
    aled.press("I made them")
    aled.sees("All sent")
    aled.nothing_waits()
    said = crew.phones["ines"].post(f"{crew.home}/sync", {"cursor": None, "commands": []})
    rows = {row["kind"]: row["body"] for row in said["rows"] if row["kind"] in ("task", "note") and (
        row["kind"] == "note" or row["id"] == "hoses")}  # fmt: skip
    assert (rows["task"]["holder"], rows["note"]["by"]) == (anew, anew)
    photo = crew.view("ines", f"/payloads/{rows['note']['photo']}")["photo"]
    assert crew.phones["ines"].context.request.get(f"{machine.url}{crew.home}/photos/{photo}").ok
