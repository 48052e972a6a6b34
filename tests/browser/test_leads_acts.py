"""What only a lead does, and what two do for an absent third: releasing out of order, options, tags, a tick taken back."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from support.axe import axe_violations
from support.crew_day_plan import PLAN
from support.server import Running
from support.web_crew import LEAD_PIN, PIN, NewPhone, WebCrew

OPTION = """\
options:
- {id: cooling, say: Cooling, default: tall, choices: [{id: tall, say: Tall radiator}, {id: low, say: Low radiator}]}
"""
PART = "parts: [{id: seal, name: Cap seal, source: new, count: 0, single_use: true}]\n"
WITH_OPTION = PLAN.replace("skills:", f"{OPTION}{PART}skills:", 1).replace(
    "  title: Run the fuel line\n", "  title: Run the fuel line\n  when: {cooling: tall}\n", 1
).replace("  title: Fill with coolant\n", "  title: Fill with coolant\n  hold_point: true\n  uses: [{part: seal}]\n", 1)  # fmt: skip


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    others = {"aled": {"role": "builder"}, "bram": {"role": "builder"}}
    return WebCrew(new_phone, empty_site.url, WITH_OPTION, others)


def test_r27_an_isolator_tag_is_lifted_by_its_owner_or_by_two_who_looked(crew: WebCrew) -> None:
    aled = crew.opened("aled", "/loose-ends", "Loose ends")
    aled.press("Hang a tag")
    aled.press("Battery isolator")
    aled.sees("Your tag", within_ms=10_000)
    bram = crew.opened("bram", "/loose-ends", "Loose ends")
    bram.sees("Battery isolator: stays off")
    expect(bram.button("Lift my tag: Battery isolator")).to_have_count(0)
    bram.press("Lift it, two of us: Battery isolator")
    bram.fill("Why, and how did you look?", "I did not see him")
    bram.press("I have looked: ask a second")
    bram.sees("This is the tag of Aled, who is signed in.")
    crew.act("aled", "/sign-out")
    bram.press("Lift it, two of us: Battery isolator")
    bram.fill("Why, and how did you look?", "Aled went home, looked under and in")
    bram.press("I have looked: ask a second")
    bram.sees("You looked")
    ines = crew.opened("ines", "/loose-ends", "Loose ends")
    ines.sees("Aled went home, looked under and in")
    assert axe_violations(ines.page) == []
    ines.press("I have looked: agree with Bram")
    for phone in (ines, bram, aled):
        phone.sees("Nothing is tagged.")
    aled.press("Hang a tag")
    aled.press("Battery isolator")
    aled.press("Lift my tag: Battery isolator")
    aled.sees("Nothing is tagged.")


def test_r5_the_lead_releases_a_task_out_of_order_and_a_tick_is_taken_back(crew: WebCrew) -> None:
    """A part that is used once is missing until Aled says that he has got it. The hold point at the end waits in the
    checks of the lead, who signs it with her PIN.
    """
    ines = crew.opened("ines", "/tasks/fill", "Fill with coolant")
    ines.press("More")
    ines.press("Release it out of order")
    expect(ines.button("Release it out of order: write the reason")).to_be_visible()
    ines.fill("Why?", "The hose comes on Monday")
    ines.press("Release it out of order")

    aled = crew.opened("aled", "/tasks/fill", "Fill with coolant")
    expect(aled.button("More")).to_be_visible()
    aled.press("More")
    expect(aled.button("Release it out of order")).to_have_count(0)
    aled.page.keyboard.press("Escape")
    aled.sees("Cap seal is missing.")
    aled.press("Yes, I have got Cap seal")
    aled.sees_not("Cap seal is missing.")
    aled.press("Take it")
    aled.press("Step 1 done")
    aled.nothing_waits()
    aled.press("More")
    aled.press("Not done after all: step 1")
    aled.press("Step 1 done")
    ines.go("/checks")
    ines.sees("No check waits for you.")
    aled.press("Sign it off")
    ines.page.get_by_text("Hold point: Fill with coolant").click()
    ines.title("Hold point")
    ines.fill("Your PIN", LEAD_PIN)
    ines.press("Sign the hold point")
    ines.title("Fill with coolant")
    ines.go("/checks")
    ines.sees("No check waits for you.")


def test_the_lead_chooses_an_option_again(crew: WebCrew) -> None:
    """What falls away is left out; chosen back, it is there again."""
    ines = crew.opened("ines", "/settings", "Build settings")
    ines.sees("Cooling: Tall radiator")
    ines.page.get_by_text("Change the options").first.click()
    ines.choose("Cooling", "Low radiator")
    ines.press("Change the options")
    ines.sees("Cooling: Low radiator")
    assert line(crew) == "left_out"
    ines.choose("Cooling", "Tall radiator")
    ines.press("Change the options")
    ines.sees("Cooling: Tall radiator")
    assert line(crew) == "open"


def test_signed_work_that_an_option_leaves_out_is_to_be_undone(crew: WebCrew) -> None:
    """R5, R26: it is on the car all the same: the queue and its own screen say so, until somebody has undone it."""
    crew.act("aled", "/tasks/line/take")
    crew.act("aled", "/tasks/line/tick", steps=["clip"])
    crew.act("aled", "/tasks/line/sign-off")
    seen = crew.phones["ines"].post(f"{crew.home}/sync", {"cursor": None, "commands": []})["head"]["number"]
    crew.phones["ines"].post(
        f"{crew.home}/plan/options", {"seen": seen, "body": {"options": {"cooling": "low"}}}
    )
    bram = crew.opened("bram")
    bram.sees("To be undone")
    bram.follow("line, Run the fuel line", exact=False)
    bram.sees("Left out of this build, and signed: it is to be undone.")
    assert axe_violations(bram.page) == []
    bram.press("This was undone")
    bram.title("You undo Run the fuel line. This comes back:")
    bram.press("Undo it")
    bram.title("Run the fuel line")
    bram.sees_not("it is to be undone")
    bram.go("/")
    bram.title("Queue")
    bram.sees_not("To be undone")


def test_what_can_not_be_taken_back_about_somebody_is_asked_back(crew: WebCrew) -> None:
    """R29, R30: one press shuts no phone out and takes nobody off the crew; the focus is on what changes nothing."""
    ines = crew.opened("ines", f"/crew/{crew.people['bram']}", "Bram")
    ines.press("Shut this phone out")
    expect(ines.button("Leave it as it is")).to_be_focused()
    assert axe_violations(ines.page) == []
    ines.press("Leave it as it is")
    bram = crew.opened("bram")
    ines.press("Shut this phone out")
    ines.press("Shut it out")
    bram.sees("This phone was shut out.")
    ines.press("Take Bram off the crew")
    expect(ines.button("Leave it as it is")).to_be_focused()
    ines.press("Take off the crew")
    ines.title("Crew")
    ines.sees_not("Bram")


def test_who_is_made_lead_is_led_to_a_longer_pin(crew: WebCrew) -> None:
    """R29: the role is there at once; the hold point wants a PIN, and a lead's is longer than Bram's."""
    ines = crew.opened("ines", f"/crew/{crew.people['bram']}", "Bram")
    ines.choose("Role", "Lead")
    ines.sees("Who leads needs a longer PIN")
    ines.page.get_by_label("May countersign").check(force=True)
    ines.press("Change role")
    ines.sees("Bram is kept as chosen here.")
    for name, path, body in (
        ("ines", "release", {"reason_text": "p"}),
        ("aled", "have-part", {"part": "seal", "have": True}),
        ("aled", "take", {}),
        ("aled", "tick", {"steps": ["fill"]}),
        ("aled", "sign-off", {}),
    ):
        seen = crew.phones[name].post(f"{crew.home}/sync", {"cursor": None, "commands": []})["head"]["number"]
        crew.phones[name].post(f"{crew.home}/tasks/fill/{path}", {"seen": seen, "body": body})
    bram = crew.opened("bram", "/hold/fill/end", "Hold point")
    bram.fill("Your PIN", PIN)
    bram.press("Sign the hold point")
    bram.sees("Who leads needs a longer PIN than this one.")
    bram.follow("Choose a longer PIN")
    bram.title("Bram")
    bram.fill("PIN now", PIN)
    bram.fill("New PIN", LEAD_PIN)
    bram.fill("The same again", LEAD_PIN)
    bram.press("Change my PIN")
    bram.sees("Your PIN is changed.")
    bram.go("/hold/fill/end")
    bram.title("Hold point")
    bram.fill("Your PIN", LEAD_PIN)
    bram.press("Sign the hold point")
    bram.title("Fill with coolant")


def line(crew: WebCrew) -> str:
    said = crew.phones["ines"].post(f"{crew.home}/sync", {"cursor": None, "commands": []})
    found = {row["id"]: row["body"] for row in said["rows"] if row["kind"] == "task"}
    return str(found["line"]["state"])
