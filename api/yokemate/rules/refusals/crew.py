"""Refusals about membership, invites and roles."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "build_exists": Refusal(409, "R32", "This build exists already.", "Open it, or make another one."),
    "deputy_guests_only": Refusal(403, "R30", "A deputy invites guests for the day only.", "Ask {ask_person} for a lasting invite."),
    "deputy_gives_no_rights": Refusal(
        403, "R30", "A deputy's guests are helpers or viewers, without skills, and don't countersign.", "Ask {ask_person} to give more."
    ),
    "invite_used": Refusal(410, "R29", "This invite is used up.", "Ask {ask_person} for a new one."),
    "already_member": Refusal(409, "R29", "You belong to this build already.", "Open your queue."),
    "guest_over": Refusal(403, "R29", "Your day as a guest is over.", "Ask {ask_person} for a new invite."),
    "last_lead": Refusal(409, "R30", "A build needs a lead.", "Make somebody else lead first."),
    "under_load": Refusal(409, "R18", "{person} has a place in {lift}, which is up.", "Wait until it is set down."),
    "minor_cannot": Refusal(403, "R8", "Under-18s don't do this.", "Ask an adult of the crew."),
    "only_from_machine": Refusal(403, "R29", "This is done at the machine itself.", "Use the command line of the machine that runs the service."),
}  # fmt: skip
