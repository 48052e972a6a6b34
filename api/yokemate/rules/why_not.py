"""Why a reading is kept and does not count: the closed list of codes with their words.

A report is never refused, so these are not refusals; they read like them (2-part: what is, what to do).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WhyNot:
    """`never_again`: the way on where the fastener may never be turned again, when it is another (R15)."""

    rule: str
    says: str
    way_on: str
    never_again: str | None = None


_ANEW = "Undo it, fit a new one where it is used once, begin at its first pass."


WHY_NOT: dict[str, WhyNot] = {
    "interrupted": WhyNot(
        "R10",
        "The final pass was interrupted after this.",
        "Start the final pass again at its first fastener.",
    ),
    "run_in_here": WhyNot(
        "R11", "{task} only runs it in, NOT tight.", "Its final torque is read in {final_task}."
    ),
    "undone_since": WhyNot("R15", "The group was undone after this.", "Tighten and read again."),
    "left_out": WhyNot("R5", "This group is left out of this build.", "Ask the lead."),
    "not_on_task": WhyNot("R6", "{holder_person} had the task.", "Join the task, then read again."),
    "minor_watch": WhyNot(
        "R8", "Under-18s only watch this work.", "Somebody grown-up tightens it and reads."
    ),
    "needs_new": WhyNot("R15", "This fastener was undone.", "Fit a new one, then say so."),
    "earlier_pass_open": WhyNot("R11", "Bolt {bolt} still lacks pass {pass_no}.", "Go back to bolt {bolt}."),
    "already_turned": WhyNot(
        "R15", "Already turned by {turned_person} at {turned_ms}.", "Do not turn it again. Ask the lead."
    ),
    "one_by_one": WhyNot(
        "R11", "Several clicks at once on a critical final pass.", "Tap once for each bolt as it clicks."
    ),
    "as_found_missing": WhyNot(
        "R11",
        "Nobody has said how faces and threads were found.",
        "Back it off, look, say how they were found, then read again.",
        _ANEW,
    ),
    "value_missing": WhyNot(
        "R11", "This torque wrench shows a value; it does not click.", "Type what it showed."
    ),
    "angle_missing": WhyNot("R12", "The spec asks for {angle_deg}° more.", "Turn it on and say by how much."),
    "gap_missing": WhyNot("R12", "The spec asks for a gap of {gap_mm} mm.", "Measure it and say how much."),
    "arm_unknown": WhyNot(
        "R12",
        "With an extension the arm of the torque wrench must be known.",
        "Enter its arm, then read again.",
    ),
    "wrench_retired": WhyNot("R11", "The torque wrench is out of use.", "Take another."),
    "wrench_dropped": WhyNot(
        "R11", "The torque wrench was dropped and not checked since.", "Take another, or have it checked."
    ),
    "wrench_unchecked": WhyNot(
        "R11", "The torque wrench has no check on record.", "Take another, or have it checked."
    ),
    "wrench_failed_check": WhyNot("R11", "The torque wrench failed its last check.", "Take another."),
    "wrench_overdue": WhyNot(
        "R11", "The torque wrench is {days} days past its check.", "Take another, or have it checked."
    ),
    "wrench_worn": WhyNot(
        "R11",
        "The torque wrench was used {uses} times since its check, and {allowed} are allowed.",
        "Take another, or have it checked.",
    ),
    "below_range": WhyNot(
        "R11", "That is below its range, {lowest} to {highest}.", "Take a smaller torque wrench."
    ),
    "above_range": WhyNot(
        "R11", "That is above its range, {lowest} to {highest}.", "Take a larger torque wrench."
    ),
    "off_level": WhyNot("R11", "Pass {pass_no} wants {low} to {high}.", "Bring it to this pass's level."),
    "outside_high": WhyNot(
        "R12",
        "{value} is over {high}.",
        "Back it off with a spanner, never with the torque wrench; tighten, read again.",
    ),
    "outside_low": WhyNot("R12", "{value} is under {low}.", "Tighten on, read again."),
    "outside_angle": WhyNot("R12", "{value}° is not {low} to {high}.", "Ask the lead what to do with it."),
    "outside_gap": WhyNot("R12", "{value} mm is not {low} to {high}.", "Put it right, measure again."),
    "superseded": WhyNot("R17", "It was read again after this.", "Nothing: the later reading stands."),
    "typed_wrong": WhyNot("R17", "It was typed wrong.", "Nothing: the figure that stands for it counts."),
    "undone": WhyNot("R15", "It was undone after this.", "Tighten and read again.", _ANEW),
    "moved": WhyNot("R14", "It moved when it was checked.", "Tighten and read again.", _ANEW),
    "sent_back": WhyNot("R13", "The second person sent it back.", "Tighten and read again.", _ANEW),
    "target_changed": WhyNot(
        "R14", "The target was changed after this.", "Read it again against the new target.", _ANEW
    ),
}
