"""Lifts (R18 to R22)."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, StrictBool, StringConstraints, model_validator

from yokemate.rules.commands.fields import Id, Moment, Number, Reason, Text, words_moved
from yokemate.rules.frame import BUILDERS, CREW, EVERYBODY, LEAD, Command, command

_OPEN = ("not_in_state",)
_ASKED = ("asked_anew", *_OPEN)
Round = Annotated[
    int | None,
    Field(
        description="`round` of the lift as it was looked at; another than now: it was asked anew since (R21)"
    ),
]
_WANTS = (
    "mass_unknown", "cg_unknown", "tips", "over_rating", "rating_unknown", "supports_unclear", "above_guidance", "over_guidance",
    "place_empty", "minor_no_place", "caller_skill", "too_few", "not_ready_person", "roll_missing", "roll_old", "somebody_under",
    "children_in", "floor_not_clear", "task_waits", "phone_silent",
)  # fmt: skip


@command("lift.weigh", "/lifts/{lift}/weigh", who=BUILDERS, refusals=("bad_input", *_OPEN))
class WeighLoad(Command):
    """Enter the load's mass and centre of gravity as found by weighing; shares are worked out anew."""

    lift: Id
    mass_kg: Number
    mass_plus_minus_kg: Number = "0"
    cg_x_mm: Number
    cg_y_mm: Number
    cg_plus_minus_mm: Number = "0"
    cg_above_hands_mm: Number | None = None  # for tilted phases; not typed, it stays as the plan has it
    how_known_text: Text

    @model_validator(mode="before")
    @classmethod
    def _as_before(cls, said: Any) -> Any:
        return words_moved(said, "how_known", "how_known_text")


@command(
    "lift.rearrange", "/lifts/{lift}/rearrange", sent="now", who=LEAD,
    refusals=("way_gone", "bad_input", "over_rating", *_OPEN),
)  # fmt: skip
class RearrangeLift(Command):
    """Before the call: make one of the changes that were shown to work, or `as_planned` again.

    A machine whose marking the plan does not tell comes with what it is marked for.
    """

    lift: Id
    way: Annotated[str, StringConstraints(min_length=1, max_length=600)]  # as it was shown
    rated_kg: Number | None = None


@command(
    "lift.call", "/lifts/{lift}/call", sent="now", who=LEAD,
    refusals=(
        "mass_unknown", "cg_unknown", "tips", "over_rating", "rating_unknown", "supports_unclear", "lift_outdated", "when_past", "above_guidance",
        "over_guidance", *_OPEN,
    ),
)  # fmt: skip
class CallLift(Command):
    """Call a lift for a time; everybody is asked (R20, R21). Above guidance: with a recorded reason."""

    lift: Id
    when_ms: Moment
    above_reason_text: Text | None = None


@command("lift.answer", "/lifts/{lift}/answer", refusals=_ASKED)
class AnswerLift(Command):
    """*I will be there* or *I can't come*."""

    lift: Id
    will_come: StrictBool
    round: Round = None


@command(
    "lift.take_place", "/lifts/{lift}/places/{place}",
    refusals=(
        "place_taken", "does_not_suit", "figure_unsaid", "own_yes", "yes_wanted", "share_changed", "minor_no_place",
        "caller_skill", "one_place", *_ASKED,
    ),
)  # fmt: skip
class TakePlace(Command):
    """Take a place that is offered: a lifter's, a guide's, the lookout's or the caller's (R18, R21).

    In a lift above guidance a lifter says yes to their own figure.
    """

    lift: Id
    place: Id
    yes_to_my_share: StrictBool = False
    my_share_kg: Number | None = None  # the figure that the yes is to
    round: Round = None


@command("lift.leave_place", "/lifts/{lift}/leave-place", act="report")
class LeavePlace(Command):
    """Give one's place up again; nobody is asked why."""

    lift: Id
    round: Round = None


@command("lift.ready", "/lifts/{lift}/ready", refusals=("no_place", *_ASKED))
class SayReady(Command):
    """I have read the briefing, I'm ready (or *Not ready*)."""

    lift: Id
    ready: StrictBool = True
    round: Round = None


@command(
    "lift.roll", "/lifts/{lift}/roll", sent="now",
    refusals=("only_the_caller", "not_ready_person", "place_empty", *_OPEN),
)  # fmt: skip
class TickRoll(Command):
    """The caller ticks a name that answered in the roll call."""

    lift: Id
    place: Id
    here: StrictBool = True


@command(
    "lift.clear_floor", "/lifts/{lift}/floor", sent="now", refusals=("only_the_caller", "bad_input", *_OPEN)
)
class ClearFloor(Command):
    """The caller says: children are out, nobody is beneath. What is left out stays as it was said, while that counts."""

    lift: Id
    children_out: StrictBool | None = None
    nobody_beneath: StrictBool | None = None


@command("lift.lift", "/lifts/{lift}/lift", sent="now", refusals=("only_the_caller", *_WANTS, *_OPEN))
class LiftIt(Command):
    """Lift (R18). Allowed when every place answered within five minutes and nobody is beneath."""

    lift: Id


@command("lift.stop", "/lifts/{lift}/stop", act="report", sent="stop", who=EVERYBODY)
class Stop(Command):
    """STOP. Never refused (R19)."""

    lift: Id


@command("lift.lower", "/lifts/{lift}/lower", act="report", sent="now")
class Lower(Command):
    """From held: lower it. Said by the caller; somebody else's word is kept without effect."""

    lift: Id


@command(
    "lift.go_on",
    "/lifts/{lift}/go-on",
    sent="now",
    refusals=("is_set_down", "only_the_caller", *_WANTS, *_OPEN),
)
class GoOnLifting(Command):
    """From held: go on, after a fresh roll call."""

    lift: Id


@command("lift.set_down", "/lifts/{lift}/set-down", act="report")
class SetDown(Command):
    """Set down, said by the caller (also without a link); said by another who is there, it is marked so."""

    lift: Id
    elsewhere_text: Text | None = None  # landed elsewhere than planned: a loose end


@command(
    "lift.sign_landed",
    "/lifts/{lift}/sign-landed",
    refusals=("somebody_else", "was_not_there", "not_in_state"),
)
class SignLanded(Command):
    """One more who was there signs it as landed."""

    lift: Id


@command("lift.stand_down", "/lifts/{lift}/stand-down", act="report", who=CREW)
class StandDown(Command):
    """Call the lift off before lifting (lead or caller; somebody else's word is kept without effect)."""

    lift: Id
    reason: Reason = "other"
    round: Round = None


@command("lift.report_by_voice", "/lifts/{lift}/report-by-voice", act="report", who=CREW)
class ReportByVoice(Command):
    """The lift went by voice without a link; reported afterwards, marked so (R18)."""

    lift: Id
    places: dict[Id, Id]
    lifted_ms: Moment
    set_down_ms: Moment
