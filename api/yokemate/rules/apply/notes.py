"""Deviations, snags, notes, kept evidence, withdrawn bodies (R1, R4, R9)."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows import Deviation, Evidence, Note, Snag, Task, Withdrawal
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.tasks import Tick


@applies("deviation.proposed")
def deviation_proposed(
    draft: Draft, at: At, *, id: str, task: str, step: str | None, group: str | None, critical: bool,
    manual_says: str, we_did: str, why: str, photo: str | None, answer: str | None, leave_out: bool = False,
) -> None:  # fmt: skip
    draft.put(
        Deviation(
            id=id,
            task=task,
            step=step,
            group=group,
            critical=critical,
            leave_out=leave_out,
            manual_says=manual_says,
            we_did=we_did,
            why=why,
            photo=photo,
            answer=answer,
            by=at.by,
            at_ms=at.at_ms,
        )
    )
    row = draft.find(Task, task)
    if leave_out and step is not None and row is not None:
        tick = Tick(by=at.by, at_ms=at.at_ms, left_out=True)
        draft.change(Task, task, ticks={**row.ticks, step: tick})


@applies("deviation.accepted")
def deviation_accepted(
    draft: Draft, at: At, *, deviation: str, answer: str | None, state: Literal["waiting", "accepted"]
) -> None:
    row = draft.get(Deviation, deviation)
    accepted = [*row.accepted, Pair(by=at.by, at_ms=at.at_ms)]
    draft.change(Deviation, deviation, accepted=accepted, answer=answer, state=state)


@applies("snag.reported")
def snag_reported(
    draft: Draft,
    at: At,
    *,
    id: str,
    what: str,
    note: str | None,
    task: str | None,
    group: str | None,
    photo: str | None,
) -> None:
    draft.put(
        Snag(id=id, what=what, note=note, task=task, group=group, photo=photo, by=at.by, at_ms=at.at_ms)
    )


@applies("snag.put_right")
def snag_put_right(draft: Draft, at: At, *, snag: str) -> None:
    draft.change(Snag, snag, put_right=Pair(by=at.by, at_ms=at.at_ms))


@applies("note.added")
def note_added(
    draft: Draft, at: At, *, id: str, about_kind: str, about: str, text: str | None, photo: str | None
) -> None:
    draft.put(
        Note(id=id, about_kind=about_kind, about=about, text=text, photo=photo, by=at.by, at_ms=at.at_ms)
    )


@applies("payload.withdrawn")
def payload_withdrawn(draft: Draft, at: At, *, payload: str, reason: str) -> None:
    draft.put(Withdrawal(id=payload, reason=reason, by=at.by, at_ms=at.at_ms))


@applies("evidence.kept")
def evidence_kept(
    draft: Draft, at: At, *, id: str, task: str | None, code: str, asks: list[dict[str, Any]]
) -> None:
    before = draft.find(Evidence, id)
    if before is not None:  # the rest of a bundle, from a later exchange
        draft.change(Evidence, id, asks=[*before.asks, *asks])
        return
    draft.put(Evidence(id=id, task=task, by=at.by, at_ms=at.at_ms, code=code, asks=asks))
