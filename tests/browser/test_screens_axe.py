"""The main screens of the demo, on a phone and wide, dark and light: axe finds nothing wrong, nothing runs sideways, also
at twice the size of text nothing is cut off, and Tab reaches every control and shows where it is."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from support.axe import COLOURS, axe_violations
from support.reach import wrong_at_twice_the_text, wrong_by_keyboard
from support.web_phones import DESK, WebPhone

AT = ("x_mm", "y_mm", "radius_mm")
BELT = json.dumps(
    {
        "pulleys": [
            {
                "name": name,
                **{key: {"value": str(mm), "unit": "mm"} for key, mm in zip(AT, places, strict=True)},
            }
            for name, *places in (("crank", 0, 0, 70), ("alternator", 210, 40, 30), ("pump", 120, 190, 55))
        ]
    }
)
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
    "/bench": "Bench",
    f"/bench/belt_path?with={quote(BELT)}": None,  # filled: the answer with its picture
}
LEADS = {"/crew/invite": None, "/settings": None, "/record": None, "/lifts/L5": None, "/lifts/L7H": None}


def looked_at(phone: WebPhone, screens: dict[str, str | None]) -> list[str]:
    """What is wrong with each of these screens once it stands."""
    found: list[str] = []
    for path, title in screens.items():
        phone.go(path)
        if title:
            phone.title(title)
        expect(phone.page.locator("main")).not_to_contain_text(re.compile("Fetching|one moment"))
        expect(phone.page.locator("main h1")).to_have_count(1)
        size = phone.page.viewport_size
        assert size
        # Half behind the bar at the bottom just now, and reached by scrolling, is no smaller a target.
        found += [f"{path}, as it stands: {one}" for one in axe_violations(phone.page, ["target-size"])]
        # As tall as its matter: colours are judged of what can be seen.
        tall = phone.page.evaluate("document.documentElement.scrollHeight")
        phone.page.set_viewport_size({"width": size["width"], "height": tall + 200})
        found += [f"{path}: {one}" for one in axe_violations(phone.page)]
        found += [f"{path}, other theme: {one}" for one in in_the_other_theme(phone)]
        found += [f"{path}, text at 200 %: {one}" for one in wrong_at_twice_the_text(phone.page)]
        phone.page.set_viewport_size(size)
        found += [f"{path}, by keyboard: {one}" for one in wrong_by_keyboard(phone.page)]
        sideways = phone.page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        if sideways > 0:
            found.append(f"{path}: {sideways} px wider than the phone")
    return found


def in_the_other_theme(phone: WebPhone) -> list[str]:
    """The screen as it stands in the other colours, and back."""
    theme = "document.documentElement.dataset.theme"
    chosen = phone.page.evaluate(theme)
    phone.page.evaluate(f"{theme} = '{'light' if chosen == 'dark' else 'dark'}'")
    found = axe_violations(phone.page, COLOURS)
    phone.page.evaluate(f"{theme} = '{chosen}'")
    return found


@pytest.mark.parametrize("screens", [WORK, PLACES], ids=["work", "places"])
def test_the_crews_screens_on_a_phone(pick: Callable[..., WebPhone], screens: dict[str, str | None]) -> None:
    """Queue, task, torque, check, undo; lift, loose ends, gate, plan, crew: no violation in either theme."""
    assert looked_at(pick("Sofia"), screens) == []


def test_the_leads_screens_when_wide(pick: Callable[..., WebPhone]) -> None:
    """Plan and what only a lead opens, at 1280: no violation in either theme. She chose the light one."""
    ines = pick("Ines", DESK)
    ines.go("/this-phone")
    ines.page.get_by_label("Light").first.click()
    expect(ines.page.locator("html")).to_have_attribute("data-theme", "light")
    assert looked_at(ines, {"/": "Queue", "/plan": "Plan", "/loose-ends": "Loose ends", **LEADS}) == []
