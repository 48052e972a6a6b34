"""The build itself, who belongs to it, and who is in today. People are opaque ids here (R1)."""

from __future__ import annotations

from typing import ClassVar, Literal

from yokemate.planfile.model import Bag, Choice, CutList, LooseEndPlan, Manual, MinorsMay, Option, Stage, Zone
from yokemate.rules.frame import Role, Row, RowPart


class EmergencyCard(RowPart):
    """What is read out when somebody is hurt. Payload ids: where a garage stands is nobody's business for ever (R1)."""

    address: str | None = None
    first_aid: str | None = None
    extinguishers: str | None = None
    by: str
    at_ms: int


class Build(Row):
    """One row, id "build": the vehicle being made and what of its plan is not a task, group, lift or gate."""

    KIND: ClassVar[str] = "build"
    name: str
    units: Literal["metric", "us", "both"]
    time_zone: str = "UTC"
    made_by: str
    plan_name: str | None = None
    plan_digest: str | None = None
    plan_at: int | None = None  # head number at which the plan was loaded
    manual: Manual | None = None
    options: dict[str, str] = {}  # option -> choice in force
    choices: list[Option] = []  # what there is to choose
    loose_ends: list[LooseEndPlan] = []  # what steps may open; an open one is a row of its own
    bags: list[Bag] = []
    cuts: list[CutList] = []
    stages: list[Stage] = []
    zones: list[Zone] = []
    skills: list[Choice] = []
    default_tolerance_percent: str = "5"
    engine: Literal["off", "running"] = "off"
    engine_by: str | None = None  # who said so last
    demo: bool = False
    emergency: EmergencyCard | None = None
    learner_percent: int = 100  # how long work takes with somebody who learns it, of the figure in the plan
    comes_percent: int = 100  # of a hundred hours that were given, so many are kept; the ranges count on it


class Member(Row):
    """id = person id. What the crew may know of somebody; private things are in no row (R21)."""

    KIND: ClassVar[str] = "member"
    role: Role
    skills: list[str] = []
    minor: MinorsMay | None = None  # None: adult. Else the most that this young member may do
    may_countersign: bool = False
    in_since_ms: int | None = None  # signed in for the day
    deputy_until_ms: int | None = None
    guest_until_ms: int | None = None  # a guest for the day
    left: bool = False


class Invite(Row):
    """What an invite gives. Its secret is outside the ledger; `used_by` stays empty until somebody joins by it."""

    KIND: ClassVar[str] = "invite"
    role: Role
    skills: list[str] = []
    minor: MinorsMay | None = None
    may_countersign: bool = False
    guest_for_the_day: bool = False
    made_by: str
    until_ms: int
    used_by: str | None = None


class Visit(Row):
    """Visitors and children who are in: they count for R18 (children out) and for the emergency list."""

    KIND: ClassVar[str] = "visit"
    what: Literal["visitor", "child"]
    payload: str | None = None  # the name, kept as a payload outside the ledger
    with_person: str | None = None
    in_since_ms: int
    out_ms: int | None = None


class Pair(RowPart):
    """A person and a moment."""

    by: str
    at_ms: int
