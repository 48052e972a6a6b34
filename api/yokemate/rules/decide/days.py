"""Taking a plan of the days, wanted dates, expected parts."""

from __future__ import annotations

from typing import Any

from yokemate.rules.commands.days import ExpectPart, TakeDays, WantGate
from yokemate.rules.days_pieces import piece_is_due, task_of
from yokemate.rules.days_recheck import no_longer
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Gate, Part, Task


@decides(TakeDays)
def take(d: Deciding, cmd: TakeDays) -> None:
    """The offer stands outside the ledger until it is taken; then all of it stands in the entry (R2).

    Work that was finished since it was worked out is left out of it; what is left the checker proves once more.
    """
    offer = d.ctx.facts.offer
    if offer is None:
        raise Refused("offer_gone")
    blocks = [one for one in offer["blocks"] if _still_due(d, one)]
    if stale := no_longer(d, d.ctx.facts.hours, d.now_ms, blocks):
        raise Refused("offer_stale", what=task_of(stale[0]))
    d.tell("days.taken", **{**offer, "blocks": blocks})


def _still_due(d: Deciding, block: dict[str, Any]) -> bool:
    task = d.find(Task, block["task"])
    return task is not None and piece_is_due(d, task, block["check"], block.get("step"))


@decides(WantGate)
def want(d: Deciding, cmd: WantGate) -> None:
    gate = d.get(Gate, cmd.gate)
    d.tell("gate.wanted", gate=gate.id, on=cmd.on)


@decides(ExpectPart)
def expect(d: Deciding, cmd: ExpectPart) -> None:
    part = d.get(Part, cmd.part)
    d.tell("part.expected", part=part.id, on=cmd.on)
