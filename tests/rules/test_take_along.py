"""What to take along for a task's fasteners."""

from __future__ import annotations

import pytest

from rules.torque_shop import Shop, group_row, spec, task_row
from yokemate.planfile.model import Step
from yokemate.rules.take_along import sockets_for


def test_sockets_are_named_by_the_heads_that_take_them() -> None:
    """Widths across flats of M10: ISO 4014 and ISO 4032 16 mm, DIN 931 and DIN 934 17 mm. A tube nut is measured."""
    tube = spec().model_copy(update={"thread": "M10x1 tube nut"})
    plain = spec().model_copy(update={"thread": "M10x1.5"})
    steps = [Step(id=f"s{n}", say="Tighten", kind="tighten", group=f"H{n}") for n in (1, 2, 3)]
    shop = Shop(
        group_row("H1", made_to=plain),
        group_row("H2", made_to=tube),
        group_row("H3", made_to=plain),
        task_row("T9", 9, *steps),
    )
    plain_out, tube_out = shop.view("task", task="T9").sockets
    by_size = {one.size: one.standard for one in plain_out.sockets}
    assert "ISO hexagon" in by_size["16 mm"]
    assert "old DIN" in by_size["17 mm"]
    assert (tube_out.thread, tube_out.sockets) == ("M10x1 tube nut", [])


@pytest.mark.parametrize(
    ("words", "sizes"),
    [
        ("5/16-18", ["1/2 in"]),
        ("3/8 - 24 UNF", ["9/16 in"]),
        ("7/16-20 UNF", ["5/8 in", "11/16 in"]),
        ("1-8", ["1 1/2 in"]),
        ("M24x2", ["36 mm"]),
        ("M6 x 1", ["8 mm", "10 mm"]),
        ("M6 × 1,0 x 25 LH", ["8 mm", "10 mm"]),
        ("M10x1 tube nut", []),
        ("M10x1 banjo bolt", []),
        ("M14x1.5 drain plug", []),
        ("worm clamp 8 mm band", []),
        ("8 mm hose", []),
        ("3/8", []),
        ("3/8 barb", []),
    ],
)
def test_which_words_are_a_plain_hexagon(words: str, sizes: list[str]) -> None:
    """Widths of ASME B18.2.1 and B18.2.2 (7/16: screw 5/8, nut 11/16) and of ISO 4014; anything else is measured."""
    assert [socket.size for socket in sockets_for(words)] == sizes
