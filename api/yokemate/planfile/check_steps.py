"""What a step of each kind must say, so that the tool knows what it opens, tightens, measures (R9, R23)."""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Measure, Plan, Step, TaskPlan
from yokemate.planfile.told import Told

# kind -> the field it needs, and what that field says
_NEEDS = {
    "run_in": ("group", "which bolt group"),
    "snug": ("group", "which bolt group"),
    "tighten": ("group", "which bolt group"),
    "measure": ("measure", "what is measured and in which unit"),
    "cut": ("cut", "which cut list"),
    "harvest": ("part", "which part comes off the donor"),
    "put_back": ("puts_back", "which loose end it makes good"),
    "loosen": ("opens", "which loose end it opens"),
    "unplug": ("opens", "which loose end it opens"),
    "open": ("opens", "which loose end it opens"),
    "prop": ("opens", "which loose end it opens"),
}
_GROUP_KINDS = ("run_in", "snug", "tighten")


def step_findings(plan: Plan, told: Told) -> None:
    for n, task in enumerate(plan.tasks):
        quick, likely, slow = task.minutes
        if not 0 < quick <= likely <= slow:
            told.error(
                "minutes_order",
                ("tasks", n, "minutes"),
                "the three times do not rise.",
                "Write [quick, likely, slow].",
            )
        for m, step in enumerate(task.steps):
            _step(task, step, ("tasks", n, "steps", m), told)
        if task.lift is not None and not any(step.kind == "lift" for step in task.steps):
            told.doubt(
                "lift_without_step", ("tasks", n, "lift"), "no step says when the lift is made.",
                "Add a step `kind: lift` where it belongs.",
            )  # fmt: skip


def _step(task: TaskPlan, step: Step, loc: Loc, told: Told) -> None:
    field, what = _NEEDS.get(step.kind, ("", ""))
    if field and not getattr(step, field):
        told.error(
            f"step_without_{field}", loc, f"a {step.kind} step must say {what}.", f"Add `{field}: ...`."
        )
    if step.kind == "confirm_side" and step.side is None and task.side is None:
        told.error(
            "step_without_side",
            loc,
            "a confirm_side step must say which side.",
            "Add `side: left` or `side: right`.",
        )
    if step.kind == "lift" and task.lift is None:
        told.error(
            "step_without_lift", loc, "a lift step needs the task's lift.", "Add `lift: ...` to the task."
        )
    if step.group is not None and step.kind not in _GROUP_KINDS:
        told.error(
            "group_on_other_step", (*loc, "group"), f"a {step.kind} step does nothing to a bolt group.",
            "Make it `kind: run_in`, snug or tighten, or take the group away.",
        )  # fmt: skip
    if step.measure is not None:
        _measure(step.measure, (*loc, "measure"), told)


def _measure(measure: Measure, loc: Loc, told: Told) -> None:
    figures = [Fraction(f) for f in (measure.low, measure.nominal, measure.high) if f is not None]
    if figures != sorted(figures):
        told.error(
            "measure_limits",
            loc,
            "low, nominal and high do not rise.",
            "Look at the figures and the unit in the manual.",
        )
