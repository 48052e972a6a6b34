"""What a pass asks for, what a reading amounts to at the fastener, what comes next: figures without a
verdict.

Everything is compared as exact fractions in the unit it was entered in (R12, R16).
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import check_range
from yokemate.calc.torque_wrench import WINDOW_PLACES, extension_ratio
from yokemate.planfile.model import Step, TorqueUnit
from yokemate.rules.frame import State
from yokemate.rules.rows.crew import Build
from yokemate.rules.rows.tasks import Task
from yokemate.rules.rows.torque import Bolt, Group, Reading, Window
from yokemate.units import convert_exact, format_decimal, parse_number, round_inward

CALC = "torque_wrench/1"
MOST_DRAG = 10_000  # in the spec's unit; more is a slip


@dataclass(frozen=True)
class PassWindow:
    """What one pass asks for at the fastener, in the spec's unit. For a castle nut `target` is where the
    range starts.
    """

    target: Fraction
    low: Fraction
    high: Fraction

    def holds(self, torque: Fraction) -> bool:
        return self.low <= torque <= self.high


@dataclass(frozen=True)
class Asked:
    """What a pass asks of every fastener: a share of the torque, or a turn on from there.

    Both at once only in builds whose plan was loaded before a turn had a pass of its own.
    """

    percent: int | None
    angle_deg: str | None


def asked(group: Group, pass_no: int) -> Asked:
    """`pass_no`: 1 to the group's passes. The entry that loaded the plan says how many those are."""
    levels, turns = group.spec.passes_percent, group.spec.turns_deg
    if pass_no > len(levels):
        return Asked(None, turns[pass_no - len(levels) - 1])
    both = bool(turns) and pass_no == group.passes
    return Asked(levels[pass_no - 1], turns[0] if both else None)


def torque_pass(group: Group) -> int:
    """The pass that brings the whole torque: the last one, unless turns follow. Its torque wrench decides (R11)."""
    return len(group.spec.passes_percent)


def to_tolerance(group: Group, pass_no: int) -> bool:
    """Whether the pass is held to the spec's figure: the whole torque, and every turn after it (R12)."""
    return pass_no >= torque_pass(group)


def never_again(group: Group, pass_no: int) -> bool:
    """Whether a fastener that had this pass must not be turned in it again (R15)."""
    return not group.plan.retighten and (pass_no == group.passes or asked(group, pass_no).percent is None)


def is_final(group: Group, passes: Collection[str]) -> bool:
    """Whether a fastener with these passes has its whole torque and every turn after it."""
    return all(str(n) in passes for n in range(torque_pass(group), group.passes + 1))


def beside(state: State, wanted: str) -> tuple[Fraction, Fraction]:
    """Lowest and highest of an angle or a gap: a plan gives those no tolerance, the build's default counts (R12)."""
    share = Fraction(state.get(Build, "build").default_tolerance_percent) / 100
    return Fraction(wanted) * (1 - share), Fraction(wanted) * (1 + share)


def pass_window(group: Group, pass_no: int) -> PassWindow:
    """The accepted torque of a pass that brings torque.

    The whole torque: the spec's tolerance (R12). An earlier pass only brings the parts together evenly, so a
    figure
    does when it is nearer to its own level than to the level before and after (common practice, no source).
    """
    target = group.spec.target
    torque = Fraction(target.torque)
    if to_tolerance(group, pass_no):
        minus, plus = Fraction(group.tolerance[0]), Fraction(group.tolerance[1])
        top = torque
        if target.kind == "castle" and target.torque_max is not None:
            top = Fraction(target.torque_max)
            if group.tolerance_is_default:  # the manual's range is the tolerance
                minus = plus = Fraction(0)
        return PassWindow(torque, max(torque - minus, torque / 1000), top + plus)
    percents = group.spec.passes_percent
    level = torque * percents[pass_no - 1] / 100
    before = torque * percents[pass_no - 2] / 100 if pass_no > 1 else Fraction(0)
    after = torque * percents[pass_no] / 100
    return PassWindow(level, (before + level) / 2, (level + after) / 2)


