"""Why a countersign was crossed out: the closed list of reasons with their words (R14)."""

from __future__ import annotations

from typing import Literal

LapsedWhy = Literal[
    "new_reading", "corrected", "undone", "moved", "sent_back", "target_changed", "wrench_dropped"
]

WHY_LAPSED: dict[str, str] = {
    "new_reading": "A bolt was read again after it.",
    "corrected": "A reading was typed wrong and put right after it.",
    "undone": "It was undone after it.",
    "moved": "A bolt moved when it was checked again.",
    "sent_back": "It was sent back after it.",
    "target_changed": "The target was changed after it.",
    "wrench_dropped": "Its torque wrench had been dropped before it was read.",
}


def lapsed_says(why: str | None) -> str:
    """The sentence, also for a reason that only a later version knows."""
    return WHY_LAPSED.get(why or "", "Something it rested on changed after it.")
