"""Loading a plan, or a new version of it; options; releasing out of order; clearing marks (R5, R14, R24, R26)."""

from __future__ import annotations

from typing import Any

from yokemate.planfile.check import check
from yokemate.planfile.findings import Finding
from yokemate.planfile.model import BoltGroupPlan, LiftPlan, Plan, Step, TaskPlan, TorqueSpec
from yokemate.rules.commands.plan import ChooseOptions, ClearMark, LoadPlan, ReleaseTask
from yokemate.rules.decide.group_changes import drop_readings, lapse
from yokemate.rules.decide.step_effects import steps_not_done
from yokemate.rules.decide.task_changes import hand_back, reopen_task
from yokemate.rules.frame import Deciding, State, decides
from yokemate.rules.lift_shares import work_out_shares
from yokemate.rules.lift_verdict import judge_lift
from yokemate.rules.plan_figures import group_figures, in_force, options_in_force, plan_digest
from yokemate.rules.plan_of import plan_of
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Group, Lift, Task
from yokemate.rules.wrenches import certificate_of_plan

SIGNED = ("done", "closed")


@decides(LoadPlan)
def load_plan(d: Deciding, cmd: LoadPlan) -> None:
    build = d.get(Build, "build")
    _not_changed_since(d, build)
    plan = cmd.plan
    options = _options(plan, cmd.options, build.options)
    _need_none("plan_faulty", check(plan, options))
    _no_lift_goes_on(d, plan)
    left_out, gone = _fallen_away(d, plan, options)
    _groups_change(d, plan)
    unticked = _unticked(d, plan)
    before = [d.get(Task, task) for task in unticked]
    d.tell(
        "plan.loaded",
        plan=plan.model_dump(mode="json"),
        digest=plan_digest(plan),
        options=options,
        groups=_group_figures(d, plan),
        lifts={lift.id: shares_of(lift) for lift in plan.lifts},
        certificates=_certificates(d, plan),
        head=d.head + len(d.entries) + 1,
        left_out=left_out,
        gone=gone,
        unticked=unticked,
        groups_left_out=_groups_left_out(plan, options),
    )
    for task in before:
        steps_not_done(d, task, unticked[task.id])
    _after_change(d)


@decides(ChooseOptions)
def choose_options(d: Deciding, cmd: ChooseOptions) -> None:
    build = d.get(Build, "build")
    if build.plan_digest is None:
        raise Refused("no_plan")
    _not_changed_since(d, build)
    known = {option.id: {choice.id for choice in option.choices} for option in build.choices}
    _known_options(known, cmd.options)
    options = {**build.options, **cmd.options}
    _need_whole(d, build.options, options)
    tasks = sorted(d.all(Task), key=lambda t: t.order)
    left_out = [t.id for t in tasks if t.retired or not in_force(t.plan, options)]
    d.tell(
        "plan.options_chosen",
        options=options,
        head=d.head + len(d.entries) + 1,
        left_out=left_out,
        groups_left_out=_idle_groups(
            [(t.plan, t.id not in left_out) for t in tasks], [g.id for g in d.all(Group)]
        ),
    )
    _after_change(d)


def _need_whole(d: Deciding, before: dict[str, str], options: dict[str, str]) -> None:
    """The work that is left under the new options still holds together (R24). What was at fault before is not held
    against the change.
    """
    plan = plan_of(d)
    if plan is None:
        return
    old = {finding.text() for finding in check(plan, before)}
    _need_none("options_faulty", [f for f in check(plan, options) if f.text() not in old])


def _need_none(code: str, findings: list[Finding]) -> None:
    errors = [finding for finding in findings if finding.level == "error"]
    if errors:
        raise Refused(code, count=len(errors), first=errors[0].text(), findings=[f.text() for f in errors])


@decides(ReleaseTask)
def release_task(d: Deciding, cmd: ReleaseTask) -> None:
    """The lead lets a task be taken although its predecessors are not there yet; it can't close early (R5)."""
    task = d.get(Task, cmd.task)
    if task.state != "open":
        raise Refused(
            "not_in_state", what=task.id, state=task.state, remedy="Only a task that waits can be released."
        )
    d.tell("task.released", task=task.id, reason=cmd.reason_text)


@decides(ClearMark)
def clear_mark(d: Deciding, cmd: ClearMark) -> None:
    task = d.get(Task, cmd.task)
    if not task.built_on_undone:
        raise Refused("nothing_to_clear", task=task.id)
    d.tell("task.mark_cleared", task=task.id, reason=cmd.reason_text)


def shares_of(lift: LiftPlan) -> dict[str, Any]:
    shares, unfit, by = work_out_shares(lift)
    return {
        "shares": [share.model_dump(mode="json") for share in shares],
        "unfit": unfit,
        "shares_by": by,
        "verdicts": [verdict.model_dump(mode="json") for verdict in judge_lift(lift, shares)],
    }


def _not_changed_since(d: Deciding, build: Build) -> None:
    if build.plan_at is not None and d.ctx.seen is not None and build.plan_at > d.ctx.seen:
        raise Refused("changed_since", what="The plan")


def _no_lift_goes_on(d: Deciding, plan: Plan) -> None:
    """Nobody's load is changed on paper while they stand at it: shares, verdict and roll call are of the lift as it was."""
    planned = {lift.id: lift for lift in plan.lifts}
    for lift in sorted(d.all(Lift), key=lambda one: one.id):
        if lift.state in ("in_place", "lifting", "held") and (lift.planned or lift.plan) != planned.get(
            lift.id
        ):
            raise Refused("lift_goes_on", lift=lift.plan.title)


