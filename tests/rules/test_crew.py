"""Who belongs, in which role, who is in today (R8, R29, R30)."""

from __future__ import annotations

from rules.world import World
from yokemate.rules.rows import Member


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
