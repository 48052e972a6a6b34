"""A service that listens, and phones of the crew in one Chromium."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Generator, Iterator
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from support import web_app
from support.phones import shared_app
from support.server import Running, running
from support.service import CHEAP_KIB, SECRET
from support.tls_phones import NewTlsPhone, TlsPhone, trusting_browser
from support.tls_site import FOREIGN, NAME, Site
from support.web_crew import NewPhone
from support.web_phones import PHONE, WebPhone
from yokemate import demo
from yokemate.app import make_service
from yokemate.certificates.files import keep
from yokemate.certificates.names import Names
from yokemate.settings import Mode, Settings, sqlite_url


def _settings(folder: Path, mode: Mode) -> Settings:
    return Settings(
        sqlite_url(folder),
        SECRET,
        mode=mode,
        argon2_memory_kib=CHEAP_KIB,
        web_folder=web_app.built(),
        plan_seconds=1,
    )


@pytest.fixture
def empty_site(sqlite_template: Path, tmp_path: Path) -> Iterator[Running]:
    """A service that nobody has used yet."""
    shutil.copyfile(sqlite_template, tmp_path / "yokemate.sqlite3")
    made = make_service(_settings(tmp_path, "plain"))
    with running(made, shared_app(made)) as server:
        yield server


@pytest.fixture
def demo_site(demo_played: Path, tmp_path: Path) -> Iterator[Running]:
    """The demo's crew at its interesting middle."""
    shutil.copyfile(demo_played, tmp_path / "yokemate.sqlite3")
    crew = [one.shown() for one in demo.crew().people]
    made = make_service(_settings(tmp_path, "demo"), crew)
    with running(made, shared_app(made)) as server:
        yield server


FAILED = pytest.StashKey[bool]()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """The fixtures of a test learn whether it failed: reading every screen aloud takes longer than many tests."""
    report = yield
    item.stash[FAILED] = item.stash.get(FAILED, False) or report.failed
    return report


def _close(phones: list[WebPhone], failed: bool) -> None:
    """What each phone showed last is printed where a test failed. No error may have gone uncaught in its scripts."""
    errors = [error for phone in phones for error in phone.errors]
    for phone in phones:
        if failed or errors:
            print(f"--- {phone.page.url}\n{phone.page.locator('body').aria_snapshot()}")
        phone.close()
    assert errors == []


@pytest.fixture
def new_phone(request: pytest.FixtureRequest, browser: Browser) -> Iterator[NewPhone]:
    """Makes phones: `new_phone(url)`. An error that a page's scripts do not catch fails the test."""
    made: list[WebPhone] = []

    def make(url: str, size: dict[str, int] = PHONE) -> WebPhone:
        made.append(WebPhone(browser, url, size))
        return made[-1]

    yield make
    _close(made, request.node.stash.get(FAILED, False))


@pytest.fixture
def pick(demo_site: Running, new_phone: NewPhone) -> Callable[..., WebPhone]:
    """Somebody of the demo's crew with a phone, picked the way a visitor does."""

    def make(first_name: str, size: dict[str, int] = PHONE) -> WebPhone:
        phone = new_phone(demo_site.url, size)
        phone.open("/")
        phone.page.locator("button.pick", has_text=first_name).click()
        phone.title("Queue")
        return phone

    return make


@pytest.fixture
def tls_site(sqlite_template: Path, tmp_path: Path) -> Iterator[Site]:
    """A service over HTTPS that nobody has used yet."""
    shutil.copyfile(sqlite_template, tmp_path / "yokemate.sqlite3")
    names = Names.of([NAME, "localhost"], [ip_address("127.0.0.1")])
    made = Site(tmp_path, keep(tmp_path, [NAME], names, datetime.now(UTC)))
    made.start()
    yield made
    made.stop()


@pytest.fixture
def trusting(
    tls_site: Site, browser: Browser, program: Callable[[str], str], tmp_path: Path
) -> Iterator[Browser]:
    """A browser that trusts the garage."""
    home = tmp_path / "home"
    with trusting_browser(
        browser, program("certutil"), home, tls_site.kept.authority, NAME, FOREIGN
    ) as started:
        yield started


@pytest.fixture
def new_tls_phone(request: pytest.FixtureRequest, tls_site: Site, trusting: Browser) -> Iterator[NewTlsPhone]:
    """Makes phones that trust the garage: `new_tls_phone(url)`."""

    def make(url: str, size: dict[str, int] = PHONE) -> TlsPhone:
        tls_site.phones.append(TlsPhone(trusting, url, size))
        return tls_site.phones[-1]

    yield make
    _close(list(tls_site.phones), request.node.stash.get(FAILED, False))
