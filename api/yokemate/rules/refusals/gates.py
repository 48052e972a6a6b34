"""Refusals about loose ends, gates, undoing, and where it takes two people (R22, R23, R25, R26)."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "made_good_by_step": Refusal(409, "R23", "Only {task}, step {step}, makes this good.", "Open {task}."),
    "critical_by_two": Refusal(
        409,
        "R13",
        "{group} is critical and not final.",
        "Put it right another way: two people, with a reason.",
    ),
    "already_closed": Refusal(409, "R23", "That is done already.", "Nothing is left to do here."),
    "gate_wants": Refusal(
        409, "R25", "{gate} wants {count} more before it opens.", "Look at its list: each line has its way."
    ),
    "gate_open": Refusal(409, "R25", "{gate} is open already.", "Go on with what waited for it."),
    "on_the_day_missing": Refusal(
        409, "R25", "{gate}: not said yet: {missing}.", "Look at each, and say that it is so today."
    ),
    "somebody_else": Refusal(403, "R25", "It takes two people, and you are the first.", "Ask somebody else."),
    "proposal_lapsed": Refusal(
        409, "R25", "What was proposed no longer stands.", "Look again, then propose it again."
    ),
    "only_the_proposer": Refusal(
        403, "R25", "Only {first_person} can take it back.", "Leave it; it lapses by itself."
    ),
    "nothing_to_undo": Refusal(
        409, "R26", "Nothing here is signed.", "Untick the step, or report a loose end."
    ),
}
