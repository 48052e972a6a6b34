"""What readings, running in, interruptions and undoing change. Fasteners and states stand in the entries."""

from __future__ import annotations

from typing import Any

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.torque import Bolt, Group, Reading


def set_bolts(draft: Draft, group: str, bolts: list[dict[str, Any]], **fields: Any) -> None:
    """Put the changed fasteners in; a group that is not final carries no digest."""
    row = draft.get(Group, group)
    changed = {bolt["n"]: Bolt.model_validate(bolt) for bolt in bolts}
    if fields.get("state", row.state) != "final":
        fields["readings_digest"] = ""
    draft.change(Group, group, bolts=[changed.get(b.n, b) for b in row.bolts], **fields)


def cross_out(draft: Draft, at: At, readings: list[str], why: str) -> None:
    for id in readings:
        draft.change(
            Reading,
            id,
            counts=False,
            why_not=draft.get(Reading, id).why_not or why,
            crossed_out_by=at.by,
            crossed_out_ms=at.at_ms,
            crossed_out_why=why,
        )


@applies("torque.read")
def read(
    draft: Draft,
    at: At,
    *,
    group: str,
    readings: list[dict[str, Any]],
    superseded: list[str],
    bolts: list[dict[str, Any]],
    state: str,
    touched: list[str],
) -> None:
    for reading in readings:
        draft.put(Reading.model_validate(reading))
    for id in superseded:
        draft.change(Reading, id, counts=False, why_not="superseded")
    set_bolts(draft, group, bolts, state=state, touched=touched, check_asked_ms=None)


@applies("torque.corrected")
def corrected(
    draft: Draft,
    at: At,
    *,
    group: str,
    old: str,
    reading: dict[str, Any],
    bolts: list[dict[str, Any]],
    state: str,
    touched: list[str],
) -> None:
    """Whoever types a figure anew has a hand in it: the second person must be another (R13)."""
    cross_out(draft, at, [old], "typed_wrong")
    draft.put(Reading.model_validate(reading))
    set_bolts(draft, group, bolts, state=state, touched=touched)


@applies("torque.run_in")
def run_in(
    draft: Draft,
    at: At,
    *,
    group: str,
    task: str | None,
    how: str,
    bolts: list[dict[str, Any]],
    state: str,
    touched: list[str],
) -> None:
    set_bolts(draft, group, bolts, state=state, touched=touched)


@applies("torque.new_fastener")
def new_fastener(
    draft: Draft, at: At, *, group: str, bolts: list[dict[str, Any]], touched: list[str]
) -> None:
    set_bolts(draft, group, bolts, touched=touched)


@applies("torque.interrupted")
def interrupted(
    draft: Draft,
    at: At,
    *,
    group: str,
    from_ms: int,
    bolts: list[dict[str, Any]],
    readings: list[str],
    state: str,
    why: str,
) -> None:
    cross_out(draft, at, readings, "interrupted")
    set_bolts(draft, group, bolts, state=state, final_pass_from=from_ms)


@applies("torque.stopped")
def stopped(draft: Draft, at: At, *, group: str) -> None:
    """Nothing was begun; the report stands in the ledger."""


@applies("torque.check_asked")
def check_asked(draft: Draft, at: At, *, group: str) -> None:
    draft.change(Group, group, check_asked_ms=at.at_ms)


@applies("group.final")
def final(draft: Draft, at: At, *, group: str, readings_digest: str) -> None:
    draft.change(Group, group, state="final", readings_digest=readings_digest, undone_by=None)


@applies("group.not_final")
def not_final(
    draft: Draft,
    at: At,
    *,
    group: str,
    bolts: list[dict[str, Any]],
    readings: list[str],
    why: str,
    state: str,
) -> None:
    cross_out(draft, at, readings, why)
    set_bolts(draft, group, bolts, state=state)


@applies("group.undone")
def undone(
    draft: Draft,
    at: At,
    *,
    group: str,
    bolts: list[dict[str, Any]],
    late: list[int],
    readings: list[str],
    reason: str,
    whole: bool,
    undone_ms: int,
    state: str,
) -> None:
    cross_out(draft, at, readings, "undone")
    if not bolts:
        return
    set_bolts(draft, group, bolts, state=state, undone_by=at.by, undone_ms=undone_ms, check_asked_ms=None)
    if whole:
        draft.change(Group, group, round=draft.get(Group, group).round + 1, touched=[])
