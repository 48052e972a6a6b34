"""The first minutes on an empty service: a build is made from a plan file, somebody scans an invite and is in."""

from __future__ import annotations

import re
import uuid

from playwright.sync_api import expect

from support.crew_day_plan import PLAN
from support.server import Running
from support.web_crew import LEAD_PIN, PIN, NewPhone, WebCrew
from support.web_phones import WebPhone


def choose_plan(phone: WebPhone, text: str) -> None:
    phone.page.get_by_label("Load a plan file").set_input_files(
        {"name": "crew-day.plan.yaml", "mimeType": "text/yaml", "buffer": text.encode()}
    )


def as_far_as_the_plan(ines: WebPhone) -> None:
    ines.open("/")
    ines.title("Make a build")
    ines.fill("Name of the build", "Quillback Two")
    ines.press("Go on")
    ines.title("Units")
    ines.press("Go on")
    ines.title("The plan")


def as_the_lead(ines: WebPhone) -> None:
    ines.fill("Your name", "Ines")
    ines.press("Go on")
    ines.fill("PIN, eight digits or more, or a phrase", LEAD_PIN)
    ines.fill("The same again", LEAD_PIN)
    ines.press("Make the build")
    ines.title("Invite someone")


def make_build(ines: WebPhone) -> None:
    as_far_as_the_plan(ines)
    choose_plan(ines, PLAN)
    ines.press("Go on with crew-day.plan.yaml")
    as_the_lead(ines)


def invite(ines: WebPhone, role: str) -> str:
    ines.choose("Role", role)
    ines.press("Make the invite")
    ines.sees("Works once, until")
    found = ines.page.get_by_text(re.compile(r"^http://.*/join#")).inner_text()
    return found.removeprefix(ines.url)


def test_a_build_is_made_an_invite_scanned_and_a_newcomer_is_in(
    empty_site: Running, new_phone: NewPhone
) -> None:
    """R29: an empty service leads the first person to a build; the invite works once and says who to ask then."""
    ines, aled, late = (new_phone(empty_site.url) for _ in range(3))
    make_build(ines)
    address = invite(ines, "Helper")

    aled.open(address)
    aled.title("Ines invites you to Quillback Two as helper")
    aled.fill("Your name", "Aled")
    aled.press("Go on")
    aled.fill("PIN, six digits or more", "111111")
    expect(aled.button("Go on: not all the same digit")).to_be_visible()
    aled.fill("PIN, six digits or more", PIN)
    aled.fill("The same again", PIN)
    aled.press("Go on")
    aled.press("Skip")
    aled.title("Queue")
    aled.sees("You are not signed in today. Questions go to Ines.")
    aled.press("Sign in for the day")
    aled.sees_not("You are not signed in today.")
    aled.sees("Start this now")

    late.open(address)
    late.sees("This invite is used up. Ask Ines for a new one.")


def test_who_was_taken_off_the_crew_is_told_so(empty_site: Running, new_phone: NewPhone) -> None:
    """R29: not asked to make a build of their own; what they did not hand over stays on their phone."""
    crew = WebCrew(new_phone, empty_site.url, None, {"aled": {"role": "helper"}})
    aled = crew.opened("aled")
    crew.act("ines", f"/members/{crew.people['aled']}/leave")
    aled.sees("You are not a member of this build.")
    aled.open("/")
    aled.sees("You are on no crew here now. Ask the lead for an invite, and scan it.")
    aled.sees_not("Make a build")


def test_what_was_typed_and_refused_can_be_read(empty_site: Running, new_phone: NewPhone) -> None:
    """R4: a report of what is in no plan any more stands in the record with its figures and words."""
    crew = WebCrew(new_phone, empty_site.url, PLAN, {"aled": {"role": "helper"}})
    body = {"task": "gone", "reason": "other", "note_text": "the bracket is bent"}
    command = {"id": str(uuid.uuid4()), "kind": "task.stuck", "body": body}
    crew.phones["aled"].post(f"{crew.home}/sync", {"cursor": None, "commands": [command]})
    ines = crew.opened("ines", "/record", "Record")
    ines.sees("the bracket is bent")


