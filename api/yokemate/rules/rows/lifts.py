"""A lift: its plan, the shares worked out for it, who takes which place, and where it stands."""

from __future__ import annotations

from typing import ClassVar, Literal

from yokemate.planfile.model import LiftPlan
from yokemate.rules.frame import Row, RowPart
from yokemate.rules.rows.crew import Pair

LiftState = Literal["drafted", "called", "crewed", "in_place", "lifting", "held", "landed", "stood_down"]


class Share(RowPart):
    """What one support bears in one phase, kg as decimal strings: nominal and at worst."""

    support: str
    phase: str
    nominal_kg: str
    worst_kg: str
    least_kg: str = "0"  # what a machine is credited with


VerdictWord = Literal["within guidance", "above guidance", "refused"]  # from better to worse


class PassedFigure(RowPart):
    """A published figure that a share passes: a place's own, the team's, or a machine's marking."""

    place: str  # empty: the team together
    rule: str  # "team", "rating", or what gave a place's own figure (entries of before: "own place")
    share_kg: str
    limit_kg: str


# What allowed one person least in a phase. `largest`: the plan tells no hand heights, so the filter's best zone counts.
DecidedBy = Literal["largest", "zone", "equation", "equation_set_down"]


class Verdict(RowPart):
    """How a lift is judged when everybody who lifts is of one published class (R20). Never a word on anybody."""

    figure_kg: str  # 25 or 16: the largest published figure for one person
    verdict: VerdictWord
    phase: str  # the worst one
    person_kg: str | None = (
        None  # what that phase allows one person at most; None where nobody bears enough for sums
    )
    decided_by: DecidedBy | None = None
    passed: list[PassedFigure] = []
    team_share_kg: str
    team_limit_kg: str | None = None
    second_opinion_kg: str | None = None  # EN 1005-2, never to loosen
    second_opinion_passed: list[
        PassedFigure
    ] = []  # by it one of several should bear less; entries of before do not tell
    by: str  # calculation and its version


class Roll(RowPart):
    """One answer of the roll call, ticked by the caller."""

    person: str
    at_ms: int


class Lift(Row):
    """`places` maps a support id of kind lifter, or "guide-1".., "lookout", "caller" to a person id.

    `answers` says only *will be there* or *declined*: unsuitable, unskilled and declined read the same (R21).
    """

    KIND: ClassVar[str] = "lift"
    plan: LiftPlan
    planned: LiftPlan | None = None  # as the plan file has it, where weighing found another load
    outdated: bool = (
        False  # it was up or landed when a plan with another load was loaded: that one is not in use here
    )
    how_known_text: str | None = None  # payload id: how the load was found, where it was weighed since
    task: str | None = None
    state: LiftState = "drafted"
    shares: list[Share] = []
    shares_by: str = ""  # calculation and its version
    verdicts: list[Verdict] = []
    above_reason: str | None = None  # payload id: why it was called although above guidance (R20)
    unfit: str | None = None  # refusal code when it can't be lifted at all: mass_unknown, tips...
    when_ms: int | None = None
    called_by: str | None = None
    round: int = 0  # how often everybody was asked: it was called, or weighed
    answers: dict[str, Literal["will_come", "declined"]] = {}
    places: dict[str, str] = {}  # place -> person
    ready: dict[str, int] = {}  # person -> when they read the briefing and said ready
    roll: dict[str, Roll] = {}  # place -> ticked in the roll call
    children_out: bool = False
    nobody_beneath: bool = False
    floor_ms: int | None = None  # when the caller said so; part of the roll call
    there: list[str] = []  # who had a place when it was lifted: one of them signs it as landed (R22)
    lifting_since_ms: int | None = None
    held: Pair | None = None  # who stopped it, when
    stopped: Pair | None = None  # the last STOP, whatever it stopped
    lowering: bool = False
    set_down: Pair | None = None
    set_down_by_caller: bool = False
    landed_elsewhere: str | None = None  # payload id
    landed: Pair | None = None  # the second signature
    crossed_out: list[Pair] = []  # signatures as landed before its task was undone (R26)
    by_voice: bool = False
    voice_marks: list[str] = []  # what the rules would have said against the places reported
    stood_down: Pair | None = None
    stood_down_why: str | None = None
