"""The app's shell in a real browser: opens under the policy, and opens again when the server is gone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from support.axe import axe_violations
from support.static_site import serve


@pytest.fixture
def site() -> Iterator[str]:
    with serve() as address:
        yield address


def test_start_page_opens_with_no_axe_violation(page: Page, site: str) -> None:
    """The first page obeys the policy (no console error) and axe finds nothing wrong with it."""
    complaints: list[str] = []
    page.on("console", lambda message: message.type == "error" and complaints.append(message.text))
    page.goto(site)
    expect(page.get_by_role("heading", level=1)).to_be_visible()

    assert axe_violations(page) == []
    assert complaints == []


def test_the_page_opens_again_when_the_server_is_gone(page: Page) -> None:
    """Once kept, the shell opens with no network, at a deep address too; an API call still fails honestly."""
    with serve() as address:
        page.goto(address)
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        page.wait_for_function("navigator.serviceWorker.controller !== null")

    page.goto(f"{address}/some/deep/address")
    expect(page.locator("#app")).not_to_be_empty()
    answered = page.evaluate("fetch('/api/anything').then(() => true, () => false)")

    assert answered is False
