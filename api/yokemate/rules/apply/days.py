"""How a taken plan of the days becomes a row."""

from __future__ import annotations

from typing import Any

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows import DaysPlan, Gate, Part
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.days import Block, GateOdds


@applies("days.taken")
def taken(
    draft: Draft, at: At, *, blocks: list[dict[str, Any]], unplaced: list[str], gates: dict[str, int], finish_ms: int,
    chain: list[str], odds: list[dict[str, Any]], by: str,
) -> None:  # fmt: skip
    draft.put(
        DaysPlan(
            id="days",
            blocks=[Block.model_validate(one) for one in blocks],
            unplaced=unplaced,
            gates=gates,
            finish_ms=finish_ms,
            chain=chain,
            odds=[GateOdds.model_validate(one) for one in odds],
            by=by,
            taken=Pair(by=at.by, at_ms=at.at_ms),
        )
    )


@applies("gate.wanted")
def wanted(draft: Draft, at: At, *, gate: str, on: str | None) -> None:
    draft.change(Gate, gate, wanted_on=on)


@applies("part.expected")
def expected(draft: Draft, at: At, *, part: str, on: str | None) -> None:
    draft.change(Part, part, expected_on=on)
