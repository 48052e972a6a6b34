"""Fixtures that every room's tests may use: a PostgreSQL server, a database on it, a browser, a page."""

from __future__ import annotations

import os
import uuid
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import NoReturn

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from support import browser as browsers
from support.postgres import PostgresServer, throwaway_server

Tell = Callable[[str], None]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Who uses the server or the browser is marked as such, so that -m can leave it out."""
    for item in items:
        fixtures = getattr(item, "fixturenames", ())
        if "postgres_server" in fixtures:
            item.add_marker(pytest.mark.postgres)
        if "browser" in fixtures:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def tell(pytestconfig: pytest.Config) -> Tell:
    """Says a line to whoever runs the tests, however quiet the run is."""
    reporter = pytestconfig.pluginmanager.get_plugin("terminalreporter")

    def say(line: str) -> None:
        if reporter is not None:
            reporter.ensure_newline()
            reporter.write_line(line)

    return say


def unavailable(tell: Tell, reason: str) -> NoReturn:
    """What cannot be had fails the run where CI is set, and is skipped loudly elsewhere."""
    tell(f"NOT TESTED {reason}")
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)


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
