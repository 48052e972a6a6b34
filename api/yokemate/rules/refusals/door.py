"""Refusals at the door: who somebody is, and whether a request can be read at all. Raised by `handle` and `routes`."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {
    "no_such_build": Refusal(404, "R31", "There is no such build here.", "Open one of your own builds."),
    "not_found": Refusal(404, "R32", "There is nothing at {path}.", "See the REST document at /api/openapi.json."),
    "no_method": Refusal(405, "R32", "{method} is not for {path}.", "See the REST document at /api/openapi.json."),
    "never_seen": Refusal(404, "R3", "This command never arrived. Nothing was done.", "Press again."),
    "same_id": Refusal(422, "R3", "This command id came before with other fields.", "Send it under a new id."),
    "now_only": Refusal(409, "R3", "This is sent at once and never waits.", "Press again while connected."),
    "fault": Refusal(500, "R32", "The service broke down over this. Nothing was changed.", "Tell whoever runs the service."),
    "behind_fault": Refusal(503, "R3", "An earlier one of yours on the same thing waits.", "It is handed over again with that one."),
    "other_version": Refusal(501, "R3", "App and service differ in version: {what} is not known here.", "It waits until both are up to date."),
    "malformed": Refusal(400, "R32", "This is not JSON that can be read: {problem}.", "Send a JSON object."),
    "too_big": Refusal(413, "R32", "This is larger than {limit_kib} KiB.", "Send less at once."),
    "not_json": Refusal(415, "R32", "Only {wanted} is taken here.", "Send it with that Content-Type."),
    "from_elsewhere": Refusal(403, "R29", "This request came from another site.", "Open Yokemate itself and press there."),
    "unknown_device": Refusal(401, "R29", "This phone is not enrolled.", "Ask the lead for an invite."),
    "shut_out": Refusal(403, "R29", "This phone was shut out.", "Ask the lead for a code for a new phone of yours. At a load, shout STOP."),
    "signed_out": Refusal(401, "R29", "Nobody is signed in at this tablet.", "Pick your icon and type your PIN."),
    "not_first": Refusal(409, "R29", "This service has a lead already.", "Ask the lead for an invite."),
    "no_such_invite": Refusal(404, "R29", "There is no such invite.", "Ask for a new one and scan it again."),
    "invite_over": Refusal(410, "R29", "This invite ended at {until_ms}.", "Ask {ask_person} for a new one."),
    "name_taken": Refusal(
        409, "R32", "There is a {name} in this crew already.", "Add what tells you apart, such as the first letter of your surname."
    ),
    "shown_once": Refusal(409, "R29", "The code of an invite is shown once.", "Make a new invite."),
    "pin_not_set": Refusal(403, "R29", "You have no PIN yet.", "Set one under Mine, on your own phone."),
    "pin_too_short": Refusal(422, "R29", "The PIN is too easy to guess.", "Six digits or more, not all the same; a lead: eight, or a phrase."),
    "not_on_tablet": Refusal(403, "R21", "Private things are not shown on the garage tablet.", "Look on your own phone."),
    "not_a_tablet": Refusal(409, "R29", "This device is not the garage tablet.", "Share it first, under This phone."),
    "demo_only": Refusal(403, "R29", "This is for the demo only.", "Ask the lead for an invite."),
    "photo_differs": Refusal(422, "R32", "These bytes are not the photo named.", "Send the photo again."),
    "photo_unreadable": Refusal(422, "R32", "This is no single JPEG, PNG or WebP picture that can be read to its end.", "Take the photo again."),
    "photo_too_large": Refusal(422, "R32", "Photo is over the size limit of {limit_mpx} million pixels.", "Take it again, smaller."),
    "photo_says_where": Refusal(422, "R32", "This photo still says where it was taken.", "Add it with the app, which takes that out."),
    "withdrawn": Refusal(410, "R1", "This was withdrawn. The entry and its digest stay.", "See the record for who and why."),
    "not_sent_yet": Refusal(404, "R32", "This photo is still on a phone.", "It shows once that phone has handed it over."),
}  # fmt: skip
