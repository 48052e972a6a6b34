"""The plan of the build days that the lead has taken: who does what when."""

from __future__ import annotations

from typing import ClassVar

from yokemate.rules.frame import Row, RowPart
from yokemate.rules.rows.crew import Pair

FINISH = "finish"  # among the odds: of all work, not of a gate


class Block(RowPart):
    """One stretch of work. `check`: the countersign of the task, not the task itself. `step`: the hold step up to which the
    work goes, or that is signed. `company`: there, not at work."""

    task: str
    check: bool = False
    step: str | None = None
    from_ms: int
    to_ms: int
    team: list[str]
    joiners: list[str] = []
    company: list[str] = []


class DaysPlan(Row):
    """One row, id "days". Times are moments; `gates` says when each is reached by this plan."""

    KIND: ClassVar[str] = "days_plan"
    blocks: list[Block] = []
    unplaced: list[str] = []
    gates: dict[str, int] = {}
    finish_ms: int
    chain: list[str] = []  # tasks that carry the finish: none of them may slip
    odds: list[GateOdds] = []
    by: str = ""  # what worked it out, and its version
    taken: Pair


class GateOdds(RowPart):
    """When a gate is reached, as a range: half, and four in five, of the tries are there by then."""

    gate: str
    p50_ms: int | None = None
    p80_ms: int | None = None
    in_time_percent: int | None = None
    drivers: list[str] = []


DaysPlan.model_rebuild()