@dataclass(frozen=True)
class Setup:
    """How the torque wrench was put on. `arm_ratio`: setting over torque at the fastener; `drag` in the
    spec's unit.
    """

    arm_ratio: Fraction = Fraction(1)
    drag: Fraction = Fraction(0)

    def at_fastener(self, group: Group, value: Fraction, unit: TorqueUnit) -> Fraction:
        """Torque that tightens the fastener, in the spec's unit, for a value on the torque wrench's scale."""
        return convert_exact(value, unit, group.spec.target.unit) / self.arm_ratio - self.drag

    def on_scale(self, group: Group, torque: Fraction, unit: TorqueUnit) -> Fraction:
        """What the torque wrench must show for a torque at the fastener."""
        return convert_exact((torque + self.drag) * self.arm_ratio, group.spec.target.unit, unit)

    def window(self, group: Group, pass_no: int, unit: TorqueUnit) -> Window:
        """The accepted readings on the torque wrench's scale, both ends rounded inward to more places than
        are typed. A window narrower than that has its low end above the high one: no reading is inside.
        """
        accepts = pass_window(group, pass_no)
        low, high = round_inward(
            self.on_scale(group, accepts.low, unit), self.on_scale(group, accepts.high, unit), WINDOW_PLACES
        )
        return Window(
            unit=unit,
            target=shown(self.on_scale(group, accepts.target, unit)),
            low=trim(low),
            high=trim(high),
        )


def setup_of(
    group: Group,
    unit: TorqueUnit,
    arm_mm: str | None,
    extension_mm: str | None,
    extension_angle_deg: str | None,
    drag: str | None,
) -> Setup | None:
    """The setup, or None when an extension needs the torque wrench's arm and nobody has entered it.

    Errors: QuantityError naming the field, when a figure is outside what the formula covers.
    """
    drag_there = (
        convert_exact(drag, unit, group.spec.target.unit, "drag") if drag is not None else Fraction(0)
    )
    check_range("drag", drag_there, 0, MOST_DRAG)
    length = parse_number(extension_mm, "extension_mm") if extension_mm is not None else Fraction(0)
    angle = (
        parse_number(extension_angle_deg, "extension_angle_deg")
        if extension_angle_deg is not None
        else Fraction(0)
    )
    if length == 0 or angle == 90:
        return Setup(drag=drag_there)
    if arm_mm is None:
        return None
    return Setup(extension_ratio(Fraction(arm_mm), length, angle), drag_there)


def trim(text: str) -> str:
    """A decimal without the zeros that say nothing: 24.500000 -> 24.5."""
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown(value: Fraction, places: int = WINDOW_PLACES) -> str:
    """A figure for people to read, rounded; verdicts never rest on it."""
    return trim(format_decimal(value, places))


def inside(typed: str, low: str, high: str) -> bool:
    """Whether a number as typed lies in a window of decimal strings, ends included. Phones do the same."""
    return parse_number(low) <= parse_number(typed) <= parse_number(high)


def taken_ms(reading: Reading) -> int:
    """When the reading was taken: the phone's clock, but never after the service had it."""
    return min(reading.device_ms, reading.at_ms)


def final_readings(state: State, group: Group) -> list[Reading]:
    """The readings that make the group final, by fastener: of the whole torque and of every turn after it.

    Empty unless every fastener has them.
    """
    wanted = [str(n) for n in range(torque_pass(group), group.passes + 1)]
    ids = [bolt.passes.get(n) if bolt.final else None for bolt in group.bolts for n in wanted]
    found = [state.find(Reading, id) if id is not None else None for id in ids]
    return [reading for reading in found if reading is not None] if all(found) else []


