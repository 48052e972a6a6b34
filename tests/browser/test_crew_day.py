"""A day's work on several phones: taking, helping, stuck, hazards, dropped, going home, undoing, the gate's list."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from support.crew_day_plan import PLAN
from support.server import Running
from support.web_crew import NewPhone, WebCrew
from support.web_phones import WebPhone

FETCHED_AHEAD = """() => new Promise(done => {
  const open = indexedDB.open("yokemate")
  open.onsuccess = () => {
    const asked = open.result.transaction("views").objectStore("views").getAllKeys()
    asked.onsuccess = () => { open.result.close(); done(asked.result.some(key => key.endsWith("/tasks/fill/view"))) }
  }
})"""
BUILDER = {"role": "builder", "may_countersign": True}
OTHERS = {"bram": BUILDER, "aled": BUILDER, "kofi": {"role": "helper", "minor": "with_adult"}}


@pytest.fixture
def crew(empty_site: Running, new_phone: NewPhone) -> WebCrew:
    return WebCrew(new_phone, empty_site.url, PLAN, OTHERS)


def open_task(crew: WebCrew, name: str, task: str, title: str) -> WebPhone:
    return crew.opened(name, f"/tasks/{task}", title)


def more(phone: WebPhone, item: str) -> None:
    phone.press("More")
    phone.press(item)


def test_two_press_take_it_and_the_later_one_is_told_who_has_it(crew: WebCrew) -> None:
    """R4, R6: Aled asked without a connection, and worked on to the sign-off, while Bram took it; Aled reads who and
    when, all he had done is one bundle of evidence, and he joins Bram."""
    bram = open_task(crew, "bram", "line", "Run the fuel line")
    aled = open_task(crew, "aled", "line", "Run the fuel line")
    aled.cut_off()
    aled.press("Take it")
    aled.sees("Asked for, on this phone only")
    aled.press("Step 1 done")
    aled.press("Sign it off")
    aled.sees("Signed off, on this phone only")
    expect(aled.button("Sign it off")).to_have_count(0)
    bram.press("Take it")
    bram.sees("You have it")
    aled.back_on()
    aled.sees(re.compile(r"Bram took (it|line) at \d\d:\d\d"))
    aled.sees_not("on this phone only")
    record = crew.view("ines", "/record?count=500")["entries"]
    bundles = [one["data"]["asks"] for one in record if one["kind"] == "evidence.kept"]
    assert [[ask["kind"] for ask in asks] for asks in bundles] == [
        ["task.take", "task.tick", "task.sign_off"]
    ]
    aled.press("Let it go")
    aled.press("Join Bram")
    bram.sees("with Aled")
    assert crew.view("ines", "/tasks/line/view")["card"]["holder"] == crew.people["bram"]


def test_what_a_press_below_brings_is_seen_from_its_top(crew: WebCrew) -> None:
    """A task's screen turns round when it is taken, and again at each step; the button stands below whatever was being
    read. What somebody else does moves nothing under the eyes of who reads.
    """
    at = "scrollY"
    bram, aled = (open_task(crew, name, "hoses", "Fit the top hose") for name in ("bram", "aled"))
    bram.page.set_viewport_size({"width": 390, "height": 500})
    bram.page.evaluate("scrollTo(0, 9999)")
    assert bram.page.evaluate(at) > 0
    bram.press("Take it")
    bram.sees("1. Take the cap off.")
    bram.page.wait_for_function(f"{at} === 0")
    aled.press("Join Bram")
    bram.sees("with Aled")
    bram.page.evaluate("scrollTo(0, 60)")
    aled.press("Step 1 done")
    bram.sees("2. Push the hose on.")
    assert bram.page.evaluate(at) == 60
    bram.press("Step 2 done")
    bram.sees("3. Clamp it.")
    bram.page.wait_for_function(f"{at} === 0")
    aled.press("Step 3 done")
    aled.sees("Every step is done. Bram signs it off.")


def test_a_newcomer_is_sent_to_help_and_an_under_18_reads_what_is_not_for_them(crew: WebCrew) -> None:
    """R7, R8: nothing is ready for Kofi alone, yet his queue says whom to go and help; Bram sees that he came."""
    for name, task in (("bram", "line"), ("aled", "hoses")):
        crew.act(name, f"/tasks/{task}/take")
    bram = open_task(crew, "bram", "line", "Run the fuel line")
    kofi = crew.opened("kofi")
    kofi.press("Go and help Bram")
    kofi.title("Run the fuel line")
    bram.sees("with Kofi")


def test_what_ones_own_unsent_sign_off_makes_ready_is_begun_without_a_signal(crew: WebCrew) -> None:
    """R5: Bram signs the hose off in the back corner; filling up, which waited for it, reads *ready once handed over*; he
    asks for it and does it there. Handed over, all of it stands."""
    crew.act("bram", "/tasks/hoses/take")
    bram = crew.opened("bram")
    bram.page.get_by_role("link", name="Fit the top hose").click()
    bram.sees("You have it")
    bram.page.wait_for_function(FETCHED_AHEAD)
    bram.cut_off()
    for step in (1, 2, 3):
        bram.press(f"Step {step} done")
    bram.press("Sign it off")
    bram.go("/")
    bram.sees("Signed off, on this phone only")
    bram.sees("ready once handed over")
    bram.press("Ask for it: Fill with coolant")
    bram.title("Fill with coolant")
    bram.sees("Asked for, on this phone only")
    bram.press("Step 1 done")
    bram.press("Sign it off")
    bram.sees("Signed off, on this phone only")
    bram.back_on()
    bram.nothing_waits()
    closed = [crew.view("ines", f"/tasks/{task}/view")["card"]["state"] for task in ("hoses", "fill")]
    assert closed == ["closed", "closed"]


def test_what_was_refused_is_mended_with_what_was_typed(crew: WebCrew) -> None:
    """R4: Bram passes the hose on to Aled, who meanwhile was taken off the crew; *Mend it* opens the form as he left it, he
    names Ines.
    """
    crew.act("bram", "/tasks/hoses/take")
    bram = crew.opened("bram")
    bram.page.get_by_role("link", name="Fit the top hose").click()
    bram.sees("You have it")
    bram.cut_off()
    more(bram, "Pass on")
    bram.choose("To whom?", "Aled")
    bram.fill("Anything they should know?", "The clamp is in bag 12.")
    bram.press("Pass on")
    bram.title("Queue")
    bram.sees("Passed on to Aled, on this phone only")
    crew.act("ines", f"/members/{crew.people['aled']}/leave")
    bram.back_on()
    bram.follow("1 here", exact=False)
    bram.sees("Aled does not work on this build.")
    bram.follow("Mend it")
    bram.title("Fit the top hose")
    expect(bram.page.get_by_label("Anything they should know?")).to_have_value("The clamp is in bag 12.")
    bram.choose("To whom?", "Ines")
    bram.press("Pass on")
    open_task(crew, "ines", "hoses", "Fit the top hose").sees("You have it")
    bram.go("/here")
    bram.sees("All sent at")


def test_under_the_car_keeps_the_battery_off_and_says_who(crew: WebCrew) -> None:
    """R27: *I'm under* on Bram's phone; Aled, at the battery, is told that Bram is under and what waits. R28: when all
    others have gone but Kofi, who is under 18, Bram's task stops, and says so by itself. He stays under on every screen
    until he says "out", or somebody who looked does; who signs out is asked first.
    """
    bram = open_task(crew, "bram", "line", "Run the fuel line")
    bram.button("Take it").focus()
    bram.page.keyboard.press("Enter")
    bram.press("I'm under")
    expect(bram.button("I'm out")).to_be_visible()
    aled = open_task(crew, "aled", "battery", "Connect the battery")
    waits = "Bram is under the car. Connecting the battery waits until that is over."
    aled.sees(waits)
    aled.press("Take it")
    expect(aled.page.get_by_role("alert").filter(has_text=waits)).to_have_count(
        2
    )  # beforehand, and as the answer
    assert crew.view("ines", "/tasks/battery/view")["card"]["holder"] is None
    aled.press("Bram is out, I looked")
    bram.sees_not("Under the car: you")
    bram.press("I'm under")
    bram.sees("Under the car: you")
    bram.nothing_waits()
    bram.sees_not("No other adult is signed in.")
    for name in ("ines", "aled"):
        crew.act(name, "/sign-out")
    bram.sees("No other adult is signed in. This is not done alone.")
    expect(bram.button("Step 1 done: a second adult is needed")).to_be_disabled()
    bram.go("/crew")
    bram.press("Sign out for the day")
    bram.title("Crew")
    expect(bram.button("Leave it as it is")).to_be_focused()
    bram.press("I'm out, sign me out")
    expect(bram.button("Sign in for the day")).to_be_visible()
    bram.sees_not("Under the car: you")


def test_stuck_shows_in_the_others_queues_and_somebody_takes_over(crew: WebCrew) -> None:
    """R10: three taps; the lead's queue says stuck and why; Aled takes over, the step that was done stays done."""
    bram = open_task(crew, "bram", "hoses", "Fit the top hose")
    bram.press("Take it")
    bram.press("Step 1 done")
    bram.sees("2. Push the hose on.")
    more(bram, "I am stuck")
    bram.choose("What is it?", "A tool is missing")
    bram.press("I am stuck")
    bram.sees("Stuck: A tool is missing.")

    aled = crew.opened("aled")
    aled.sees(re.compile("stuck", re.IGNORECASE))
    aled.page.get_by_role("link", name="Fit the top hose").click()
    aled.press("Take over")
    aled.choose("Why do you take it over?", "Something else")
    aled.press("Take over")
    aled.sees("2. Push the hose on.")
    bram.sees("Aled has it")


