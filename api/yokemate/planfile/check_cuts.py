"""Cut lists: one unit said once, fractions only in inches, no piece longer than its stock."""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import CutList, Plan
from yokemate.planfile.told import Told
from yokemate.units import QuantityError, parse_inches, parse_number


def cut_findings(plan: Plan, told: Told) -> None:
    for n, cut in enumerate(plan.cuts):
        loc: Loc = ("cuts", n)
        stock = _length(cut.stock_length, cut, (*loc, "stock_length"), told)
        for field in ("kerf", "plus", "minus"):
            _length(getattr(cut, field), cut, (*loc, field), told)
        for m, piece in enumerate(cut.pieces):
            length = _length(piece.length, cut, (*loc, "pieces", m, "length"), told)
            if length is not None and stock is not None and length > stock:
                told.error(
                    "longer_than_stock", (*loc, "pieces", m, "length"),
                    f"{piece.length} {cut.unit} does not come out of a length of {cut.stock_length} {cut.unit}.",
                    "Look at figure and unit.",
                )  # fmt: skip


def _length(text: str, cut: CutList, loc: Loc, told: Told) -> Fraction | None:
    if "/" in text and cut.unit != "in":
        told.error(
            "fraction_not_inches", loc, f'"{text}" is a fraction of an inch and this list is in {cut.unit}.',
            "Write `unit: in` for the whole list, or give the length as a plain number.",
        )  # fmt: skip
        return None
    try:
        value = parse_inches(text) if cut.unit == "in" else parse_number(text)
    except QuantityError as problem:
        told.error("not_a_length", loc, f'"{text}" is not a length.', problem.remedy)
        return None
    if value < 0:
        told.error(
            "not_a_length",
            loc,
            f'"{text}" is below nothing.',
            "Lengths and allowances are written without a sign.",
        )
    return value
