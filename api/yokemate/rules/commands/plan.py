"""Loading the plan and choosing its options. The plan arrives read and checked by `planfile`."""

from __future__ import annotations

from yokemate.planfile.model import Plan, PlanId
from yokemate.rules.commands.fields import Id, Text
from yokemate.rules.frame import LEAD, Command, command


@command(
    "plan.load",
    "/plan",
    sent="now",
    who=LEAD,
    needs_seen=True,
    refusals=("plan_faulty", "changed_since", "bad_input", "lift_goes_on"),
)
class LoadPlan(Command):
    """Load a plan, or a new version of it: the difference is applied; progress on unchanged work stays."""

    plan: Plan
    options: dict[PlanId, PlanId] = {}


@command(
    "plan.choose",
    "/plan/options",
    sent="now",
    who=LEAD,
    needs_seen=True,
    refusals=("no_plan", "options_faulty", "changed_since", "bad_input"),
)
class ChooseOptions(Command):
    """Choose options of this build; tasks that fall away are left out, or to be undone where signed."""

    options: dict[PlanId, PlanId]


@command(
    "plan.release_task",
    "/tasks/{task}/release",
    sent="now",
    who=LEAD,
    needs_seen=True,
    refusals=("not_in_state",),
)
class ReleaseTask(Command):
    """Release a task out of order, with a reason (R5)."""

    task: Id
    reason_text: Text


@command(
    "plan.clear_mark",
    "/tasks/{task}/clear-mark",
    sent="now",
    who=LEAD,
    needs_seen=True,
    refusals=("nothing_to_clear",),
)
class ClearMark(Command):
    """Clear the mark *built on undone work* with a reason (R26)."""

    task: Id
    reason_text: Text
