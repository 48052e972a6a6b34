"""Fixtures that every room's tests may use: a PostgreSQL server, a database on it, a browser, a page."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from support import browser as browsers
from support import programs
from support.databases import database_url, demo_played, postgres_template, sqlite_template
from support.postgres import PostgresServer, throwaway_server
from support.untried import Tell, unavailable

# Made once for the whole run, whichever room asks first.
__all__ = ["database_url", "demo_played", "postgres_template", "sqlite_template"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Who uses the server or the browser is marked as such, so that -m can leave it out."""
    for item in items:
        fixtures = getattr(item, "fixturenames", ())
        if "postgres_server" in fixtures:
            item.add_marker(pytest.mark.postgres)
        if "browser" in fixtures:
            item.add_marker(pytest.mark.browser)


SAID = pytest.StashKey[list[str]]()


@pytest.fixture(scope="session")
def tell(pytestconfig: pytest.Config) -> Tell:
    """Keeps a line for the end of the run, where it stands however quiet the run is."""
    return pytestconfig.stash.setdefault(SAID, []).append


def pytest_sessionfinish(session: pytest.Session) -> None:
    """A worker hands what was told to the process that prints."""
    if (worker := getattr(session.config, "workeroutput", None)) is not None:
        worker["said"] = session.config.stash.get(SAID, [])


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any, error: object) -> None:
    said = node.config.stash.setdefault(SAID, [])
    said += [line for line in getattr(node, "workeroutput", {}).get("said", []) if line not in said]


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Says which server and which browser the tests used, and what could not be tested for want of one."""
    if said := config.stash.get(SAID, []):
        terminalreporter.section("what the tests ran on")
        for line in said:
            terminalreporter.write_line(line, red=line.startswith("NOT TESTED"))


@pytest.fixture(scope="session")
def postgres_server(tell: Tell) -> Iterator[PostgresServer]:
    """One throw-away server for the whole run."""
    with ExitStack() as stack:
        try:
            running = stack.enter_context(throwaway_server())
        except LookupError as error:
            unavailable(tell, str(error))
        tell(running.said)
        yield running


@pytest.fixture
def postgres_url(postgres_server: PostgresServer) -> Iterator[str]:
    """The address of an empty database of this test's own."""
    name = f"test_{uuid.uuid4().hex}"
    yield postgres_server.create_database(name)
    postgres_server.drop_database(name)


@pytest.fixture(scope="session")
def program(tell: Tell) -> Callable[[str], str]:
    """Where a program of the system is: `program("openssl")`."""

    def find(name: str) -> str:
        try:
            return programs.program(name)
        except LookupError as error:
            unavailable(tell, str(error))

    return find


@pytest.fixture(scope="session")
def browser(tell: Tell) -> Iterator[Browser]:
    """One Chromium for the whole run; tests open contexts (phones) of their own in it."""
    with sync_playwright() as playwright:
        try:
            running, said = browsers.launch(playwright)
        except LookupError as error:
            unavailable(tell, str(error))
        tell(said)
        yield running
        running.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page in a fresh context. An error that the page's scripts do not catch fails the test."""
    context = browser.new_context()
    opened = context.new_page()
    errors: list[str] = []
    opened.on("pageerror", lambda error: errors.append(str(error)))
    yield opened
    context.close()
    assert errors == []
