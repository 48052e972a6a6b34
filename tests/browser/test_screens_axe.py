"""The main screens of the demo, on a phone and wide, dark and light: axe finds nothing wrong, nothing runs sideways."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from support.axe import axe_violations
from support.web_phones import DESK, WebPhone

# As Sofia sees them: she helps with T601, a check waits for her, the lift L4 is called.
WORK = {
    "/": "Queue",
    "/tasks/T601": None,  # taken, turned round: the current step first
    "/tasks/T302": None,
    "/groups/pivots-front-left": None,
    "/groups/clutch-cover": None,
    "/checks": "Checks",
    "/checks/ball-joints-front-left": None,
    "/undo/task/T403": None,
}
PLACES = {
    "/lifts": "Lifts",
    "/lifts/L4": None,
    "/loose-ends": "Loose ends",
    "/gates/G1": None,
    "/plan": "Plan",
    "/crew": "Crew",
    "/crew/me": None,
    "/stores": None,
}
LEADS = {"/crew/invite": None, "/settings": None, "/record": None, "/lifts/L5": None}


def looked_at(phone: WebPhone, screens: dict[str, str | None]) -> list[str]:
    """What is wrong with each of these screens once it stands."""
    found: list[str] = []
    for path, title in screens.items():
        phone.go(path)
        if title:
            phone.title(title)
        expect(phone.page.locator("main")).not_to_contain_text("Fetching")
        expect(phone.page.locator("main h1")).to_have_count(1)
        size = phone.page.viewport_size
        assert size
        # As tall as its matter: axe takes what the fixed bar covers just now for a target that is too small.
        tall = phone.page.evaluate("document.documentElement.scrollHeight")
        phone.page.set_viewport_size({"width": size["width"], "height": tall + 200})
        found += [f"{path}: {one}" for one in axe_violations(phone.page)]
        phone.page.set_viewport_size(size)
        sideways = phone.page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        if sideways > 0:
            found.append(f"{path}: {sideways} px wider than the phone")
    return found


def light(phone: WebPhone) -> None:
    phone.go("/this-phone")
    phone.page.get_by_label("Light").first.click()
    expect(phone.page.locator("html")).to_have_attribute("data-theme", "light")


@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("screens", [WORK, PLACES], ids=["work", "places"])
def test_the_crews_screens_on_a_phone(
    pick: Callable[..., WebPhone], theme: str, screens: dict[str, str | None]
) -> None:
    """Queue, task, torque, check, undo; lift, loose ends, gate, plan, crew: no violation in either theme."""
    sofia = pick("Sofia")
    if theme == "light":
        light(sofia)
    assert looked_at(sofia, screens) == []


@pytest.mark.parametrize("theme", ["dark", "light"])
def test_the_leads_screens_when_wide(pick: Callable[..., WebPhone], theme: str) -> None:
    """Plan and what only a lead opens, at 1280: no violation in either theme."""
    ines = pick("Ines", DESK)
    if theme == "light":
        light(ines)
    assert looked_at(ines, {"/": "Queue", "/plan": "Plan", "/loose-ends": "Loose ends", **LEADS}) == []
