"""Whether a reading counts: one verdict per fastener, in the order in which a crew would want to hear it
(R11, R12, R15).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from yokemate.rules.as_found import as_found_wanted
from yokemate.rules.frame import State
from yokemate.rules.rows import Member
from yokemate.rules.rows.stores import TorqueWrench
from yokemate.rules.rows.tasks import Task
from yokemate.rules.rows.torque import Bolt, Group, Reading, Window
from yokemate.rules.taking import minor_level
from yokemate.rules.tightening import (
    Setup,
    asked,
    beside,
    never_again,
    open_bolts,
    open_pass,
    pass_window,
    setup_of,
    shown,
    steps_of,
    taken_ms,
    to_tolerance,
)
from yokemate.rules.wrenches import Unfit, out_of_range, unfit_at
from yokemate.units import parse_number

NOT_LOOKED = "as_found_missing"


@dataclass(frozen=True)
class Verdict:
    """`deviation` names why a reading that is not critical counts only as a deviation (R11)."""

    counts: bool
    why_not: str | None = None
    why_params: dict[str, Any] = field(default_factory=dict)
    outside: bool = False
    at_fastener: str | None = None
    window: Window | None = None
    deviation: Unfit | None = None


def judge(
    state: State,
    group: Group,
    wrench: TorqueWrench | None,
    reading: Reading,
    *,
    clicks_in_command: int = 1,
    instead_of: Reading | None = None,
) -> Verdict:
    """Judge one reading, made at its own moment, against the group as it stands.

    `wrench`: None in a pass that only turns. `instead_of` is the reading that this one corrects (R17): what that one had filled counts as open.
    """
    bolt = next(b for b in group.bolts if b.n == reading.bolt)
    exact = to_tolerance(group, reading.pass_no)
    setup = _setup(group, wrench, reading)
    figures = _figures(group, reading, setup)
    reason = (
        _too_late(group, bolt, reading)
        or _not_on_task(state, group, reading)
        or _only_watches(state, reading)
        or (_run_in_here(state, group, reading) if exact else None)
        or _fastener(state, group, bolt, reading, instead_of)
        or _not_looked(state, group, reading, instead_of)
        or _how_read(group, wrench, reading, clicks_in_command)
    )
    if reason is None and wrench is not None and setup is None:
        reason = Unfit("arm_unknown")
    others = [r for r in state.all(Reading) if r.id != reading.id and r != instead_of]
    unfit = _wrench(wrench, reading, others) if wrench is not None and exact else []
    if reason is None and unfit and group.plan.critical:
        reason = unfit[0]
    outside = None
    if reason is None:
        outside = (_outside(group, reading, setup, exact) if setup else None) or _outside_beside(
            state, group, reading
        )
        reason = outside
    return Verdict(
        counts=reason is None,
        why_not=reason.code if reason else None,
        why_params=dict(reason.params) if reason else {},
        outside=outside is not None and exact,
        deviation=unfit[0] if unfit and reason is None else None,
        **figures,
    )


def _setup(group: Group, wrench: TorqueWrench | None, reading: Reading) -> Setup | None:
    """None where no torque wrench measures the pass, or an extension needs an arm that nobody has entered."""
    if wrench is None or reading.unit is None:
        return None
    return setup_of(
        group,
        reading.unit,
        wrench.plan.arm_mm,
        reading.extension_mm,
        reading.extension_angle_deg,
        reading.drag,
    )


def _torque(group: Group, reading: Reading, setup: Setup) -> Fraction:
    assert reading.unit is not None
    return setup.at_fastener(group, parse_number(reading.value or reading.set_value or ""), reading.unit)


def _figures(group: Group, reading: Reading, setup: Setup | None) -> dict[str, Any]:
    if setup is None or reading.unit is None:
        return {}
    return {
        "at_fastener": shown(_torque(group, reading, setup)),
        "window": setup.window(group, reading.pass_no, reading.unit),
    }


def _too_late(group: Group, bolt: Bolt, reading: Reading) -> Unfit | None:
    """Handed over after something that had already made an end of it."""
    if group.left_out:
        return Unfit("left_out")
    if taken_ms(reading) < bolt.undone_ms:
        return Unfit("undone_since")
    if reading.pass_no == group.passes and taken_ms(reading) < group.final_pass_from:
        return Unfit("interrupted")
    return None


def _not_on_task(state: State, group: Group, reading: Reading) -> Unfit | None:
    """A task that somebody else had taken (R6): kept as evidence, not counted."""
    task = state.find(Task, reading.task) if reading.task else None
    if task is None or task.state != "taken" or task.holder is None:
        return None
    on_it = {task.holder, *task.worked, *(mate.person for mate in task.mates)}
    if reading.by in on_it:
        return None
    return Unfit("not_on_task", {"holder_person": task.holder})


def _only_watches(state: State, reading: Reading) -> Unfit | None:
    """Somebody under 18 who may only watch this work, or not even that (R8)."""
    task = state.find(Task, reading.task) if reading.task else None
    member = state.find(Member, reading.by)
    watches = task is not None and member is not None and minor_level(task, member) in ("no", "watch")
    return Unfit("minor_watch") if watches else None


def _run_in_here(state: State, group: Group, reading: Reading) -> Unfit | None:
    """A final figure in a task that only runs the group in: its final pass belongs to another, later task."""
    final_tasks = [task.id for task, _ in steps_of(state, group.id, "tighten")]
    here = {task.id for task, _ in steps_of(state, group.id, "run_in", "snug")}
    if reading.task not in here or reading.task in final_tasks or not final_tasks:
        return None
    return Unfit("run_in_here", {"task": reading.task, "final_task": final_tasks[-1]})


def _fastener(
    state: State, group: Group, bolt: Bolt, reading: Reading, instead_of: Reading | None
) -> Unfit | None:
    if bolt.needs_new:
        return Unfit("needs_new")
    lacking = open_pass(group)
    if lacking is not None and lacking < reading.pass_no:
        return Unfit("earlier_pass_open", {"bolt": open_bolts(group, lacking)[0], "pass_no": lacking})
    standing = _turned(group, bolt, reading.pass_no, instead_of)
    if standing is not None:
        turned = state.get(Reading, standing)
        return Unfit("already_turned", {"turned_person": turned.by, "turned_ms": taken_ms(turned)})
    return None


def _turned(group: Group, bolt: Bolt, pass_no: int, instead_of: Reading | None) -> str | None:
    """The reading by which the fastener had its turn in this pass or one after it. Typed wrong is no turn (R17):
    a correction only stumbles over another reading of its own pass.
    """
    last = pass_no if instead_of is not None else group.passes
    found = [
        bolt.passes[str(n)]
        for n in range(pass_no, last + 1)
        if str(n) in bolt.passes and never_again(group, n)
    ]
    return next((id for id in found if instead_of is None or id != instead_of.id), None)


def _not_looked(state: State, group: Group, reading: Reading, instead_of: Reading | None) -> Unfit | None:
    """A first pass while nobody has said how faces and threads were found: clamped, they can't be seen any more.

    Typing a figure anew says nothing of it: what counted before it was asked for goes on counting (R17).
    """
    if reading.pass_no != 1 or (reading.faces is not None and reading.threads is not None):
        return None
    if instead_of is not None and instead_of.why_not != NOT_LOOKED:
        return None
    return Unfit(NOT_LOOKED) if as_found_wanted(state, group) else None


def _how_read(group: Group, wrench: TorqueWrench | None, reading: Reading, clicks: int) -> Unfit | None:
    if wrench is not None and reading.value is None and wrench.plan.shows == "dial":
        return Unfit("value_missing")
    final = reading.pass_no == group.passes
    if final and group.plan.critical and reading.value is None and clicks > 1:
        return Unfit("one_by_one")
    turn = asked(group, reading.pass_no).angle_deg
    if turn is not None and reading.angle_deg is None:
        return Unfit("angle_missing", {"angle_deg": turn})
    target = group.spec.target
    if final and target.kind == "gap" and target.gap_mm is not None and reading.gap_mm is None:
        return Unfit("gap_missing", {"gap_mm": target.gap_mm})
    return None


def _wrench(wrench: TorqueWrench, reading: Reading, others: list[Reading]) -> list[Unfit]:
    """R11, at the moment of the reading: the torque wrench itself, its set value and what it showed."""
    unfit = unfit_at(wrench, taken_ms(reading), others)
    for value in (reading.set_value, reading.value):
        if value is not None and reading.unit is not None:
            unfit += out_of_range(wrench, parse_number(value), reading.unit)
    return unfit


def _outside(group: Group, reading: Reading, setup: Setup, exact: bool) -> Unfit | None:
    accepts = pass_window(group, reading.pass_no)
    torque = _torque(group, reading, setup)
    unit = group.spec.target.unit
    if not exact:
        if accepts.holds(torque):
            return None
        limits = {"low": shown(accepts.low, 2), "high": shown(accepts.high, 2)}
        return Unfit(
            "off_level", {"pass_no": reading.pass_no, "value": shown(torque), "unit": unit, **limits}
        )
    if torque > accepts.high:
        return Unfit("outside_high", {"value": shown(torque), "high": shown(accepts.high), "unit": unit})
    if torque < accepts.low:
        return Unfit("outside_low", {"value": shown(torque), "low": shown(accepts.low), "unit": unit})
    return None


def _outside_beside(state: State, group: Group, reading: Reading) -> Unfit | None:
    """The turn, or the gap, that the pass asks for beside or instead of a torque."""
    turn, target = asked(group, reading.pass_no).angle_deg, group.spec.target
    if turn is not None and reading.angle_deg is not None:
        return _not_beside(state, "outside_angle", reading.angle_deg, turn)
    if reading.pass_no == group.passes and target.kind == "gap" and target.gap_mm and reading.gap_mm:
        return _not_beside(state, "outside_gap", reading.gap_mm, target.gap_mm)
    return None


def _not_beside(state: State, code: str, typed: str, wanted: str) -> Unfit | None:
    low, high = beside(state, wanted)
    if low <= parse_number(typed) <= high:
        return None
    return Unfit(code, {"value": typed, "low": shown(low), "high": shown(high)})


def task_of(state: State, group_id: str, named: str | None) -> str | None:
    """The task a reading belongs to: the one named, else the one whose step tightens the group."""
    if named is not None:
        return state.get(Task, named).id
    return next((task.id for task, _ in steps_of(state, group_id, "tighten")), None)
