"""What to take along for a task's fasteners."""

from __future__ import annotations

from rules.torque_shop import Shop, group_row, spec, task_row
from yokemate.planfile.model import Step


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
