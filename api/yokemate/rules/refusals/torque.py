"""Refusals about bolt groups, checks, countersigns and the tool store."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "may_not_countersign": Refusal(
        403,
        "R13",
        "You are not one of those who may countersign.",
        "Ask somebody who may; the group waits for them.",
    ),
    "fresh_eyes": Refusal(
        403, "R13", "You helped with this one. It needs fresh eyes.", "Ask somebody who did not work on it."
    ),
    "method_not_allowed": Refusal(
        422, "R13", "Bolt {bolt}: this way of checking does not do for this group.", "Use one of: {allowed}."
    ),
    "bolts_missing": Refusal(
        409, "R13", "No word yet on bolt {bolts}.", "Look at each fastener, then say what you found."
    ),
    "readings_changed": Refusal(
        409, "R14", "{group}: bolt {bolts} was read again. Your check is crossed out.", "Look again."
    ),
    "check_missing": Refusal(
        409, "R13", "{group} has no check of yours that stands.", "Check each fastener, then sign."
    ),
    "check_moved": Refusal(
        409,
        "R14",
        "{group}: bolt {bolts} moved when you checked it.",
        "It is tightened and read again first.",
    ),
    "nothing_to_check": Refusal(
        409,
        "R13",
        "{group} is not final; there is nothing to check.",
        "It waits until each fastener has its last pass.",
    ),
    "unsent_readings": Refusal(
        409,
        "R13",
        "{group} has readings that are still on a phone.",
        "Send them first, then look again and sign.",
    ),
    "exists": Refusal(409, "R32", "There is a {what} {id} already.", "Take another id."),
}
