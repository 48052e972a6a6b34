"""The plan of one build as plain data: what the lead writes in a plan file and what the rules work from.

Pure data. Physical values are kept as decimal *strings* exactly as written (R16: compared as exact
fractions, floats live in `calc` only); units are in the names or in a `unit` field beside the value.
Every id survives reordering: rows of a build refer to these ids and never to a position in a list.
"""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

FORMAT: Literal["yokemate-plan/1"] = "yokemate-plan/1"

PlanId = Annotated[str, StringConstraints(pattern=r"^[A-Za-z][A-Za-z0-9_.-]{0,39}$")]
Decimal = Annotated[str, StringConstraints(pattern=r"^-?\d{1,9}(\.\d{1,6})?$")]


def _real_day(said: str) -> str:
    with suppress(ValueError):
        if date.fromisoformat(said).isoformat() == said:
            return said
    raise ValueError("is no day; write it like 2026-12-05")


IsoDay = Annotated[
    str, AfterValidator(_real_day), WithJsonSchema({"type": "string", "format": "date"}, mode="validation")
]
Line = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Prose = Annotated[str, StringConstraints(min_length=1, max_length=2000)]

TorqueUnit = Literal["n_m", "lbf_ft", "lbf_in", "kgf_m"]
LengthUnit = Literal["mm", "cm", "m", "in"]
MeasureUnit = Literal["mm", "cm", "m", "in", "deg", "kg", "lb", "l", "bar", "v", "c", "count"]
MinorsMay = Literal["no", "watch", "with_adult"]
CheckMethod = Literal["watched", "torque_wrench_again", "first_movement", "paint_mark_seen"]
StepKind = Literal[
    "plain",
    "run_in",
    "snug",
    "tighten",
    "measure",
    "cut",
    "loosen",
    "unplug",
    "open",
    "prop",
    "put_back",
    "fill",
    "harvest",
    "confirm_side",
    "hold",
    "lift",
]
Side = Literal["left", "right"]
Hazard = Literal[
    "under_car", "fuel_open", "sparks", "heat", "live_battery", "jacking", "wheels_off", "cranking",
    "engine_running", "hands_in", "springs", "lift", "exhaust_co", "brake_fluid", "hot_coolant",
    "rotating", "grind_drill", "pinch_crush", "solder", "cut_edge", "paint", "eye", "solvent", "noise",
]  # fmt: skip


class PlanPart(BaseModel):
    """Base of everything in a plan: frozen, and an unknown field is an error with its name."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Page(PlanPart):
    """Where the manual says so: page and revision of the kit's manual."""

    page: Line
    revision: Line | None = None


class Choice(PlanPart):
    id: PlanId
    say: Line


class Option(PlanPart):
    """A choice of this build (gearbox, cooling, steering side) that adds, drops or changes work."""

    id: PlanId
    say: Line
    choices: list[Choice] = Field(min_length=2)
    default: PlanId


class Stage(PlanPart):
    id: PlanId
    name: Line


class Zone(PlanPart):
    id: PlanId
    name: Line
    people_at_most: int | None = Field(default=None, ge=1, le=99)


class Lag(PlanPart):
    """Time that must pass on the calendar (a cure, a turn-round at the machine shop)."""

    hours: Decimal
    why: Line


class After(PlanPart):
    """A predecessor. `touches`: the follower covers, loads or disturbs what came before (R5)."""

    task: PlanId
    touches: bool | None = None  # None: yes after a critical group or a hold point, else no
    lag: Lag | None = None


class Measure(PlanPart):
    """What is measured at a step. low/high are the limits, in `unit`, as written in the manual."""

    say: Line
    unit: MeasureUnit
    low: Decimal | None = None
    high: Decimal | None = None
    nominal: Decimal | None = None


class Step(PlanPart):
    id: PlanId
    say: Prose
    kind: StepKind = "plain"
    manual: Page | None = None
    group: PlanId | None = None  # run_in, snug, tighten: the bolt group
    fastener_passes: int | None = None  # reserved to the group's spec when None
    measure: Measure | None = None
    opens: list[PlanId] = []  # loose ends this step opens
    puts_back: list[PlanId] = []  # loose ends this step makes good
    cut: PlanId | None = None
    part: PlanId | None = None  # harvest: the part taken off the donor
    bag: PlanId | None = None
    side: Side | None = None  # confirm_side
    caution: Prose | None = None


