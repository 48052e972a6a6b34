"""How proposals that wait for a second person change."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.gates import Proposal


@applies("two.proposed")
def proposed(
    draft: Draft,
    at: At,
    *,
    proposal: str,
    what: Literal["open_gate", "put_right", "lift_tag"],
    about: str,
    reason: str | None,
    confirmed: list[str],
    seen: dict[str, Any],
    until_ms: int | None,
) -> None:
    row = Proposal(
        id=proposal,
        what=what,
        about=about,
        by=at.by,
        at_ms=at.at_ms,
        until_ms=until_ms,
        reason=reason,
        confirmed=confirmed,
        seen=seen,
    )
    draft.put(row)


@applies("two.seconded")
def seconded(draft: Draft, at: At, *, proposal: str) -> None:
    draft.change(Proposal, proposal, state="seconded", second=Pair(by=at.by, at_ms=at.at_ms))


@applies("two.withdrawn")
def withdrawn(draft: Draft, at: At, *, proposal: str) -> None:
    draft.change(Proposal, proposal, state="withdrawn")


@applies("two.lapsed")
def lapsed(draft: Draft, at: At, *, proposal: str, why: Literal["changed", "proposed_again"]) -> None:
    draft.change(Proposal, proposal, state="lapsed")
