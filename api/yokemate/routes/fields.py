"""Fields that several routes outside the registry share."""

from __future__ import annotations

from typing import Annotated, Literal
from unicodedata import bidirectional

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints

from yokemate.rules.frame import Role
from yokemate.rules.hours import is_zone
from yokemate.rules.refusals import Refused
from yokemate.store.pins import too_easy

_TURNS = (
    "LRE",
    "RLE",
    "LRO",
    "RLO",
    "PDF",
    "LRI",
    "RLI",
    "FSI",
    "PDI",
)  # Unicode Annex 9: explicit directions


def _readable(value: str) -> str:
    if any(c < " " or "\ud800" <= c <= "\udfff" for c in value):
        raise ValueError("holds a character that is no text")
    return value


def _a_name(value: str) -> str:
    """What can be read aloud: letters or digits in it, and nothing that turns the reading round."""
    if any(bidirectional(c) in _TURNS for c in value) or not any(c.isalnum() for c in value):
        raise ValueError("can't be read; type letters")
    return value


def _zone(value: str) -> str:
    if not is_zone(value):
        raise ValueError("is no time zone; give one such as Europe/London")
    return value


Name = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=60),
    AfterValidator(_readable),
    AfterValidator(_a_name),
    Field(examples=["Ines Okafor-Lind"]),
]
BuildName = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=60),
    AfterValidator(_readable),
    AfterValidator(_a_name),
    Field(examples=["Quillback Two"]),
]
TimeZone = Annotated[
    str, StringConstraints(max_length=60), AfterValidator(_zone), Field(examples=["Europe/London"])
]
Units = Literal["metric", "us", "both"]
Icon = Annotated[str, StringConstraints(max_length=8), AfterValidator(_readable), Field(examples=["🔧"])]
Pin = Annotated[str, StringConstraints(min_length=1, max_length=128), AfterValidator(_readable)]
Guideline = Literal[25, 16]
Code = Annotated[
    str, StringConstraints(min_length=1, max_length=128), Field(description="from the invite's address")
]
PlanText = Annotated[
    str, StringConstraints(max_length=1_500_000), Field(description="the plan file's text (YAML)")
]


class Taken(BaseModel):
    """Base of what these routes take: an unknown field is an error."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def good_pin(pin: str, role: Role) -> None:
    """Six digits or more, not all the same; a lead eight, or a phrase (R29)."""
    if too_easy(pin, lead=role == "lead"):
        raise Refused("pin_too_short")
