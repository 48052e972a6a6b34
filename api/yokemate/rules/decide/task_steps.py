"""Steps, measures, hold points, the sign-off, and what follows from them (R5, R7, R9, R23)."""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.model import Step
from yokemate.rules.availability import comes_before, shut_gates
from yokemate.rules.commands.tasks import ConfirmSide, EnterMeasure, SignHold, SignOff, TickSteps, UntickStep
from yokemate.rules.decide.step_effects import step_done, steps_not_done
from yokemate.rules.deviations import left_out_unaccepted
from yokemate.rules.frame import Deciding, decides, settles
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.hold_points import held_by, open_before, signed_after, step_is_done, worked_on
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Deviation, Group, Lift, LooseEnd, Member, Task
from yokemate.rules.second_person import need_second
from yokemate.rules.single_use import lacking_single_use, to_use_up
from yokemate.rules.taking import harm, left_alone, minor_level, not_on, people_on, who_is_missing
from yokemate.rules.tightening import group_due, group_step_done
from yokemate.rules.transitions import need_state
from yokemate.units import QuantityError, convert_exact, parse_inches, parse_number

_BULK = ("plain",)
_ARRIVES_LATE_MS = 10 * 60_000


@decides(TickSteps)
def tick(d: Deciding, cmd: TickSteps) -> None:
    task = _worked(d, cmd.task, "task.tick")
    steps = [_step(task, id) for id in dict.fromkeys(cmd.steps)]
    if not steps:
        raise Refused(
            "bad_input", field="steps", problem="no step is named", remedy="Name the steps that are done."
        )
    _need_people(_paused(d, task, steps))
    for step in steps:
        if len(steps) > 1 and step.kind not in _BULK:
            raise Refused("step_not_plain", number=_number(task, step))
        _need_before(d, task, step)
        _need_done(d, task, step)
    _tell_done(d, task, [step for step in steps if step.id not in task.ticks])


def _need_before(d: Deciding, task: Task, step: Step) -> None:
    """A hold step holds everything behind it until it is signed, or somebody else says that it may be left out (R5, R9)."""
    hold = held_by(d, task, step)
    if hold is None:
        return
    raise left_out_unaccepted(d, task, hold, d.now_ms) or Refused("step_before", number=_number(task, hold))


def _need_done(d: Deciding, task: Task, step: Step) -> None:
    number = _number(task, step)
    if step.kind == "measure":
        raise Refused("step_needs_value", say=step.measure.say if step.measure else step.say)
    if step.kind == "confirm_side":
        raise Refused("step_needs_side")
    if step.kind == "hold" and step.id not in task.holds:
        raise Refused("hold_needed", number=number)
    if step.kind in ("run_in", "snug", "tighten") and not group_step_done(d, step):
        group = d.find(Group, step.group or "")
        raise Refused("group_not_final", group=group.plan.name if group else step.group)
    if step.kind == "lift" and task.plan.lift is not None:
        lift = d.find(Lift, task.plan.lift)
        # Down is enough to go on; that one more who was there signs is due by the sign-off (R22). A phone without a signal
        # could wait for that signature for hours.
        if lift is not None and lift.state != "landed" and lift.set_down is None:
            raise Refused("lift_not_down")
    for part in lacking_single_use(d, task):
        raise Refused("missing_single_use", part=part.plan.name)
    _need_nobody_hurt(d, task)


def _need_nobody_hurt(d: Deciding, task: Task) -> None:
    """Nothing goes on that may not go on beside it, and no tag hangs on it (R27)."""
    why_not = harm(d, task, d.who)
    if why_not is not None:
        raise why_not


def _tell_done(d: Deciding, task: Task, steps: list[Step], side: str | None = None) -> None:
    if not steps:
        return
    d.tell("task.ticked", task=task.id, steps=[step.id for step in steps], side=side)
    for step in steps:
        step_done(d, task, step)


@decides(UntickStep)
def untick(d: Deciding, cmd: UntickStep) -> None:
    task = _worked(d, cmd.task, "task.untick")
    step = _step(task, cmd.step)
    if step.id in task.ticks:
        d.tell("task.unticked", task=task.id, step=step.id)
        _not_done(d, task, step)


def _not_done(d: Deciding, task: Task, step: Step) -> None:
    """What it had put back comes back, and a hold point signed for it is crossed out (R5, R23)."""
    steps_not_done(d, task, [step.id])


