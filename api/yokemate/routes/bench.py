"""The Bench: any calculation, in any unit offered, without touching a build. Made from the catalogue."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict, Field

from yokemate.calc.catalogue import Argument, Result, catalogue
from yokemate.calc.compute import compute
from yokemate.calc.contract import Picture
from yokemate.calc.errors import CalcError
from yokemate.routes.refused import listed
from yokemate.rules.refusals import Refused
from yokemate.units import UNITS, units_of

router = APIRouter(prefix="/api/bench", tags=["bench"])


class OfferedUnit(BaseModel):
    id: str
    name: str


class AskedFor(BaseModel):
    """One input of a calculation: what a form needs to ask for it. `columns` describes the rows of a table."""

    name: str
    label: str = Field(description="what a form calls it: no two of one form or row alike")
    kind: str
    unit: str
    units: list[OfferedUnit] = Field(description="what it may be given in; empty where it has no unit")
    text: str
    low: str | None
    high: str | None
    optional: bool
    default: str | None
    choices: list[str]
    columns: list[AskedFor]


class Told(BaseModel):
    """One figure of an answer, or, with `parts`, a record of them; `many` where there is a list of it."""

    name: str
    label: str = Field(description="what a screen calls it: no two of one record alike")
    unit: str
    units: list[OfferedUnit] = Field(description="what it may be asked for in; empty where it has no unit")
    text: str
    many: bool
    parts: list[Told]


class Line(BaseModel):
    name: str
    title: str
    subject: str


class Calculation(Line):
    """One calculation: its inputs, formula, source, an example, and the picture that shows its answer."""

    formula: str
    source: str
    example: str
    inputs: list[AskedFor]
    answer: Told
    picture: Picture | None
    figures: int | None = Field(
        description="how many figures of the answer mean something, where it rests on what is known as a range"
    )
    figures_why: str
    hazards: list[str] = Field(description="kinds of hazard of the work that it is about, as in a plan")


class Inputs(BaseModel):
    """Inputs by name. A figure with a unit is `{"value": "50", "unit": "n_m"}` or `"50 N·m"`, never a bare number."""

    model_config = ConfigDict(extra="forbid")
    inputs: dict[str, Any] = Field(examples=[{"count": "6"}])
    answer_in: list[str] = Field(
        default=[], max_length=20, description="units wanted for the answer, one of each dimension at most"
    )


class DrawnIn(BaseModel):
    """A unit wanted for the words of a picture, and how many of it one own unit is."""

    name: str
    per: float


class Worked(BaseModel):
    """The answer, each figure with its unit, and the rule it used."""

    name: str
    inputs: dict[str, Any] = Field(description="as understood: each in its own unit, defaults filled in")
    result: Any
    drawn: Any = Field(
        description="the answer that the picture draws, in its own units; empty without a picture"
    )
    drawn_in: dict[str, DrawnIn] = Field(
        description="by own unit: what the picture's words are wanted in instead"
    )
    formula: str
    source: str


def _offered(dimension: str) -> list[OfferedUnit]:
    return [OfferedUnit(id=unit.id, name=unit.label) for unit in units_of(dimension)] if dimension else []


def _asked(argument: Argument) -> AskedFor:
    return AskedFor(
        name=argument.name,
        label=argument.label,
        kind=argument.kind,
        unit=argument.unit,
        units=_offered(argument.dimension),
        text=argument.text,
        low=argument.low,
        high=argument.high,
        optional=argument.optional,
        default=argument.default,
        choices=list(argument.choices),
        columns=[_asked(column) for column in argument.columns],
    )


def _told(result: Result) -> Told:
    return Told(
        name=result.name,
        label=result.label,
        unit=result.unit,
        units=_offered(UNITS[result.unit].dimension if result.unit in UNITS else ""),
        text=result.text,
        many=result.many,
        parts=[_told(part) for part in result.fields],
    )


@router.get("", operation_id="bench")
def bench() -> list[Line]:
    """Every calculation that is offered, by subject."""
    return [Line(name=e.name, title=e.title, subject=e.subject) for e in catalogue().values()]


@router.get("/{name}", operation_id="calculation", responses=listed("unknown"))
def calculation(name: str) -> Calculation:
    """One calculation: its inputs with units and ranges, formula, source, example."""
    entry = catalogue().get(name)
    if entry is None:
        raise Refused("unknown", what="calculation", id=name)
    return Calculation(
        name=entry.name,
        title=entry.title,
        subject=entry.subject,
        formula=entry.formula,
        source=entry.source,
        example=entry.example,
        inputs=[_asked(argument) for argument in entry.args],
        answer=_told(entry.result),
        picture=entry.picture,
        figures=entry.figures,
        figures_why=entry.figures_why,
        hazards=list(entry.hazards),
    )


@router.post(
    "/{name}", operation_id="compute", responses=listed("unknown", "bad_input", "malformed", "too_big")
)
def work_out(name: str, sent: Inputs) -> Worked:
    """Work one out. Out of range is an error that names the input and the remedy, never an extrapolation."""
    if name not in catalogue():
        raise Refused("unknown", what="calculation", id=name)
    try:
        return Worked.model_validate(compute(name, sent.inputs, sent.answer_in))
    except CalcError as wrong:
        raise Refused("bad_input", field=wrong.field, problem=wrong.message, remedy=wrong.remedy) from wrong
