"""Refusals about the plan of the build days."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "offer_gone": Refusal(
        409,
        "R32",
        "This plan of the days is no longer there to be taken.",
        "Press Re-plan and take the new one.",
    ),
    "no_days": Refusal(409, "R32", "There is nothing to plan with: {problem}", "{remedy}"),
}