class Uses(PlanPart):
    part: PlanId
    count: int = Field(default=1, ge=1)


class TaskPlan(PlanPart):
    """What one person takes and signs for."""

    id: PlanId
    title: Line
    stage: PlanId
    zone: PlanId
    minutes: tuple[int, int, int]  # quick, likely, slow
    steps: list[Step] = Field(min_length=1)
    after: list[After] = []
    must_people: int = Field(default=1, ge=1, le=12)
    better_people: int = Field(default=1, ge=1, le=12)
    lead_skill: str | None = None
    skilled_people: int = Field(default=1, ge=1, le=6)
    buddy: bool = False  # two adults throughout; pauses when the second leaves (R28)
    minors: MinorsMay = "with_adult"
    hazards: list[Hazard] = []
    tools: list[PlanId] = []  # tools from the tool store
    bring: list[Line] = []  # things without a place in the tool store
    uses: list[Uses] = []
    gives: list[PlanId] = []
    bags: list[PlanId] = []
    when: dict[PlanId, PlanId] = {}  # option -> choice that keeps this task in the plan
    hold_point: bool = False
    side: Side | None = None
    lag_after: Lag | None = None
    lift: PlanId | None = None
    manual: Page | None = None
    note: Prose | None = None
    stretch_minutes: int | None = Field(
        default=None, ge=15, le=1440
    )  # may be done over several days, in stretches at least so long; None: in one go


class Target(PlanPart):
    """What the spec asks for. `torque` in `unit`; the other kinds add turns, a gap or a range.

    `angles_deg`: "25 N·m, then 90°, then 90°" is ["90", "90"]. Each turn is a pass of its own over all fasteners,
    after the passes of the torque.
    """

    kind: Literal["torque", "torque_angle", "gap", "castle"] = "torque"
    torque: Decimal
    torque_max: Decimal | None = None  # castle nut: tighten on within this to the next pin hole
    unit: TorqueUnit
    angles_deg: list[Decimal] = Field(default=[], max_length=6)
    gap_mm: Decimal | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_angle(cls, said: Any) -> Any:
        """Plans and ledgers written before say one `angle_deg`."""
        if isinstance(said, dict) and "angle_deg" in said and "angles_deg" not in said:
            angle = said["angle_deg"]
            rest = {k: v for k, v in said.items() if k != "angle_deg"}
            return rest if angle is None else {**rest, "angles_deg": [angle]}
        return said


class Tolerance(PlanPart):
    """Accepted deviation at the fastener, in the target's unit. None in the spec: the build's default."""

    minus: Decimal
    plus: Decimal


class TorqueSpec(PlanPart):
    id: PlanId
    thread: Line
    property_class: str | None = None
    lubrication: Line
    nut_factor: Decimal | None = None  # K that the figure assumes, where its source says one
    target: Target
    tolerance: Tolerance | None = None
    passes_percent: list[int] = [100]  # share of the torque in each pass; the last is the whole figure
    source: Line
    page: Line | None = None
    note: Prose | None = None

    @property
    def turns_deg(self) -> list[Decimal]:
        """By how much each fastener is turned on after the torque, pass by pass."""
        return self.target.angles_deg if self.target.kind == "torque_angle" else []

    @property
    def passes(self) -> int:
        """Passes over the group: those of the torque, then one for each turn. The last is the final pass."""
        return len(self.passes_percent) + len(self.turns_deg)


class FastenerPlan(PlanPart):
    """One bolt, nut or stud. x, y: drawing position, -100..100, seen from `seen_from`, y up."""

    n: int = Field(ge=1, le=99)
    where: Line | None = None
    x: Decimal
    y: Decimal
    differs: Line | None = None  # length, washer, head direction of this hole


