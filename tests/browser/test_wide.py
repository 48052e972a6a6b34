"""A wide screen: the list stays beside what is opened from it, and no column is narrower than a phone."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import expect

from support.web_phones import DESK, WebPhone


def test_the_list_stays_where_it_was_beside_what_is_opened_from_it(pick: Callable[..., WebPhone]) -> None:
    """A gate opened from the loose ends stands beside them, and closes to them. What was unfolded in the queue stays
    unfolded, and scrolled, while one task after the other is opened from it.
    """
    ines = pick("Ines", DESK)
    lists = ines.page.locator("#main")
    here = ines.page.locator(".rail [aria-current=page]")
    ines.go("/loose-ends")
    ines.title("Loose ends")
    ines.follow("Ready to crank")
    ines.title("Ready to crank")
    expect(here).to_have_text("Loose ends")
    expect(lists.get_by_role("heading", name="Loose ends")).to_be_visible()
    ines.page.keyboard.press("Escape")
    ines.title("Loose ends")

    ines.go("/")
    ines.title("Queue")
    lists.get_by_text("Not yet: ").click()
    reasons = lists.locator("details details > summary")
    expect(reasons.first).to_be_visible()
    for reason in reasons.all():
        reason.click()
    ines.follow("Half shafts and rear hubs, hub nuts run down")
    ines.title("Half shafts and rear hubs, hub nuts run down")
    ines.follow("Track rod ends, castle nuts, split pins")
    ines.title("Track rod ends, castle nuts, split pins")
    expect(here).to_have_text("Queue")
    expect(ines.link("Track rod ends, castle nuts, split pins")).to_be_in_viewport()


def test_the_rows_of_a_check_have_room_for_their_words(pick: Callable[..., WebPhone]) -> None:
    """Half of the column beside the list at the least, where the two answers once left room for one letter a line."""
    ines = pick("Ines", DESK)
    ines.go("/checks/ball-joints-front-left")
    words = ines.page.locator(".layout-detail .fastener-what")
    expect(words).to_have_count(2)
    column = ines.page.locator(".layout-detail").bounding_box()
    row = words.first.bounding_box()
    assert column is not None
    assert row is not None
    assert row["width"] > column["width"] / 2
