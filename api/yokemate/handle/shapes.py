"""What goes into the one path and what comes out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from yokemate.rules.commands.fields import LAST_MS

EXACT = 2**53 - 1  # integers beyond this are not exact in JSON
CommandId = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"),
    Field(
        description="a UUID made where the command was typed",
        examples=["0199a7c2-5b1e-7d3a-9c40-3f2e1d0c9b8a"],
    ),
]
Milliseconds = Annotated[int, Field(ge=0, le=LAST_MS)]
PersonId = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_.:-]{1,80}$")]
Kilograms = Annotated[
    str,
    StringConstraints(pattern=r"^\d{1,3}(\.\d)?$"),
    Field(description="kg; seen by its owner alone", examples=["15"]),
]
Status = Literal["accepted", "refused", "kept_as_evidence"]


class Envelope(BaseModel):
    """A command on its way: which, made when, on what view of the build, and its fields."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: CommandId
    kind: Annotated[str, StringConstraints(max_length=60)]
    device_ms: Milliseconds | None = None
    seen: Annotated[int, Field(ge=0, le=EXACT)] | None = None
    for_person: PersonId | None = None
    after: CommandId | None = None  # an earlier command of the same device that this one builds on
    body: dict[str, Any] = {}


@dataclass(frozen=True)
class Actor:
    """Who sends, from which enrolled device, over what."""

    person: str
    device: str
    open_network: bool = False


@dataclass(frozen=True)
class Answer:
    """What a command was answered; kept as its receipt. `params` know people by id only.

    `evidence_due`: refused within an exchange that has not ended yet; the answer stands, and what was typed is
    kept as evidence with the rest of its bundle.
    """

    id: str
    status: Status
    head: int
    entries: tuple[int, int] | None = None
    code: str | None = None
    params: Mapping[str, Any] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    evidence_due: bool = False

    def kept(self) -> dict[str, Any]:
        return {
            **vars(self),
            "entries": list(self.entries) if self.entries else None,
            "params": dict(self.params),
        }

    @classmethod
    def from_kept(cls, kept: Mapping[str, Any]) -> Answer:
        return cls(**{**kept, "entries": tuple(kept["entries"]) if kept["entries"] else None})


class RuleFault(Exception):
    """A rule broke down over a command: a fault of the program, not of the person."""


class OtherBody(Exception):
    """The same command id came from the same device with another body (R3)."""
