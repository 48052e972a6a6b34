"""Who belongs, in which role, who is in today (R8, R29, R30)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rules.world import MINUTE, START_MS, World, plan
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.presence import is_in
from yokemate.rules.rows import Build, Member

CASES = json.loads((Path(__file__).parents[1] / "cases" / "who_is_in.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["why"])
def test_who_is_in(case) -> None:
    """R28: the phone judges by the same cases."""
    since = None if case["minutes"] is None else START_MS - case["minutes"] * MINUTE
    member = Member(id="bram", role="builder", in_since_ms=since, left=case["left"])
    assert is_in(member, START_MS) == case["in"]


def test_who_is_asked_is_the_lead_who_came_last(new_world) -> None:
    """R30: Ines forgot to sign out on Saturday; on Sunday the lead who is in is asked, and nobody in: the first."""
    world: World = new_world(crew={"sofia": {"role": "lead"}, "aled": {"role": "lead"}}, signed_in=False)
    assert first_lead(world.state) == "aled"
    world.do("ines", "crew.sign_in")
    assert first_lead(world.state) == "ines"
    world.later(hours=20)
    world.do("sofia", "crew.sign_in")
    assert first_lead(world.state) == "sofia"


def test_an_invite_works_once(new_world):
    """R29: an invite works once, for a limited time."""
    world: World = new_world()
    world.do("ines", "crew.invite", invite="i1", role="helper", valid_minutes=5)
    world.do("noor", "crew.join", invite="i1")
    world.refused("otto", "crew.join", "invite_used", invite="i1")
    world.do("ines", "crew.invite", invite="i2", role="helper", valid_minutes=5)
    world.later(minutes=6)
    world.refused("otto", "crew.join", "invite_used", invite="i2")
    assert world.get(Member, "noor").role == "helper"


def test_a_deputy_invites_day_guests_and_hands_out_no_rights(new_world) -> None:
    """R13, R30: helpers and viewers for the day; who leads skilled work and who countersigns is the lead's to say."""
    world: World = new_world()
    world.do("ines", "crew.name_deputy", person="aled", until_ms=world.now_ms + 60 * MINUTE)
    world.refused("aled", "crew.invite", "deputy_guests_only", invite="i1", role="helper")
    guest = {"invite": "i1", "role": "helper", "guest_for_the_day": True}
    for more in ({"role": "builder"}, {"role": "lead"}, {"may_countersign": True}, {"skills": ["brakes"]}):
        refused = world.refused("aled", "crew.invite", "deputy_gives_no_rights", **{**guest, **more})
        assert refused.params["ask_person"] == "ines"
    world.do("aled", "crew.invite", **guest, minor="watch")
    world.do("aled", "crew.invite", **{**guest, "invite": "i2", "role": "viewer"})
    world.do("noor", "crew.join", invite="i1")
    noor = world.get(Member, "noor")
    assert (noor.role, noor.skills, noor.may_countersign, noor.minor) == ("helper", [], False, "watch")
    assert noor.guest_until_ms is not None
    world.do("ines", "crew.invite", invite="i3", role="builder", skills=["brakes"], may_countersign=True)
    world.later(hours=2)
    world.refused("aled", "crew.invite", "role", **{**guest, "invite": "i4"})


def test_r32_an_invite_gives_no_skill_that_the_plan_does_not_know(new_world) -> None:
    """R8: a skill typed wrong would let nobody lead anything, and nobody would see why. What somebody had before a plan
    dropped it stays, so that their role can still be changed."""
    world: World = new_world(plan())
    refused = world.refused(
        "ines", "crew.invite", "bad_input", invite="i1", role="helper", skills=["brakes", "brkaes"]
    )
    assert (refused.params["field"], refused.params["problem"]) == (
        "skills",
        "the plan knows no skill 'brkaes'.",
    )
    assert "brakes, electrical, lift_lead, mechanical" in refused.params["remedy"]
    refused = world.refused("ines", "crew.change_member", "bad_input", person="aled", skills=["welding"])
    assert refused.params["field"] == "skills"
    world.do("ines", "crew.invite", invite="i1", role="helper", skills=["brakes"])
    world.load(plan(skills=[{"id": "mechanical", "say": "Engines"}]))
    world.do("ines", "crew.change_member", person="bram", role="helper", skills=["brakes", "mechanical"])
    world.refused("ines", "crew.change_member", "bad_input", person="aled", skills=["brakes"])


def test_the_lead_changes_name_units_and_time_zone(new_world) -> None:
    """R30: the lead's; what is not named stays; a zone that nobody knows is refused by its field (R32)."""
    world: World = new_world()
    world.do("ines", "build.change", time_zone="Europe/Lisbon")
    world.do("ines", "build.change", name=" Heron Three ", units="both")
    build = world.get(Build, "build")
    assert (build.name, build.units, build.time_zone) == ("Heron Three", "both", "Europe/Lisbon")
    for wrong in (
        {"time_zone": "Europe/Nowhere"},
        {"time_zone": "../etc/passwd"},
        {"name": "  "},
        {"name": "a\nb"},
    ):
        refused = world.refused("ines", "build.change", "bad_input", **wrong)
        assert refused.params["field"] == next(iter(wrong))


def test_the_emergency_card_is_written_once_for_all(new_world) -> None:
    """R1: the words are payloads; writing it again replaces the whole card."""
    world: World = new_world()
    world.do("ines", "emergency.write", address_text="a" * 64, first_aid_text="b" * 64)
    world.do("ines", "emergency.write", address_text="c" * 64)
    card = world.get(Build, "build").emergency
    assert card is not None
    assert (card.address, card.first_aid, card.by) == ("c" * 64, None, "ines")


def test_r30_a_guest_for_the_day_is_not_the_lead_a_build_keeps() -> None:
    """Tomorrow they are gone, and nobody could invite, load a plan or make another lead."""
    world = World(signed_in=False)
    world.do("ines", "crew.invite", invite="invite-gus", role="lead", guest_for_the_day=True)
    world.do("gus", "crew.join", invite="invite-gus")

    world.refused("gus", "crew.leave", "last_lead", person="ines")
    world.refused("ines", "crew.change_member", "last_lead", person="ines", role="helper")