def readings_digest(readings: Iterable[Reading]) -> str:
    """SHA-256 (hex) over the readings that count: fastener, reading, torque wrench, set value, value, unit; or the
    angle it was turned by (R13, R14).
    """
    lines = [
        " ".join((r.group, str(r.round), str(r.bolt), r.id, *_read(r)))
        for r in sorted(readings, key=lambda r: (r.bolt, r.pass_no))
    ]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _read(reading: Reading) -> tuple[str, ...]:
    if reading.wrench is None or reading.set_value is None or reading.unit is None:
        return ("turned", reading.angle_deg or "", "deg")
    return (reading.wrench, reading.set_value, reading.value or "clicked", reading.unit)


def open_pass(group: Group) -> int | None:
    """The first pass that some fastener lacks; None when the group is final."""
    for number in range(1, group.passes):
        if any(str(number) not in bolt.passes for bolt in group.bolts):
            return number
    return None if all(bolt.final for bolt in group.bolts) else group.passes


def open_bolts(group: Group, pass_no: int) -> list[int]:
    """Fasteners that still lack this pass, in the order of tightening."""
    lacks = {
        b.n for b in group.bolts if not (b.final if pass_no == group.passes else str(pass_no) in b.passes)
    }
    return [n for n in group.order if n in lacks] + sorted(lacks - set(group.order))


def starts_again(state: State, group: Group) -> bool:
    """Whether its final pass was interrupted and nobody has read in it since (R10)."""
    if group.final_pass_from == 0 or open_pass(group) != group.passes:
        return False
    if len(open_bolts(group, group.passes)) < len(group.bolts):
        return False
    last = [
        reading
        for reading in state.all(Reading)
        if (reading.group, reading.round, reading.pass_no) == (group.id, group.round, group.passes)
    ]
    newest = max(last, key=lambda r: (taken_ms(r), r.at_ms, r.id), default=None)
    return newest is not None and newest.why_not == "interrupted"


def steps_of(state: State, group_id: str, *kinds: str) -> Iterator[tuple[Task, Step]]:
    """Steps of these kinds on the group, of tasks that are in the build, in the plan's order."""
    for task in sorted(state.all(Task), key=lambda t: t.order):
        if task.state != "left_out":
            for step in task.plan.steps:
                if step.group == group_id and step.kind in kinds:
                    yield task, step


def group_step_done(state: State, step: Step) -> bool:
    """Whether a run in, snug or tighten step is done: its group says so, nobody ticks it (R9, R11)."""
    group = state.find(Group, step.group) if step.group else None
    if group is None:
        return False
    if step.kind == "tighten":
        return group.state == "final"
    return all(bolt_is(bolt, step.kind) for bolt in group.bolts)


def bolt_is(bolt: Bolt, how: str) -> bool:
    """Whether the fastener has been brought at least that far: run_in, snug."""
    further = bool(bolt.passes) or bolt.final or bolt.snug
    return further or (how == "run_in" and bolt.run_in)


@dataclass(frozen=True)
class Due:
    """What a group of a task still lacks."""

    group: str
    lacks: str  # final | countersign


def needs_countersign(group: Group) -> bool:
    return group.plan.critical or group.plan.countersign


def group_due(state: State, task: Task) -> list[Due]:
    """Which groups of this task's tighten steps lack their last pass or their countersign (R11, R13).

    A step that was left out, with a deviation, asks nothing of a group that nobody has to check (R9); of one that
    somebody has to, it asks all the same.
    """
    due: list[Due] = []
    for step in task.plan.steps:
        group = state.find(Group, step.group) if step.kind == "tighten" and step.group else None
        if group is None or group.left_out:
            continue
        tick = task.ticks.get(step.id)
        if tick is not None and tick.left_out and not needs_countersign(group):
            continue
        if group.state != "final":
            due.append(Due(group.id, "final"))
        elif needs_countersign(group) and group.countersign is None:
            due.append(Due(group.id, "countersign"))
    return due
