"""Three forms of the Bench on a phone, each with a figure worked by hand; bad input, pictures, a link passed on."""

from __future__ import annotations

from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from support.axe import axe_violations
from support.server import Running
from support.web_crew import NewPhone, WebCrew
from support.web_phones import WebPhone

TORQUE = "The torque that loads a bolt to a part of its proof load"
WIRE = "Voltage lost in a wire: the length is out and back, unless the frame is the return"
CUTS = "The fewest bars for a list of pieces, exactly, with what each cut turns to dust"


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(new_phone, empty_site.url, None, {"bram": {"role": "builder"}, "kofi": {"role": "helper"}})


def put(phone: WebPhone, label: str, value: str) -> None:
    phone.page.get_by_role("textbox", name=label, exact=True).fill(value)


def answer(phone: WebPhone) -> str:
    """What stands under *Answer*, once it is there."""
    shown = phone.page.get_by_role("region", name="Answer")
    expect(shown).to_be_visible()
    return shown.inner_text()


def fits(page: Page) -> list[str]:
    """What is wrong with the screen as it stands: what axe finds, and anything wider than the phone."""
    sideways = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    # As tall as its matter: colours are judged of what can be seen.
    tall = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": 390, "height": tall + 200})
    found = axe_violations(page)
    page.set_viewport_size({"width": 390, "height": 844})
    return found + ([f"{sideways} px wider than the phone"] if sideways > 0 else [])


def test_a_torque_and_a_bad_input(crew: WebCrew) -> None:
    """R32. M10 8.8: stress area 57.99 mm², proof 580 MPa (ISO 898-1), so 33.63 kN; 75 % of it is 25.23 kN; with
    K 0.20 on 10 mm that is 0.2 × 10 × 25.23 = 50.45 N·m (two service manuals print 52, rounded up), over 1.35582 in
    lbf·ft: 37.21; K is known to two figures at best, and more are not shown.
    """
    bram = crew.opened("bram", "/bench", "Bench")
    bram.fill("What do you want to know?", "torque that loads")
    bram.follow(TORQUE)
    bram.title(TORQUE)
    expect(bram.button("Work it out: Thread name is missing")).to_be_visible()
    put(bram, "Thread name", "M10")
    put(bram, "Strength class", "8.8")
    put(bram, "Percent of proof", "120")
    bram.press("Work it out")
    field = bram.page.get_by_role("textbox", name="Percent of proof", exact=True)
    expect(field).to_be_focused()
    expect(field).to_have_accessible_description(
        "wanted, 1 to 100 % (else 75 %) 120 is outside 1 to 100. Check the figure and its unit."
    )
    assert fits(bram.page) == []
    field.fill("75")
    bram.press("Work it out")
    assert "50 N·m" in answer(bram)
    bram.sees("the nut factor is known as a range only")
    bram.page.get_by_label("Unit of the answer").select_option("lbf_ft")
    bram.sees("37 lbf·ft")
    assert "&in=lbf_ft" in bram.page.url
    bram.sees("Formula:")
    bram.sees("Source:")


def test_a_wire_and_a_link_by_hand(crew: WebCrew) -> None:
    """10 A through 4 m out and back of 2.5 mm² copper, 17.241 mΩ·mm²/m at 20 °C (IEC 60028: 1/58): 27.59 mΩ, 0.2759 V,
    2.30 % of 12 V. Where the phone can neither share nor copy, as on plain HTTP, the link is shown and marked.
    """
    bram = crew.phones["bram"]
    bram.page.add_init_script(
        "for (const what of ['share', 'clipboard']) Object.defineProperty(navigator, what, { value: undefined })"
    )
    crew.opened("bram", "/bench/voltage_drop", WIRE)
    hurts = bram.page.get_by_role("region", name="What can hurt in this work")
    expect(hurts).to_contain_text("The battery is connected.")
    hurts.get_by_role("group").click()
    expect(hurts).to_contain_text("Last word: the battery's maker.")
    put(bram, "Current", "10")
    put(bram, "Loop", "4")
    put(bram, "Area", "2,5")
    bram.press("Work it out")
    said = answer(bram)
    for figure in ("27.59", "0.2759", "2.299"):
        assert figure in said
    bram.press("Share the link")
    link = bram.page.get_by_label("The link, with the inputs")
    expect(link).to_have_value(bram.page.url)
    bram.page.wait_for_function("getSelection().toString() === location.href")  # marked once it is drawn
    assert fits(bram.page) == []


def test_bars_are_cut_and_the_link_opens_the_same_on_another_phone(crew: WebCrew) -> None:
    """1500 mm: 620 × 2, 480 × 3, 350 × 3, 270 × 2 are 4270 mm, so three bars at least; 620 + 480 + 350 twice leaves
    480 + 350 + 270 + 270 = 1370 for the third. Longest first takes four: 620 + 620 has no room for a 270.
    """
    bram = crew.phones["bram"]
    bram.context.grant_permissions(["clipboard-read", "clipboard-write"])
    crew.opened("bram", "/bench/cut_plan", CUTS)
    put(bram, "Stock", "1500")
    pieces = bram.page.get_by_role("group", name="Pieces", exact=True)
    for number, (length, count) in enumerate(
        [("620", "2"), ("480", "3"), ("99", "9"), ("350", "3"), ("270", "2")]
    ):
        if number > 0:
            bram.button("One more row of pieces").click()
            expect(pieces.get_by_label("Length, mm").nth(number)).to_be_focused()
        pieces.get_by_label("Length, mm").nth(number).fill(length)
        pieces.get_by_label("Count").nth(number).fill(count)
    bram.press("Take out row 3")
    bram.press("Work it out")
    said = answer(bram)
    assert "Fewest: 3" in said
    assert "Longest piece first: 4" in said
    assert "480, 350, 270, 270 mm" in said
    best = bram.page.get_by_role("img", name="3 bars, the fewest")
    expect(best).to_have_accessible_description(
        "2 bars: 620, 480, 350 mm; rest 50 mm each. 1 bar: 480, 350, 270, 270 mm; rest 130 mm."
    )
    expect(bram.page.get_by_role("img", name="4 bars, longest piece first")).to_be_visible()
    assert fits(bram.page) == []

    bram.press("Share the link")
    bram.sees("Copied. Paste it into a message.")
    link = urlsplit(bram.page.evaluate("navigator.clipboard.readText()"))
    kofi = crew.opened("kofi", f"{link.path}?{link.query}", CUTS)
    assert answer(kofi).split("Share the link")[0] == said.split("Share the link")[0]
    expect(kofi.page.get_by_label("Length, mm").nth(3)).to_have_value("270")
    put(kofi, "Stock", "600")  # now a piece is longer than the bar: said at its row
    kofi.press("Work it out")
    wrong = kofi.page.get_by_label("Length, mm").nth(0)
    expect(wrong).to_be_focused()
    expect(wrong).to_have_accessible_description("620 mm is longer than the stock. Use longer stock.")
