"""How loose ends open and close. Every subject that opens or closes one tells these two entries (R23)."""

from __future__ import annotations

from typing import Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.gates import LooseEnd, LooseKind


@applies("loose_end.opened")
def opened(
    draft: Draft,
    at: At,
    *,
    id: str,
    what: str,
    kind: LooseKind,
    where: str | None = None,
    zone: str | None = None,
    gate: str | None = None,
    plan_id: str | None = None,
    group: str | None = None,
    task: str | None = None,
    restores_task: str | None = None,
    restores_step: str | None = None,
    note: str | None = None,
    photo: str | None = None,
) -> None:
    row = LooseEnd(
        id=id,
        what=what,
        kind=kind,
        where=where,
        zone=zone,
        gate=gate,
        plan_id=plan_id,
        group=group,
        task=task,
        restores_task=restores_task,
        restores_step=restores_step,
        note=note,
        photo=photo,
        opened_by=at.by,
        opened_ms=at.at_ms,
    )
    draft.put(row)


@applies("loose_end.closed")
def closed(
    draft: Draft,
    at: At,
    *,
    id: str,
    how: Literal["put_back", "final", "made_good", "another_way"],
    photo: str | None = None,
) -> None:
    draft.change(LooseEnd, id, closed=Pair(by=at.by, at_ms=at.at_ms), closed_how=how, closed_photo=photo)
