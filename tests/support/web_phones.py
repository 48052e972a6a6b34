"""Phones of a crew in a real browser: each a context of its own, 390 × 844, that can lose its connection."""

from __future__ import annotations

import time
from re import Pattern
from typing import Any

from playwright.sync_api import Browser, Locator, Page, Route, expect

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 800}
DOUBLE_TOUCH_S = 0.42  # the app ignores a second touch within 0.4 s on the same main button
PATIENCE_MS = 20_000  # on a busy machine; what is there is found at once
expect.set_options(timeout=PATIENCE_MS)
FOREMOST = "dialog[open], body:not(:has(dialog[open]))"  # behind an open dialog nothing can be pressed

Words = str | Pattern[str]


class WebPhone:
    """One browser as one person holds it. Errors its scripts do not catch are kept in `errors`."""

    def __init__(self, browser: Browser, url: str, size: dict[str, int] = PHONE) -> None:
        self.url = url
        self.context = browser.new_context(
            viewport={"width": size["width"], "height": size["height"]}, reduced_motion="reduce"
        )
        self.context.set_default_timeout(PATIENCE_MS)
        self.page: Page = self.context.new_page()
        self.errors: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self._pressed = 0.0

    def open(self, path: str) -> None:
        self.page.goto(f"{self.url}{path}")

    def go(self, path: str) -> None:
        """To another screen the way a link of the app goes there: without loading the page anew."""
        self.page.evaluate("path => { history.pushState(null, '', path) }", path)

    def button(self, name: Words, exact: bool = True) -> Locator:
        """Asked anew until it is found, for a dialog may just be closing."""
        return self.page.locator(FOREMOST).get_by_role("button", name=name, exact=exact)

    def link(self, name: Words, exact: bool = True) -> Locator:
        return self.page.get_by_role("link", name=name, exact=exact)

    def press(self, name: Words, *, exact: bool = True) -> None:
        """A button by its words, no sooner after the last press than a hand would be."""
        self.touch(self.button(name, exact))

    def touch(self, target: Locator) -> None:
        time.sleep(max(0.0, self._pressed + DOUBLE_TOUCH_S - time.monotonic()))
        target.click()
        self._pressed = time.monotonic()

    def follow(self, name: Words, *, exact: bool = True) -> None:
        self.link(name, exact).click()

    def choose(self, legend: str, word: str) -> None:
        """One of several under its legend."""
        group = self.page.get_by_role("group", name=legend, exact=True)
        group.locator("label", has_text=word).first.click()

    def fill(self, label: Words, value: str) -> None:
        self.page.get_by_label(label).fill(value)

    def sees(self, words: Words, *, within_ms: float = PATIENCE_MS) -> None:
        """At least one visible element carries the words."""
        expect(self.page.get_by_text(words).locator("visible=true").first).to_be_visible(timeout=within_ms)

    def sees_not(self, words: Words, *, within_ms: float = PATIENCE_MS) -> None:
        expect(self.page.get_by_text(words).locator("visible=true")).to_have_count(0, timeout=within_ms)

    def title(self, words: Words, *, within_ms: float = PATIENCE_MS) -> None:
        expect(self.page.get_by_role("heading", level=1)).to_have_text(words, timeout=within_ms)

    def nothing_waits(self) -> None:
        """All that this phone sends has its receipt: the count "1 here" at the top is gone."""
        expect(self.link("here", exact=False)).to_have_count(0)

    def post(self, path: str, body: Any) -> Any:
        """What a screen would send, for what a test needs but is not about."""
        return self._send("POST", path, body)

    def put(self, path: str, body: Any) -> Any:
        return self._send("PUT", path, body)

    def _send(self, method: str, path: str, body: Any) -> Any:
        headers = {"X-Yokemate": "1", "Origin": self.url}
        answer = self.context.request.fetch(f"{self.url}{path}", method=method, data=body, headers=headers)
        assert answer.ok, f"{path}: {answer.status} {answer.text()}"
        return answer.json()

    def get(self, path: str) -> Any:
        answer = self.context.request.get(f"{self.url}{path}")
        assert answer.ok, f"{path}: {answer.status} {answer.text()}"
        return answer.json()

    def cut_off(self) -> None:
        """No connection: neither new requests nor the open stream of events."""
        self.context.route("**/api/**", _no_answer)
        self.context.set_offline(True)

    def back_on(self) -> None:
        self.context.unroute("**/api/**")
        self.context.set_offline(False)  # last: the page tries again at this moment

    def close(self) -> None:
        self.context.close()


def _no_answer(route: Route) -> None:
    route.abort("internetdisconnected")
