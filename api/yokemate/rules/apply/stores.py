"""What happens to the tool store."""

from __future__ import annotations

from typing import Any, Literal

from yokemate.planfile.model import TorqueWrenchPlan
from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.stores import Tool, TorqueWrench, Weighed, WrenchCheck


@applies("wrench.entered")
def entered(
    draft: Draft, at: At, *, wrench: str, name: str, plan: dict[str, Any], checks: list[dict[str, Any]]
) -> None:
    draft.put(
        TorqueWrench(
            id=wrench,
            name=name,
            plan=TorqueWrenchPlan.model_validate(plan),
            checks=[WrenchCheck.model_validate(check) for check in checks],
        )
    )


@applies("wrench.checked")
def checked(
    draft: Draft,
    at: At,
    *,
    wrench: str,
    kind: Literal["certificate", "house_check"],
    checked_ms: int,
    until_ms: int,
    good: bool,
    note: str | None,
    groups: list[str],
    weighed: dict[str, Any] | None = None,
) -> None:
    row = draft.get(TorqueWrench, wrench)
    check = WrenchCheck(
        kind=kind,
        at_ms=checked_ms,
        until_ms=until_ms,
        good=good,
        by=at.by,
        note=note,
        weighed=None if weighed is None else Weighed.model_validate(weighed),
    )
    mended = good and row.dropped_ms is not None and checked_ms > row.dropped_ms
    draft.change(
        TorqueWrench,
        wrench,
        checks=sorted([*row.checks, check], key=lambda c: c.at_ms),
        dropped_ms=None if mended else row.dropped_ms,
    )


@applies("wrench.retired")
def retired(draft: Draft, at: At, *, wrench: str, back: bool) -> None:
    draft.change(TorqueWrench, wrench, retired_ms=None if back else at.at_ms)


@applies("wrench.dropped")
def dropped(
    draft: Draft, at: At, *, wrench: str, dropped_ms: int, found_out_later: bool, groups: list[str]
) -> None:
    row = draft.get(TorqueWrench, wrench)
    drops = sorted([*row.drops, dropped_ms])
    checked_since = any(check.good and check.at_ms > drops[-1] for check in row.checks)
    draft.change(TorqueWrench, wrench, drops=drops, dropped_ms=None if checked_since else drops[-1])


@applies("tool.borrowed")
def borrowed(draft: Draft, at: At, *, tool: str, person: str, count: int) -> None:
    out = draft.get(Tool, tool).out
    draft.change(Tool, tool, out={**out, person: out.get(person, 0) + count})


@applies("tool.returned")
def returned(draft: Draft, at: At, *, tool: str, person: str, count: int, left_out: int) -> None:
    out = {who: n for who, n in draft.get(Tool, tool).out.items() if who != person}
    draft.change(Tool, tool, out={**out, person: left_out} if left_out else out)
