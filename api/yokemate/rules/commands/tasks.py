"""Working a task."""

from __future__ import annotations

from pydantic import StrictBool

from yokemate.planfile.model import MeasureUnit, Side
from yokemate.rules.commands.fields import Digest, Id, Number, PhotoId, Reason, Text
from yokemate.rules.frame import CREW, Command, command

_TAKE = (
    "waits", "taken_by", "already_yours", "needs_skill", "minor_no", "minor_needs_adult", "hazard_clash", "alone",
    "gate_shut", "left_out", "not_in_state", "is_stuck", "tag_hangs",
)  # fmt: skip


@command("task.take", "/tasks/{task}/take", refusals=_TAKE)
class TakeTask(Command):
    """Take a task (R5, R6, R8, R27, R28)."""

    task: Id


@command("task.take_over", "/tasks/{task}/take-over", refusals=(*_TAKE, "not_stuck_or_left"))
class TakeOver(Command):
    """Take over a stuck task, or one whose holder has gone home; a lead may take over any."""

    task: Id
    reason: Reason = "other"


@command(
    "task.join",
    "/tasks/{task}/join",
    refusals=("not_taken", "enough_here", "already_yours", "minor_no", "minor_watch", "alone"),
)
class JoinTask(Command):
    """Join a task that somebody has taken (R6, R7, R8)."""

    task: Id
    learner: StrictBool = False


@command("task.leave", "/tasks/{task}/leave", refusals=("not_on_it", "another_has_it"))
class LeaveTask(Command):
    """Leave a task one had joined; a buddy task pauses (R28)."""

    task: Id


@command("task.want_help", "/tasks/{task}/want-help", refusals=("not_on_it", "another_has_it"))
class WantHelp(Command):
    """Say that a second pair of hands is wanted, or no longer (R7)."""

    task: Id
    wanted: StrictBool = True


@command(
    "task.tick", "/tasks/{task}/tick",
    refusals=("not_on_it", "another_has_it", "not_in_state", "is_stuck", "people_needed", "skilled_needed", "buddy_gone", "alone",
              "step_not_plain", "step_needs_value", "step_needs_side",
              "step_before", "hold_left_out", "hold_needed", "missing_single_use", "hazard_clash",
              "tag_hangs", "gate_shut", "minor_watch", "group_not_final", "lift_not_down"),
)  # fmt: skip
class TickSteps(Command):
    """Steps done. "All done down to here" sends several plain steps at once (R9)."""

    task: Id
    steps: list[Id]


@command(
    "task.untick",
    "/tasks/{task}/untick",
    refusals=("not_on_it", "another_has_it", "not_in_state", "is_stuck", "minor_watch"),
)
class UntickStep(Command):
    """Take a tick back while the task is still open."""

    task: Id
    step: Id


@command("task.measure", "/tasks/{task}/measure", act="report", refusals=())
class EnterMeasure(Command):
    """A measured value at a step, kept as typed; outside its limits it makes nothing done (R9)."""

    task: Id
    step: Id
    value: Number
    unit: MeasureUnit
    photo: PhotoId | None = None


@command(
    "task.confirm_side", "/tasks/{task}/confirm-side",
    refusals=("not_on_it", "another_has_it", "wrong_side", "not_in_state", "is_stuck", "people_needed", "skilled_needed",
              "buddy_gone", "alone", "step_before", "hold_left_out", "hazard_clash", "tag_hangs", "gate_shut", "minor_watch"),
)  # fmt: skip
class ConfirmSide(Command):
    """Say which side of the car one is at; must match the plan."""

    task: Id
    step: Id
    side: Side


@command("task.have_part", "/tasks/{task}/have-part", act="report")
class HavePart(Command):
    """Answer "have you got it?": yes corrects the stock; a missing single-use part is a stop (R5)."""

    task: Id
    part: Id
    have: StrictBool


@command("task.stuck", "/tasks/{task}/stuck", act="report")
class Stuck(Command):
    """Stuck, with a ready-made reason (R10)."""

    task: Id
    reason: Reason
    note_text: Text | None = None
    photo: PhotoId | None = None


@command(
    "task.go_on", "/tasks/{task}/go-on", refusals=("not_on_it", "another_has_it", "not_stuck", "hazard_clash", "tag_hangs", "alone")
)  # fmt: skip
class GoOn(Command):
    """No longer stuck."""

    task: Id


@command("task.give_back", "/tasks/{task}/give-back", act="report")
class GiveBack(Command):
    """Give a task back; nothing recorded is lost (R10)."""

    task: Id
    reason: Reason
    note_text: Text | None = None


@command(
    "task.pass_on",
    "/tasks/{task}/pass-on",
    deputy=True,
    refusals=("not_yours_to_pass", "not_in_state", "needs_skill", "minor_no", "minor_needs_adult", "not_on_the_crew",
              "guest_gone", "has_it_already", "hazard_clash", "tag_hangs", "alone"),
)  # fmt: skip
class PassOn(Command):
    """Pass a task on to somebody: whoever has it, a lead; the deputy of the day where it is stuck or left (R10, R30)."""

    task: Id
    to_person: Id
    note_text: Text | None = None


@command("task.go_home", "/tasks/{task}/go-home", act="report")
class GoHome(Command):
    """Going home: last step, what is loose, photo, tag on the car (R10)."""

    task: Id
    step: Id | None = None
    reason: Reason = "time"
    loose: list[Id] = []
    note_text: Text | None = None
    photo: PhotoId | None = None
    tag_on_car: StrictBool = False


@command(
    "task.sign_off", "/tasks/{task}/sign-off",
    refusals=("only_the_holder", "steps_open", "measure_outside", "group_not_final", "is_stuck",
              "people_needed", "skilled_needed", "buddy_gone", "lift_not_landed", "not_in_state", "loose_ends_not_put_back"),
)  # fmt: skip
class SignOff(Command):
    """The doer's own word that the task is done (R9)."""

    task: Id


@command(
    "task.sign_hold", "/tasks/{task}/sign-hold", sent="now", pin=True, needs_seen=True, who=CREW,
    refusals=("may_not_countersign", "fresh_eyes", "minor_cannot", "not_in_state", "hold_signed", "changed_since",
              "step_before"),
)  # fmt: skip
class SignHold(Command):
    """Sign a hold point with PIN: at a hold step, or at the end (step "end") (R5)."""

    task: Id
    step: Id


@command(
    "task.undo", "/tasks/{task}/undo", act="report", sent="now", refusals=("changed_since", "nothing_to_undo")
)
class UndoTask(Command):
    """Signed work was undone (R26). `list_digest` echoes the list that was shown."""

    task: Id
    reason: Reason
    note_text: Text | None = None
    list_digest: Digest
