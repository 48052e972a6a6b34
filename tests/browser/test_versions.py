"""An old app meets a new service: what waits is kept, the person says yes, then the new app hands it over."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from support import web_app
from support.crew_day_plan import PLAN
from support.phones import shared_app
from support.server import Running, running
from support.service import CHEAP_KIB, SECRET
from support.web_crew import NewPhone, WebCrew
from yokemate.app import make_service
from yokemate.settings import Settings, sqlite_url

SYNC = "**/sync"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The app's files, which a test may renew."""
    return Path(shutil.copytree(web_app.built(), tmp_path / "web"))


@pytest.fixture
def site(sqlite_template: Path, tmp_path: Path, folder: Path) -> Iterator[Running]:
    shutil.copyfile(sqlite_template, tmp_path / "yokemate.sqlite3")
    settings = Settings(
        sqlite_url(tmp_path), SECRET, mode="plain", argon2_memory_kib=CHEAP_KIB, web_folder=folder
    )
    made = make_service(settings)
    with running(made, shared_app(made)) as server:
        yield server


def renew(folder: Path) -> None:
    """As a new release does it: other names for the scripts, another list in the worker, the old files gone."""
    index, worker = folder / "index.html", folder / "sw.js"
    page, listed = index.read_text(), worker.read_text()
    for script in (folder / "assets").glob("*.js"):
        renamed = script.with_name(script.name.replace("-", "-x", 1))
        page, listed = page.replace(script.name, renamed.name), listed.replace(script.name, renamed.name)
        for other in (folder / "assets").glob("*.js"):
            text = other.read_text()
            if script.name in text:
                other.write_text(text.replace(script.name, renamed.name))
        script.rename(renamed)
    index.write_text(page.replace("<head>", '<head><meta name="release" content="second">', 1))
    worker.write_text(f"{listed}\n// the second release")


def test_an_old_app_keeps_its_outbox_and_is_renewed_after_a_yes(
    site: Running, folder: Path, new_phone: NewPhone
) -> None:
    """R3: nothing is lost over the change of versions, and nothing is done before the yes."""
    crew = WebCrew(new_phone, site.url, PLAN, {"aled": {"role": "builder"}})
    aled = crew.opened("aled")
    aled.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    aled.open("/tasks/hoses")  # the worker holds the page now
    aled.context.route(SYNC, lambda route: route.abort())
    aled.press("Take it")
    expect(aled.link("1 here", exact=False)).to_be_visible()

    renew(folder)
    aled.page.evaluate(
        "navigator.serviceWorker.getRegistration().then(one => one.update()).then(() => undefined)"
    )
    aled.go("/shed")
    aled.sees("A new version of the app is here.")
    assert aled.page.locator("meta[name=release]").count() == 0, "the old app still, until the yes"
    aled.go("/crew")  # a screen that is fetched only now: the old one is still on the phone
    aled.title("Crew")
    aled.press("Take the new version")
    expect(aled.page.locator("meta[name=release]")).to_have_attribute("content", "second")
    expect(aled.link("1 here", exact=False)).to_be_visible()
    aled.sees_not("A new version of the app is here.")

    aled.context.unroute(SYNC)
    aled.open("/tasks/hoses")
    ines = crew.opened("ines", "/tasks/hoses", "Fit the top hose")
    ines.sees(re.compile("Aled"))
    aled.nothing_waits()
    said = crew.phones["ines"].post(f"{crew.home}/sync", {"cursor": None, "commands": []})
    task = next(row["body"] for row in said["rows"] if (row["kind"], row["id"]) == ("task", "hoses"))
    assert task["holder"] == crew.people["aled"]
