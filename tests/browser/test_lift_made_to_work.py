"""A lift that is refused by hand is made to work by adding the crane, on a phone and wide; a load that is not known says
how it is found. The body shell: 84 kg, its centre 1196 mm behind the front, one lifter in front, two 2184 mm behind it.
By hand the front bears 84 × 988 / 2184 = 38.0 kg and three people of 25 kg may bear 37.5 together (HSE L23): refused,
for 84 is over twice that. With a crane for the tail 1690 mm behind the front it bears 84 × 1196 / 1690 = 59.4 kg, the
front 24.6.
"""

from __future__ import annotations

import re
import time

import pytest
from playwright.sync_api import expect

from support.axe import axe_violations
from support.server import Running
from support.web_crew import NewPhone, WebCrew
from support.web_phones import DESK, PHONE, WebPhone

PLAN = """\
format: yokemate-plan/1
name: Shell by hand
manual: {title: Build manual, revision: A}
stages: [{id: S1, name: Body}]
zones: [{id: bay, name: Frame bay}]
lifts:
- id: L1
  title: Body shell on
  mass_kg: 84
  cg_x_mm: 1196
  cg_y_mm: 0
  how_known: weighed
  supports:
  - {id: front, say: "Front, at the nose opening", kind: lifter, x_mm: 0, y_mm: 0}
  - {id: left, say: Rear left corner, kind: lifter, x_mm: 2184, y_mm: 600}
  - {id: right, say: Rear right corner, kind: lifter, x_mm: 2184, y_mm: -600}
  method: Three lifters and no crane.
  briefing: [Gloves on.]
- id: L2
  title: Engine out
  supports:
  - {id: a, say: front eye, kind: crane, x_mm: 0, y_mm: 0, rated_kg: 500}
  - {id: b, say: tail, kind: crane, x_mm: 1340, y_mm: 0, rated_kg: 500}
  guides: 3
tasks:
- id: T1
  title: Set the shell on the frame
  stage: S1
  zone: bay
  minutes: [20, 40, 60]
  lift: L1
  hazards: [lift]
  must_people: 3
  minors: watch
  steps: [{id: lift, say: Lift it on., kind: lift}]
"""
BRAM = {"role": "builder", "may_countersign": True, "guideline_kg": 25}
CRANE = re.compile("^Engine crane instead of the people at .*rear left corner")


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(
        new_phone, empty_site.url, PLAN, {"bram": BRAM, "priya": {"role": "helper", "guideline_kg": 16}}
    )


def looks_right(phone: WebPhone, size: dict[str, int]) -> None:
    """Nothing runs sideways, and axe finds nothing; as tall as its matter, for it judges what can be seen."""
    sideways = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert phone.page.evaluate(sideways) == 0
    tall = phone.page.evaluate("document.documentElement.scrollHeight")
    phone.page.set_viewport_size({"width": size["width"], "height": tall + 200})
    assert axe_violations(phone.page) == []
    phone.page.set_viewport_size(size)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "wide"])
def test_refused_by_hand_and_called_with_the_crane(crew: WebCrew, size: dict[str, int]) -> None:
    """R20: refused with its figures and no way through but a change; the change makes the verdict, and it is called."""
    ines = crew.opened("ines", "/lifts/L1", "Body shell on")
    ines.page.set_viewport_size(size)
    ines.sees("Refused: over twice a published figure.")
    ines.sees(re.compile("All who lift: 84.0 kg together, 37.5 kg is the team figure"))
    ines.sees(re.compile("One person: 25.0 kg at most .*, the largest figure of HSE L23"))
    ines.sees(re.compile("84.0 kg borne by hand want a machine"))
    ines.sees(re.compile("Whoever lets go at .*: the others can't balance it, it tips"))
    expect(ines.button("Call the lift: over twice the published figure")).to_be_visible()
    expect(ines.page.get_by_label("Why all the same?")).to_have_count(0)
    looks_right(ines, size)

    ines.press(CRANE)
    ines.fill("What is it marked for, in kg?", "50")
    ines.press("Let it bear")
    ines.sees("Use one that is marked for more.")
    ines.fill("What is it marked for, in kg?", "500")
    ines.press("Let it bear")
    ines.sees("Within guidance for people of the 25 kg figure")
    ines.sees(re.compile("24.6 kg at worst in"))
    ines.sees("Places or markings are other than the plan has them.")
    looks_right(ines, size)
    ines.press("Call the lift")

    bram = crew.opened("bram", "/lifts/L1", "Body shell on")
    bram.page.set_viewport_size(size)
    bram.press("I will be there")
    bram.sees("Suggested for you: so the heaviest share is as light as it can be.")
    bram.press("Take this place: Front, at the nose opening")
    bram.sees(re.compile(r"Your place: Front, at the nose opening\. You bear 24\.6.kg"))


def test_as_the_plan_has_it_again(crew: WebCrew) -> None:
    ines = crew.opened("ines", "/lifts/L1", "Body shell on")
    ines.press(CRANE)
    ines.fill("What is it marked for, in kg?", "500")
    ines.press("Let it bear")
    ines.press("As the plan has it")
    ines.sees("Refused: over twice a published figure.")
    ines.sees_not("Places or markings are other than the plan has them.")


def test_who_stays_below_the_share_is_suggested_nothing_and_nobody_else_sees_it(crew: WebCrew) -> None:
    """R21: Priya, of the 16 kg figure, is offered to guide; Bram's screen is the same as if she were stronger."""
    way = next(one for one in crew.view("ines", "/lifts/L1")["ways"] if CRANE.search(one["does"]))
    crew.act("ines", "/lifts/L1/rearrange", way=way["id"], rated_kg="500")
    crew.act("ines", "/lifts/L1/call", when_ms=int(time.time() * 1000) + 3_600_000)
    priya, bram = (crew.opened(name, "/lifts/L1", "Body shell on") for name in ("priya", "bram"))
    for phone in (priya, bram):
        phone.press("I will be there")
    priya.sees("This place asks more than suits you. Only you see this.")
    priya.sees_not(re.compile("Suggested for you"))
    bram.sees("Suggested for you: so the heaviest share is as light as it can be.")
    assert "suits" not in bram.page.locator("main").inner_text()


def test_a_load_that_is_not_known_says_how_it_is_found(crew: WebCrew) -> None:
    """R20: refused; two scales, a pipe, tilted, and the form of the Bench for it. Helpers read it too."""
    for name in ("ines", "priya"):
        phone = crew.opened(name, "/lifts/L2", "Engine out")
        phone.sees("Refused: The mass of Engine out is not known.")
        phone.sees(re.compile("Roll the load on a pipe until it balances"))
        phone.follow("Work it out: two scales")
        phone.sees("Work it out")
        assert phone.page.url.endswith("/bench/weigh")