def test_dropped_in_two_taps_stands_on_the_gates_list(crew: WebCrew) -> None:
    """R23, R25: Kofi, under 18, drops a nut; the gate's list on another phone counts it and names him."""
    ines = crew.opened("ines", "/gates/crank", "First crank")
    ines.sees("Not closed: hoses, Fit the top hose")
    ines.sees_not("Loose: ")
    kofi = crew.opened("kofi", "/loose-ends", "Loose ends")
    kofi.press("Dropped or left in")
    kofi.press("Dropped")
    kofi.sees("Dropped")
    ines.sees(re.compile("^Loose: "), within_ms=2_000)
    bram = crew.opened("bram", "/loose-ends", "Loose ends")
    bram.sees(re.compile("Kofi, "))
    bram.press(re.compile("^Made good"), exact=False)
    ines.sees_not("Loose: ")


def test_going_home_tells_the_next_one_where_it_stands(crew: WebCrew) -> None:
    """R10: three taps and a paper tag; the task is free again and Aled goes on at the same step, with what is loose. He
    passes it on to Ines, who sees that too; when she has gone home, Bram takes it over.
    """
    bram = open_task(crew, "bram", "hoses", "Fit the top hose")
    bram.press("Take it")
    bram.press("Step 1 done")
    bram.sees("2. Push the hose on.")
    more(bram, "Going home")
    bram.sees("Still loose here, and handed over with it:")
    bram.choose("Why do you stop here?", "Too cold")
    bram.page.get_by_label("I hung a paper tag on the car").click()
    bram.press("Going home")
    bram.title("Queue")

    aled = open_task(crew, "aled", "hoses", "Fit the top hose")
    aled.sees(re.compile("Bram stopped here, .* Too cold. A paper tag hangs on the car."))
    aled.sees("They were at step 2: Push the hose on.")
    aled.sees("Top hose")
    aled.press("Take it")
    aled.sees("2. Push the hose on.")
    more(aled, "Pass on")
    expect(aled.button("Pass on: choose who")).to_be_visible()
    aled.choose("To whom?", "Ines")
    aled.fill("Anything they should know?", "The clamp is in my pocket")
    aled.press("Pass on")
    aled.title("Queue")

    ines = open_task(crew, "ines", "hoses", "Fit the top hose")
    ines.sees("You have it.")
    ines.sees(re.compile("Aled passed it on, .*The clamp is in my pocket"))
    ines.sees("Top hose")
    bram.go("/tasks/hoses")
    expect(bram.button("Join Ines")).to_be_visible()
    crew.act("ines", "/sign-out")
    bram.sees("Ines has it and is not in today.")
    bram.press("Take over")
    bram.choose("Why do you take it over?", "Something else")
    bram.press("Take over")
    bram.sees("You have it.")