class BoltGroupPlan(PlanPart):
    id: PlanId
    name: Line
    spec: PlanId
    fasteners: list[FastenerPlan] = Field(min_length=1, max_length=40)
    order: list[int] = []  # tightening order; empty: worked out from the shape
    layout: Literal["ring", "rectangle", "line", "free"] = "ring"
    side: Side | None = None
    seen_from: Line
    up: Line  # what is up in the drawing: nose, top
    critical: bool = False
    countersign: bool = False
    single_use: bool = False
    retighten: bool = True  # False: angle, stretch, cured locker, staked: never turn again (R15)
    check_methods: list[CheckMethod] = []
    paint: bool = False


class Support(PlanPart):
    """Where the load is held. A person's place, or a machine's. x, y in mm in the load's own axes."""

    id: PlanId
    say: Line
    kind: Literal["lifter", "crane", "jack", "dolly", "stand"]
    x_mm: Decimal
    y_mm: Decimal
    rated_kg: Decimal | None = None


class LiftPhase(PlanPart):
    """One phase of a lift: which supports bear the load, hand height and reach where it is taken and set down, and how far
    it is tilted along its length (on a ramp, a step or stairs; either end may be the lower one)."""

    say: Line
    supports: list[PlanId] = Field(min_length=1)
    hands_height_cm: Decimal | None = None
    reach_cm: Decimal | None = None
    set_down_height_cm: Decimal | None = None  # hands at the end of the phase
    set_down_reach_cm: Decimal | None = None  # without it, the reach of the beginning
    vertical_travel_cm: Decimal | None = None  # how far the hands go up or down; along the floor is the path
    twist_deg: Decimal | None = None
    grip: Literal["good", "fair", "poor"] | None = None
    tilt_deg: Decimal | None = None

    @model_validator(mode="before")
    @classmethod
    def _older_name(cls, said: Any) -> Any:
        """Plans and ledgers written before say `travel_cm`."""
        if isinstance(said, dict) and "travel_cm" in said and "vertical_travel_cm" not in said:
            return {
                **{k: v for k, v in said.items() if k != "travel_cm"},
                "vertical_travel_cm": said["travel_cm"],
            }
        return said


class LiftPath(PlanPart):
    length_m: Decimal
    steps: int = 0
    doors: int = 0
    say: Line | None = None


class LiftPlan(PlanPart):
    id: PlanId
    title: Line
    mass_kg: Decimal | None = None
    mass_plus_minus_kg: Decimal = "0"
    cg_x_mm: Decimal | None = None
    cg_y_mm: Decimal | None = None
    cg_plus_minus_mm: Decimal = "0"
    cg_above_hands_mm: Decimal | None = (
        None  # above the plane of the supports, below it negative: for tilted phases
    )
    how_known: Line | None = None
    outline_mm: list[tuple[Decimal, Decimal]] = []
    supports: list[Support] = Field(min_length=1)
    phases: list[LiftPhase] = []
    guides: int = Field(default=0, ge=0, le=6)
    caller: bool = True
    caller_lifts: bool = False
    lookout: bool = False
    path: LiftPath | None = None
    method: Prose | None = None
    briefing: list[Line] = []
    words: list[Line] = ["Ready?", "Lift", "Forward", "Down"]
    stop_word: Line = "Stop"
    propped: list[PlanId] = []  # loose ends that landing opens


class LooseEndPlan(PlanPart):
    """A loose end that steps open and make good. The gate stays shut while it is open."""

    id: PlanId
    what: Line
    kind: Literal[
        "run_in", "snugged", "loosened", "unplugged", "opened", "propped", "borrowed", "drained", "other"
    ]
    where: Line | None = None
    gate: PlanId


class Standing(PlanPart):
    """A condition that closes the gate again when it becomes false. Exactly one field is set."""

    task_closed: PlanId | None = None
    loose_ends_closed: bool | None = None  # every loose end that belongs to this gate or an earlier one
    gate_open: PlanId | None = None
    critical_groups_signed: bool | None = None  # of all tasks closed or done so far
    lag_over: PlanId | None = None  # the lag after this task has passed