@settles
def holds_rest_on_what_is_before_them(d: Deciding) -> None:
    """A signed hold step falls with the first step before it that is not done any more (R5)."""
    for task in sorted(d.all(Task), key=lambda t: t.order):
        if task.state != "taken" or not task.holds:
            continue
        signed = [one for one in task.plan.steps if one.id in task.holds]
        opened = (open_before(d, task, one) or (None if one.id in task.ticks else one) for one in signed)
        step = next((one for one in opened if one is not None), None)
        if step is not None:
            d.tell("task.hold_crossed_out", task=task.id, holds=signed_after(task, step), because_of=step.id)


@decides(ConfirmSide)
def confirm_side(d: Deciding, cmd: ConfirmSide) -> None:
    task = _worked(d, cmd.task, "task.confirm_side")
    step = _step(task, cmd.step)
    wanted = step.side or task.plan.side
    if wanted is not None and cmd.side != wanted:
        raise Refused("wrong_side", side=wanted)
    _need_people(_paused(d, task, [step]))
    _need_before(d, task, step)
    _need_nobody_hurt(d, task)
    _tell_done(d, task, [step], side=cmd.side)


@decides(EnterMeasure)
def measure(d: Deciding, cmd: EnterMeasure) -> None:
    """A report: kept in any case. Inside its limits, by somebody on the task, it ticks the step (R9, R16)."""
    task = d.get(Task, cmd.task)
    step = next((s for s in task.plan.steps if s.id == cmd.step), None)
    wanted = step.measure if step else None
    if step is None or wanted is None:
        raise Refused("unknown", what="measure step", id=cmd.step)
    try:
        value = parse_inches(cmd.value) if cmd.unit == "in" else parse_number(cmd.value)
        if cmd.unit != wanted.unit:  # a count is a unit here and has nothing to convert to
            value = convert_exact(value, cmd.unit, wanted.unit)
    except QuantityError as wrong:
        raise Refused("bad_input", field=wrong.field, problem=wrong.message, remedy=wrong.remedy) from wrong
    inside = (wanted.low is None or value >= Fraction(wanted.low)) and (
        wanted.high is None or value <= Fraction(wanted.high)
    )
    why_not = None if task.state == "taken" and d.who in people_on(task) else "not_on_it"
    if why_not is None and minor_level(task, d.get(Member, d.who)) in ("no", "watch"):
        why_not = "minor_watch"
    ticks = inside and why_not is None and held_by(d, task, step) is None
    ticks = ticks and (step.id in task.ticks or _may_go_on(d, task, step))
    d.tell(
        "task.measured", task=task.id, step=step.id, value=cmd.value, unit=cmd.unit, low=wanted.low, high=wanted.high,
        inside=inside, ticks=ticks, why_not=why_not, photo=cmd.photo,
    )  # fmt: skip
    had_tick = step.id in task.ticks
    if ticks and not had_tick:
        step_done(d, task, step)
    elif had_tick and not ticks and why_not is None:
        _not_done(d, task, step)


def measured_so(d: Deciding, task: Task, step: Step) -> None:
    """What was measured outside and is said to be done differently is done: it waits for a yes, not for another figure
    (R9). Only where the work on it may go on, said by who is at it; not where it is stuck.
    """
    last = next(reversed(task.measures.get(step.id, [])), None)
    open_and_outside = step.id not in task.ticks and last is not None and not last.inside
    at_it = task.state == "taken" and task.stuck is None and d.who in people_on(task)
    watches = minor_level(task, d.get(Member, d.who)) in ("no", "watch")
    if (
        open_and_outside
        and at_it
        and not watches
        and held_by(d, task, step) is None
        and _may_go_on(d, task, step)
    ):
        _tell_done(d, task, [step])


def _may_go_on(d: Deciding, task: Task, step: Step) -> bool:
    return (_paused(d, task, [step]) or harm(d, task, d.who)) is None


@decides(SignHold)
def sign_hold(d: Deciding, cmd: SignHold) -> None:
    task = d.get(Task, cmd.task)
    need_state(task, "task.sign_hold")
    if cmd.step != "end" and _step(task, cmd.step).kind != "hold":
        raise Refused("unknown", what="hold point", id=cmd.step)
    if cmd.step == "end" and (not task.plan.hold_point or task.state != "done"):
        raise Refused("not_in_state", what=task.id, state=task.state, remedy="The doer signs it off first.")
    if cmd.step in task.holds:
        raise Refused("hold_signed")
    need_second(d, d.who, worked_on(task))
    before = None if cmd.step == "end" else open_before(d, task, _step(task, cmd.step))
    if before is not None:
        raise Refused("step_before", number=_number(task, before))
    d.tell("task.hold_signed", task=task.id, step=cmd.step, open_network=d.ctx.facts.over_open_network)
    if cmd.step != "end":
        _tell_done(d, d.get(Task, task.id), [_step(task, cmd.step)])


