"""Refusals about the plan of the build days."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "offer_gone": Refusal(
        409,
        "R32",
        "This plan of the days is no longer there to be taken.",
        "Press Re-plan and take the new one.",
    ),
    "offer_stale": Refusal(
        409,
        "R32",
        "Since this plan was worked out something has changed that {what} needs.",
        "Press Re-plan and take the new one.",
    ),
    "time_gone": Refusal(
        409,
        "R32",
        "{lift} can't begin just then any more: something has changed since that time was found.",
        "Press Find a time again.",
    ),
    "no_days": Refusal(409, "R32", "There is nothing to plan with: {problem}", "{remedy}"),
}
