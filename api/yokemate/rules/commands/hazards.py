"""Being under the car, and isolator tags (R27, R28)."""

from __future__ import annotations

from typing import Any, Literal, get_args

from pydantic import model_validator

from yokemate.rules.commands.fields import Id, Text, words_moved
from yokemate.rules.frame import CREW, Command, command

Isolated = Literal["battery", "other"]


@command("hazard.under", "/under", act="report")
class ImUnder(Command):
    """I'm under the car. A report: it has happened; the answer warns of what runs beside it."""

    task: Id | None = None


@command("hazard.out", "/out", act="report")
class ImOut(Command):
    """I'm out from under the car."""

    person: Id | None = None  # somebody else, after looking


@command("hazard.hang_tag", "/tags", act="report", who=CREW)
class HangTag(Command):
    """Hang an isolator tag: on the battery, or on what is said in words."""

    what: Isolated
    what_text: Text | None = None

    @model_validator(mode="before")
    @classmethod
    def _as_before(cls, said: Any) -> Any:
        if not isinstance(said, dict) or said.get("what", "other") in get_args(Isolated):
            return said
        return {"what": "other", **words_moved(said, "what", "what_text")}


@command("hazard.lift_tag", "/tags/{tag}/lift", refusals=("tag_not_yours", "already_closed"))
class LiftTag(Command):
    """Lift one's own isolator tag."""

    tag: Id


@command(
    "hazard.propose_lift_tag",
    "/tags/{tag}/propose-lift",
    refusals=("already_closed", "owner_is_in", "minor_cannot"),
)
class ProposeLiftTag(Command):
    """Lift an absent owner's tag: two people, after looking (R27)."""

    tag: Id
    reason_text: Text
