"""Refusals about lifts (R18 to R22)."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "mass_unknown": Refusal(409, "R20", "The mass of {lift} is not known.", "Weigh it."),
    "cg_unknown": Refusal(
        409,
        "R20",
        "The centre of gravity of {lift} is not known.",
        "Weigh it at two ends, or balance it on a pipe.",
    ),
    "tips": Refusal(
        409,
        "R20",
        "{lift} tips: its centre of gravity is not surely inside the supports.",
        "Move a support, or find the centre of gravity more closely. Of one support, or of supports in one line, it lies at "
        "most 50 mm off.",
    ),
    "over_rating": Refusal(
        409,
        "R20",
        "{lift}: a support would bear more than it is marked for.",
        "Use one that is marked for more.",
    ),
    "rating_unknown": Refusal(
        409,
        "R20",
        "{lift}: nobody has said what a machine that bears it is marked for.",
        "Read the marking off the machine, then a lead types it on the lift's screen.",
    ),
    "way_gone": Refusal(
        409, "R20", "That change was worked out for another load or other places.", "Look at the lift again."
    ),
    "above_guidance": Refusal(
        409,
        "R20",
        "Above guidance: {place}, {share_kg} kg at worst; the published figure is {limit_kg} kg.",
        "Use a machine or change the plan. Or give a reason, and each lifter says yes to their own figure.",
    ),
    "over_guidance": Refusal(
        409,
        "R20",
        "Refused: {place}, {share_kg} kg at worst, over twice the published {limit_kg} kg.",
        "A machine bears it, or the plan changes. There is no way round this.",
    ),
    "yes_wanted": Refusal(
        409,
        "R20",
        "This place bears up to {share_kg} kg, above the published figure.",
        "Say yes to your own share, or take another place.",
    ),
    "share_changed": Refusal(
        409, "R20", "This place bears up to {share_kg} kg now.", "Look at it again, and say yes to that."
    ),
    "asked_anew": Refusal(
        409,
        "R21",
        "{lift} was called anew, or its load weighed anew, since you looked.",
        "Look at it again and answer anew.",
    ),
    "supports_unclear": Refusal(
        409,
        "R20",
        "{lift}: two of its supports are at one place, or there are more than eight.",
        "Put it right in the plan.",
    ),
    "lift_outdated": Refusal(
        409,
        "R20",
        "The plan has had another load for {lift} since.",
        "Load the plan again, then call the lift.",
    ),
    "when_past": Refusal(422, "R32", "That time is past.", "Give a time to come."),
    "lift_goes_on": Refusal(
        409,
        "R18",
        "The plan has another load or other places for {lift}, and its crew is at it.",
        "Set it down or stand it down first, then load the plan.",
    ),
    "place_taken": Refusal(409, "R18", "{person} has this place.", "Take another place."),
    "place_empty": Refusal(409, "R18", "Nobody is at {place}.", "Find somebody, or stand it down."),
    "one_place": Refusal(409, "R18", "One person has one place in a lift.", "Leave the other one first."),
    "no_place": Refusal(409, "R18", "You have no place in this lift.", "Take a place first."),
    "does_not_suit": Refusal(
        403,
        "R21",
        "This place asks more than suits you. Only you see this.",
        "Take another place, or the lookout's.",
    ),
    "figure_unsaid": Refusal(
        403,
        "R20",
        "You have not said which published figure suits you, so this place is judged for the lower one, and asks more. "
        "Only you see this.",
        "Say it under What I lift, or take another place.",
    ),
    "own_yes": Refusal(
        403,
        "R21",
        "Nobody else can say yes to a share of the load.",
        "They take the place on their own phone, or sign in on the garage tablet.",
    ),
    "minor_no_place": Refusal(403, "R18", "Under-18s have no place in a lift.", "Ask an adult of the crew."),
    "caller_skill": Refusal(403, "R30", "A builder or a lead calls the words.", "Ask one of them to call."),
    "only_the_caller": Refusal(403, "R18", "Only the caller does this.", "Tell {caller_person}."),
    "too_few": Refusal(
        409, "R18", "{have} lift and guide; this lift needs {need}.", "Ask the lead for one more place."
    ),
    "not_ready_person": Refusal(
        409, "R18", "{person} has not said ready.", "They read the briefing and press ready."
    ),
    "roll_missing": Refusal(
        409, "R18", "{person} has not answered.", "Read the roll call aloud and tick who answers."
    ),
    "roll_old": Refusal(409, "R18", "The roll call is over five minutes old.", "Read it again."),
    "somebody_under": Refusal(409, "R18", "{under_person} is under the car.", "Wait until they are out."),
    "children_in": Refusal(409, "R18", "A child is here.", "Send children out of the way, then say so."),
    "floor_not_clear": Refusal(
        409,
        "R18",
        "Nobody has said that the floor is clear.",
        "Look beneath and along the path, then say so.",
    ),
    "phone_silent": Refusal(
        409,
        "R18",
        "{person}'s phone does not answer.",
        "Wake it, or do the lift by voice and report it afterwards.",
    ),
    "task_waits": Refusal(
        409, "R5", "{task} waits for {waits_for}.", "Do that first, or ask the lead to release it."
    ),
    "is_set_down": Refusal(
        409,
        "R22",
        "{lift} is set down.",
        "One more who was there signs it as landed. Is it still up? Press STOP, then call the roll again.",
    ),
    "was_not_there": Refusal(
        403, "R22", "You had no place in this lift.", "Somebody who was there signs it."
    ),
}