class GatePlan(PlanPart):
    """A point no build passes until its list is empty. Gates stand in the order of the file."""

    id: PlanId
    name: Line
    kind: Literal["rolling", "first_crank", "first_start", "first_drive", "inspection", "other"] = "other"
    standing: list[Standing] = []
    on_the_day: list[Line] = []
    wanted_on: IsoDay | None = None  # by which date the lead wants it
    guards: list[PlanId] = []  # tasks that wait for this gate


class TorqueWrenchPlan(PlanPart):
    """A torque wrench in the tool store. Range in `unit`; `step` is the scale's smallest mark."""

    unit: TorqueUnit
    lowest: Decimal
    highest: Decimal
    step: Decimal
    shows: Literal["click", "dial", "digital"] = "click"
    arm_mm: Decimal | None = None
    checked_on: Annotated[str, StringConstraints(max_length=10)] | None = (
        None  # ISO date of its last certificate
    )
    check_months: int = 12


class ToolPlan(PlanPart):
    id: PlanId
    name: Line
    count: int = Field(default=1, ge=1)
    torque_wrench: TorqueWrenchPlan | None = None


class PartPlan(PlanPart):
    id: PlanId
    name: Line
    count: int = Field(default=1, ge=0)
    source: Literal["kit", "donor", "new", "club_stock"]
    single_use: bool = False
    expected_on: IsoDay | None = None  # when it should arrive, where it is not here yet
    note: Line | None = None


class Bag(PlanPart):
    id: PlanId
    label: Line
    holds: list[Uses] = []


Length = Annotated[
    str, StringConstraints(pattern=r"^\d{1,6}(\.\d{1,3})?$|^\d{0,4} ?\d{1,2}/\d{1,2}$")
]  # in the unit of its list


class Piece(PlanPart):
    """`gap`: of a hose, the way between its two spigots; it is cut to that and what goes on at both ends."""

    n: int = Field(ge=1)
    length: Length
    gap: Length | None = None
    to: Line


class HoseEnds(PlanPart):
    """How the hose of a cut list goes on: how far at each end, in the list's unit."""

    bore: Length
    push: Length
    to_a_stop: bool = False  # a bead or shoulder says how far; else the depth is reckoned from the bore


class CutList(PlanPart):
    """Stock and pieces in ONE unit, said once; inches may be fractions ("9 5/8")."""

    id: PlanId
    what: Line
    unit: LengthUnit
    stock_length: Line
    stock_count: int | None = Field(default=None, ge=1, le=999)  # lengths that are bought
    kerf: Line = "0"
    plus: Line = "0"
    minus: Line = "0"
    hose: HoseEnds | None = None
    pieces: list[Piece]


class Wire(PlanPart):
    id: PlanId
    circuit: Line
    size_mm2: Decimal
    donor_tail_m: Decimal
    added_m: Decimal
    current_a: Decimal
    fuse_a: Decimal | None = None


class Pulley(PlanPart):
    name: Line
    x_mm: Decimal
    y_mm: Decimal
    r_mm: Decimal
    side: Literal["ribs", "back"]


class Belt(PlanPart):
    id: PlanId
    marking: Line
    ribs: int
    pulleys: list[Pulley]


class FollowUp(PlanPart):
    id: PlanId
    what: Line
    due: Line
    spec: PlanId | None = None


class Manual(PlanPart):
    title: Line
    revision: Line


class Plan(PlanPart):
    """A whole plan. Reading and checking live beside this file; this is only its shape."""

    format: Literal["yokemate-plan/1"] = FORMAT
    name: Line
    manual: Manual
    units: Literal["metric", "us", "both"] = "metric"
    default_tolerance_percent: Decimal = "5"
    skills: list[Choice] = []
    options: list[Option] = []
    stages: list[Stage]
    zones: list[Zone]
    specs: list[TorqueSpec] = []
    groups: list[BoltGroupPlan] = []
    lifts: list[LiftPlan] = []
    loose_ends: list[LooseEndPlan] = []
    gates: list[GatePlan] = []
    tools: list[ToolPlan] = []
    parts: list[PartPlan] = []
    bags: list[Bag] = []
    cuts: list[CutList] = []
    wires: list[Wire] = []
    belts: list[Belt] = []
    follow_ups: list[FollowUp] = []
    tasks: list[TaskPlan]