@decides(SignOff)
def sign_off(d: Deciding, cmd: SignOff) -> None:
    task = d.get(Task, cmd.task)
    need_state(task, "task.sign_off")
    if task.holder != d.who:
        raise Refused("only_the_holder", holder_person=task.holder)
    if task.stuck is not None:
        raise Refused("is_stuck", task=task.id, reason=task.stuck.reason.replace("_", " "))
    _need_people(who_is_missing(d, task))
    open_steps = [str(_number(task, step)) for step in task.plan.steps if not step_is_done(d, task, step)]
    _need_measures(d, task)
    if open_steps:
        raise Refused("steps_open", numbers=", ".join(open_steps))
    for due in group_due(d, task):
        if due.lacks == "final":
            raise Refused("group_not_final", group=d.get(Group, due.group).plan.name)
    if task.plan.lift is not None:
        lift = d.find(Lift, task.plan.lift)
        if lift is not None and lift.state != "landed":
            raise Refused("lift_not_landed")
    _need_put_back(d, task)
    d.tell("task.signed_off", task=task.id)
    for use, part in list(to_use_up(d, task)):
        d.tell(
            "task.part_used_up", task=task.id, part=part.id, in_stock=max(0, part.in_stock - use.count),
            in_use=part.in_use + use.count,
        )  # fmt: skip


def _need_measures(d: Deciding, task: Task) -> None:
    for step in task.plan.steps:
        taken = task.measures.get(step.id)
        if taken and step.id not in task.ticks and not taken[-1].inside and step.measure is not None:
            raise Refused(
                "measure_outside", say=step.measure.say, value=taken[-1].value, unit=taken[-1].unit,
                low=step.measure.low or "any", high=step.measure.high or "any", ask_person=first_lead(d),
            )  # fmt: skip


def _need_put_back(d: Deciding, task: Task) -> None:
    """What this task's own steps promised to put back and is still open."""
    promised = {plan_id for step in task.plan.steps for plan_id in step.puts_back}
    still = [e.what for e in d.all(LooseEnd) if e.closed is None and e.plan_id in promised]
    if still:
        raise Refused("loose_ends_not_put_back", what="; ".join(still))


def _paused(d: Deciding, task: Task, steps: list[Step]) -> Refused | None:
    """Who must be on it is not, or not here, or its gate has shut. A step that was said on a phone without signal was
    done when it was said: who is in by the time it arrives says nothing about that. To put back is never too late.
    """
    missing = who_is_missing(d, task)
    if missing is not None:
        return missing
    if not all(step.puts_back for step in steps):
        for gate in shut_gates(d, task):
            if gate.shut_ms is None or gate.shut_ms <= d.ctx.device_ms:
                return Refused("gate_shut", task=task.id, gate=gate.plan.name)
    late = d.now_ms - d.ctx.device_ms >= _ARRIVES_LATE_MS
    return None if late else left_alone(d, task, d.who, d.now_ms)


def _need_people(why_not: Refused | None) -> None:
    if why_not is not None:
        raise why_not


def _worked(d: Deciding, task_id: str, kind: str) -> Task:
    task = d.get(Task, task_id)
    need_state(task, kind)
    if d.who not in people_on(task):
        raise not_on(task)
    if task.stuck is not None:
        raise Refused("is_stuck", task=task.id, reason=task.stuck.reason.replace("_", " "))
    if minor_level(task, d.get(Member, d.who)) in ("no", "watch"):
        raise Refused("minor_watch")
    return task


def _step(task: Task, id: str) -> Step:
    for step in task.plan.steps:
        if step.id == id:
            return step
    raise Refused("unknown", what="step", id=id)


def _number(task: Task, step: Step) -> int:
    return [one.id for one in task.plan.steps].index(step.id) + 1


@settles
def close_what_is_done(d: Deciding) -> None:
    """Done and nothing due any more: closed. A signature that lapsed under a closed task: done, check due (R14).
    What was released out of order closes only once what comes before it has (R5).
    """
    for task in sorted(d.all(Task), key=lambda t: t.order):
        if task.state not in ("done", "closed"):
            continue
        due = check_due(d, task)
        early = task.released is not None and bool(comes_before(d, task))
        if task.state == "done" and not due and not early:
            d.tell("task.closed", task=task.id)
        elif task.state == "closed" and due:
            d.tell("task.check_due", task=task.id)


def check_due(d: Deciding, task: Task) -> bool:
    """Does a signed task still lack a countersign, its hold point or the yes to what was done differently?"""
    if group_due(d, task) or (task.plan.hold_point and "end" not in task.holds):
        return True
    return any(dev.task == task.id and dev.state == "waiting" for dev in d.all(Deviation))