def _options(plan: Plan, wished: dict[str, str], before: dict[str, str]) -> dict[str, str]:
    known = {option.id: {choice.id for choice in option.choices} for option in plan.options}
    _known_options(known, wished)
    kept = {option: choice for option, choice in before.items() if choice in known.get(option, ())}
    return options_in_force(plan, wished, kept)


def _known_options(known: dict[str, set[str]], wished: dict[str, str]) -> None:
    for option, choice in wished.items():
        if choice not in known.get(option, ()):
            offered = ", ".join(sorted(known.get(option, known)))
            raise Refused(
                "bad_input",
                field=f"options.{option}",
                problem=f"'{choice}' is not a choice of it."
                if option in known
                else "There is no such option.",
                remedy=f"Choose one of: {offered}.",
            )


def _touched(task: Task) -> bool:
    return bool(task.ticks or task.signed or task.crossed_out or task.worked or task.state == "taken")


def _fallen_away(d: State, plan: Plan, options: dict[str, str]) -> tuple[list[str], list[str]]:
    """Tasks that are left out, and those that were never touched and go altogether."""
    planned = {task.id: task for task in plan.tasks}
    left_out = [task.id for task in plan.tasks if not in_force(task, options)]
    dropped = [task for task in sorted(d.all(Task), key=lambda t: t.order) if task.id not in planned]
    gone = [task.id for task in dropped if not _touched(task)]
    return left_out + [task.id for task in dropped if task.id not in gone], gone


def _group_figures(d: State, plan: Plan) -> dict[str, dict[str, Any]]:
    """As the plan gives them; a group that was final before turns had passes of their own keeps its passes, for nobody
    may turn it again (R15).
    """
    specs, figures = {spec.id: spec for spec in plan.specs}, group_figures(plan)
    for group_plan in plan.groups:
        group = d.find(Group, group_plan.id)
        if group is not None and group.state == "final" and group.spec == specs[group_plan.spec]:
            figures[group.id]["passes"] = group.passes
    return figures


def _groups_change(d: Deciding, plan: Plan) -> None:
    """A changed target or pattern takes readings and signatures back, with the reason (R14)."""
    specs = {spec.id: spec for spec in plan.specs}
    figures = _group_figures(d, plan)
    for group_plan in plan.groups:
        group = d.find(Group, group_plan.id)
        if group is not None and _asks_otherwise(
            group, group_plan, specs[group_plan.spec], figures[group.id]
        ):
            lapse(d, group.id, "target_changed")
            drop_readings(d, group.id, [bolt.n for bolt in group.bolts], "target_changed")


def _asks_otherwise(group: Group, plan: BoltGroupPlan, spec: TorqueSpec, figures: dict[str, Any]) -> bool:
    return (
        group.spec.target != spec.target
        or group.spec.passes_percent != spec.passes_percent
        or group.passes != figures["passes"]
        or group.spec.thread != spec.thread
        or group.spec.lubrication != spec.lubrication
        or list(group.tolerance) != figures["tolerance"]
        or {bolt.n for bolt in group.bolts} != {bolt.n for bolt in plan.fasteners}
        # What was let pass on an ordinary group (a torque wrench past its check, one press for all) is not enough (R11).
        or (plan.critical and not group.plan.critical)
    )


def _same_work(old: Step, new: Step) -> bool:
    """Words, page and caution may change; what is done and measured may not."""
    words: dict[str, Any] = {"say": "", "manual": None, "caution": None, "bag": None}
    return old.model_copy(update=words) == new.model_copy(update=words)


def _unticked(d: State, plan: Plan) -> dict[str, list[str]]:
    """Ticks of steps that are other work now, or gone."""
    found: dict[str, list[str]] = {}
    for new in plan.tasks:
        task = d.find(Task, new.id)
        if task is None:
            continue
        steps = {step.id: step for step in new.steps}
        old = {step.id: step for step in task.plan.steps}
        lost = [
            step
            for step in task.ticks
            if step not in steps or (step in old and not _same_work(old[step], steps[step]))
        ]
        if lost:
            found[task.id] = sorted(lost)
    return found


def _groups_left_out(plan: Plan, options: dict[str, str]) -> list[str]:
    return _idle_groups([(t, in_force(t, options)) for t in plan.tasks], [group.id for group in plan.groups])


def _idle_groups(tasks: list[tuple[TaskPlan, bool]], groups: list[str]) -> list[str]:
    """Groups that only tasks outside the plan in force work on."""
    used = {step.group for task, kept in tasks if kept for step in task.steps}
    return sorted(group for group in groups if group not in used)


def _certificates(d: Deciding, plan: Plan) -> dict[str, dict[str, Any]]:
    found = {}
    for tool in plan.tools:
        certificate = certificate_of_plan(tool.torque_wrench, d.who) if tool.torque_wrench else None
        if certificate is not None:
            found[tool.id] = certificate.model_dump(mode="json")
    return found


def _after_change(d: Deciding) -> None:
    """Signed work with steps that are new or other work is open again; who held what fell away is told."""
    for task in sorted(d.all(Task), key=lambda t: t.order):
        if task.state == "left_out" and task.holder is not None:
            hand_back(d, task, "released", "other")
        elif task.state in SIGNED and _lacks_steps(task):
            reopen_task(d, task, "plan_changed")


def _lacks_steps(task: Task) -> bool:
    return any(
        step.kind not in ("run_in", "snug", "tighten", "hold", "lift") and step.id not in task.ticks
        for step in task.plan.steps
    )
