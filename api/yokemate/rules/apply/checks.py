"""What checks and countersigns change."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.torque import BoltCheck, Check, Countersign, Group


@applies("check.noted")
def noted(
    draft: Draft,
    at: At,
    *,
    id: str,
    group: str,
    round: int,
    readings_digest: str,
    bolts: list[dict[str, Any]],
    state: Literal["pin_due", "sent_back", "still_holds"],
    reason: str | None,
) -> None:
    draft.put(
        Check(
            id=id,
            group=group,
            round=round,
            by=at.by,
            at_ms=at.at_ms,
            readings_digest=readings_digest,
            bolts=[BoltCheck.model_validate(bolt) for bolt in bolts],
            state=state,
            reason=reason,
        )
    )


@applies("check.lapsed")
def check_lapsed(draft: Draft, at: At, *, checks: list[str], why: str) -> None:
    for id in checks:
        draft.change(Check, id, state="lapsed", reason=why)


@applies("check.still_holds")
def still_holds(draft: Draft, at: At, *, checks: list[str]) -> None:
    for id in checks:
        draft.change(Check, id, state="still_holds")


@applies("check.sent_back")
def sent_back(
    draft: Draft, at: At, *, group: str, bolts: list[int], reason: str, note: str | None, checks: list[str]
) -> None:
    for id in checks:
        draft.change(Check, id, state="sent_back", reason=reason)


@applies("countersign.signed")
def signed(
    draft: Draft,
    at: At,
    *,
    id: str,
    group: str,
    round: int,
    check: str,
    walk: str,
    readings_digest: str,
    open_network: bool,
) -> None:
    draft.put(
        Countersign(
            id=id,
            group=group,
            round=round,
            check=check,
            walk=walk,
            by=at.by,
            at_ms=at.at_ms,
            readings_digest=readings_digest,
            open_network=open_network,
        )
    )
    draft.change(Check, check, state="signed")
    draft.change(Group, group, countersign=id, check_asked_ms=None)


@applies("countersign.lapsed")
def lapsed(draft: Draft, at: At, *, countersign: str, group: str, why: str) -> None:
    draft.change(Countersign, countersign, lapsed_ms=at.at_ms, lapsed_why=why, lapsed_by=at.by)
    draft.change(Group, group, countersign=None)