def test_a_plan_with_faults_loads_nothing_and_names_the_line(
    empty_site: Running, new_phone: NewPhone
) -> None:
    """R24, R32: the screen gives line and remedy and does not go on with the file; without it the build is made."""
    ines = new_phone(empty_site.url)
    as_far_as_the_plan(ines)
    choose_plan(ines, PLAN.replace("after: [{task: hoses}]", "after: [{task: hozes}]"))
    line = PLAN.splitlines().index("  after: [{task: hoses}]") + 1
    ines.sees(re.compile(rf"Line {line}, .*hozes"))
    expect(
        ines.button("Go on with crew-day.plan.yaml: the plan has faults; nothing was loaded")
    ).to_be_visible()
    ines.press("Leave this file out")
    ines.press("Start empty")
    ines.title("You are the lead")


def test_a_plan_with_doubts_says_them_and_is_loaded_all_the_same(
    empty_site: Running, new_phone: NewPhone
) -> None:
    """R24: a fuse larger than its wire bears (4 mm², 41 A by the chart, half of it in a loom) is said with its reason."""
    ines = new_phone(empty_site.url)
    as_far_as_the_plan(ines)
    wire = "{id: X1, circuit: Fan, size_mm2: 4, donor_tail_m: 1, added_m: 1, current_a: 17, fuse_a: 25}"
    choose_plan(ines, PLAN + f"\nwires:\n- {wire}\n")
    ines.sees("One doubt, worth a look")
    ines.sees(re.compile("which bears 20.5 A in a taped loom"))
    ines.sees(re.compile("By: Half the chassis wiring chart"))
    ines.press("Go on with crew-day.plan.yaml")
    ines.title("You are the lead")


def test_options_are_chosen_when_the_build_is_made(empty_site: Running, new_phone: NewPhone) -> None:
    """R5: what the plan leaves to choose is asked with the file, and only what was chosen is in the plan."""
    option = """\
options:
- {id: cooling, say: Cooling, default: tall, choices: [{id: tall, say: Tall radiator}, {id: low, say: Low radiator}]}
skills:"""
    ines = new_phone(empty_site.url)
    as_far_as_the_plan(ines)
    left_out = "  title: Run the fuel line\n"
    choose_plan(
        ines,
        PLAN.replace("skills:", option, 1).replace(left_out, f"{left_out}  when: {{cooling: tall}}\n", 1),
    )
    ines.choose("Cooling", "Low radiator")
    ines.press("Go on with crew-day.plan.yaml")
    as_the_lead(ines)
    ines.go("/settings")
    ines.sees("Cooling: Low radiator")
    ines.go("/tasks/line")
    ines.title("Run the fuel line")
    ines.sees("left out")


def test_a_name_that_is_taken_is_mended_where_it_is_typed(empty_site: Running, new_phone: NewPhone) -> None:
    """R29, R32: back at the name with what is so and what to do; nothing else is typed again. Under 18 no lifting
    figures are asked for (R8)."""
    crew = WebCrew(new_phone, empty_site.url, PLAN, {"bram": {"role": "builder"}})
    code = crew.act("ines", "/invites", invite="i-1", role="helper", minor="with_adult")["code"]
    kid = new_phone(empty_site.url)
    kid.open(f"/join#{code}")
    kid.fill("Your name", "bram")
    kid.press("Go on")
    kid.fill("PIN, six digits or more", PIN)
    kid.fill("The same again", PIN)
    kid.press("Join the crew")
    kid.sees("There is a Bram in this crew already.")
    kid.fill("Your name", "Bram V.")
    kid.press("Go on")
    kid.press("Join the crew")
    kid.title("Queue")
    kid.go("/crew/me")
    kid.title("Bram V.")
    kid.sees("My calendar")
    kid.sees_not("What I lift")
