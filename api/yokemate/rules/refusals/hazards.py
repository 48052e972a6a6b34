"""Refusals about work that can hurt somebody at other work."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "hazard_clash": Refusal(
        409, "R27", "{holder_person} {at_it}. {waits} waits until that is over.", "Ask {holder_person}, or take other work."
    ),
    "tag_hangs": Refusal(409, "R27", "The isolator tag of {owner_person} hangs on it: {what}.", "Only {owner_person} lifts it."),
    "alone": Refusal(409, "R28", "No other adult is signed in. This is not done alone.", "Wait until one is here and signed in."),
    "owner_is_in": Refusal(
        409, "R27", "This is the tag of {owner_person}, who is signed in.",
        "Ask them to lift it. If they went home: type for them on their page and sign them out."
    ),
    "tag_not_yours": Refusal(403, "R27", "This tag is {owner_person}'s.", "Ask them; if they are away, two people lift it after looking."),
}  # fmt: skip