def test_undoing_signed_work_shows_its_list_and_shuts_the_gate(crew: WebCrew) -> None:
    """R25, R26: two people open the gate; Aled undoes the hose after reading what comes back; the gate is shut again."""
    crew.act("bram", "/tasks/hoses/take")
    for step in ("off", "push", "clamp"):
        crew.act("bram", "/tasks/hoses/tick", steps=[step])
    crew.act("bram", "/tasks/hoses/sign-off")
    crew.act("bram", "/tasks/fill/take")
    crew.act("bram", "/tasks/fill/tick", steps=["fill"])
    crew.act("bram", "/tasks/fill/sign-off")
    ines = crew.opened("ines", "/gates/crank", "First crank")
    ines.page.get_by_label("Fire extinguisher at hand").click()
    ines.press("Open the gate")
    bram = crew.opened("bram")
    bram.page.get_by_text("Open “First crank” with Ines?").click()
    bram.press("Open it with Ines")
    ines.sees(re.compile("[Oo]pen"))

    aled = open_task(crew, "aled", "hoses", "Fit the top hose")
    aled.sees("closed")
    more(aled, "This was undone")
    aled.title("You undo Fit the top hose. This comes back:")
    aled.sees("The gate closes: First crank")
    aled.sees("Bram's sign-off: Fit the top hose")
    expect(aled.button("Leave it as it is")).to_be_focused()
    aled.choose("Why?", "It does not fit")
    aled.press("Undo it")
    aled.title("Fit the top hose")
    aled.sees("undone")
    ines.sees("Not closed: hoses, Fit the top hose")

    ines.open("/tasks/fill")
    ines.sees("Built on undone work: hoses.")
    more(ines, "Clear the mark")
    ines.fill("Why?", "It was drained and looked at")
    ines.press("Clear the mark")
    ines.sees_not("Built on undone work: hoses.")
