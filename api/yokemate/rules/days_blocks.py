"""A schedule as an entry keeps it, in blocks, and back. Pure."""

from __future__ import annotations

from typing import Any

from yokemate.planning import problem as p
from yokemate.rules.days_frame import Frame
from yokemate.rules.days_pieces import piece_id, piece_of
from yokemate.rules.frame import State
from yokemate.rules.rows import DaysPlan
from yokemate.rules.rows.days import Block


def last_schedule(state: State, known: set[str], at: Frame) -> p.Schedule | None:
    """The taken plan, as far as it still lies ahead."""
    taken = state.find(DaysPlan, "days")
    return None if taken is None else schedule_of(taken.blocks, known, at)


def schedule_of(blocks: list[Block], known: set[str], at: Frame) -> p.Schedule:
    """Blocks as stints of a schedule, as far as their tasks are known and they do not lie before today."""
    stints = [
        p.Stint(id, at.slot(b.from_ms), at.slot(b.to_ms), tuple(b.team), tuple(b.joiners), tuple(b.company))
        for b in blocks
        if (id := piece_id(b.task, b.check, b.step)) in known and at.slot(b.from_ms) >= 0
    ]
    return p.Schedule(tuple(sorted(stints, key=lambda s: (s.start, s.task))))


def blocks_of(schedule: p.Schedule, at: Frame) -> list[dict[str, Any]]:
    """A schedule's stints as an entry keeps them: moments, ids, nothing to work out."""
    return [_block(stint, at) for stint in schedule.stints]


def _block(stint: p.Stint, at: Frame) -> dict[str, Any]:
    task, check, step = piece_of(stint.task)
    return {
        "task": task,
        "check": check,
        **({"step": step} if step is not None else {}),
        "from_ms": at.ms(stint.start),
        "to_ms": at.ms(stint.end),
        "team": list(stint.team),
        "joiners": list(stint.joiners),
        "company": list(stint.company),
    }
