"""Worlds for tests of the rules; each is replayed and checked when its test ends (R1, R2, R16)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from rules.world import World


@pytest.fixture
def new_world() -> Iterator[Callable[..., World]]:
    """Makes a World; every one made is checked when the test ends."""
    made: list[World] = []

    def make(*args: Any, **more: Any) -> World:
        world = World(*args, **more)
        made.append(world)
        return world

    yield make
    for world in made:
        world.check_ledger()
