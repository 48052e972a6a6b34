"""Refusals that any command may meet."""

from yokemate.rules.refusals.shape import Refusal

LIST = {
    "unknown": Refusal(404, "R32", "There is no {what} {id} in this build.", "Look it up again; it may have been renamed."),
    "bad_input": Refusal(422, "R32", "{field}: {problem}", "{remedy}"),
    "not_a_member": Refusal(403, "R29", "You are not a member of this build.", "Ask the lead for an invite."),
    "role": Refusal(403, "R30", "A {role} can't do this.", "Ask {ask_person} for a role, or ask them to do it."),
    "viewer": Refusal(403, "R30", "You can look, not change.", "Ask {ask_person} for a role."),
    "pin_needed": Refusal(403, "R29", "This needs your PIN.", "Type your PIN and press again."),
    "pin_wrong": Refusal(403, "R29", "Wrong PIN. {left} tries left.", "Type it again."),
    "pin_waits": Refusal(
        429, "R29", "Five wrong. Wait until {until_ms}.", "Forgotten? Ask {ask_person} for another: `yokemate new-pin`, at the machine."
    ),
    "pin_outgrown": Refusal(
        403, "R29", "Who leads needs a longer PIN than this one.",
        "Choose another on your own phone, under Crew, your name: eight digits or more, or a phrase. Then sign.",
    ),
    "seen_needed": Refusal(428, "R32", "Say what you were looking at (`seen`).", "Load it again and press again."),
    "changed_since": Refusal(409, "R26", "{what} changed since you looked.", "Look at it again."),
    "not_in_state": Refusal(409, "R5", "{what} is {state}; this can't be done now.", "{remedy}"),
    "built_on_refused": Refusal(409, "R4", "This built on something that was refused.", "What you typed is kept as a note."),
}  # fmt: skip
