"""The refusals of a route as the REST document lists them: by status, each code with its sentence."""

from __future__ import annotations

from typing import Any

from yokemate.routes.problems import PROBLEM
from yokemate.rules.frame import CommandSpec
from yokemate.rules.refusals import REFUSALS

ALWAYS = ("unknown_device", "shut_out", "signed_out", "from_elsewhere", "too_big", "malformed", "fault")
INSIDE = (*ALWAYS, "no_such_build", "not_a_member", "guest_over")
COMMAND = (*INSIDE, "bad_input", "same_id", "role", "viewer", "unknown")
PROBLEM_REF = {"$ref": "#/components/schemas/Problem"}


def listed(*codes: str) -> dict[int | str, dict[str, Any]]:
    """Responses for these refusals."""
    by_status: dict[int | str, dict[str, Any]] = {}
    for code in dict.fromkeys(codes):
        refusal = REFUSALS[code]
        answer = by_status.setdefault(
            refusal.status, {"description": "", "content": {PROBLEM: {"schema": PROBLEM_REF, "examples": {}}}}
        )
        answer["content"][PROBLEM]["examples"][code] = {
            "summary": refusal.says,
            "value": {
                "type": f"urn:yokemate:refusal:{code}",
                "title": code.replace("_", " ").capitalize(),
                "status": refusal.status,
                "detail": refusal.says,
                "code": code,
                "rule": refusal.rule,
                "way_on": refusal.way_on,
                "params": {},
                "field": None,
            },
        }
    for answer in by_status.values():
        examples = answer["content"][PROBLEM]["examples"]
        answer["description"] = "Refused: " + ", ".join(sorted(examples))
    return by_status


def refusals_of(spec: CommandSpec) -> dict[int | str, dict[str, Any]]:
    more = [*spec.refusals]
    if spec.pin or (spec.act == "ask" and (spec.sent == "now" or spec.needs_seen)):
        more += ["pin_needed", "pin_wrong", "pin_waits", "pin_not_set", "pin_outgrown"]
    if spec.needs_seen:
        more.append("seen_needed")
    return listed(*COMMAND, *(code for code in more if code in REFUSALS))
