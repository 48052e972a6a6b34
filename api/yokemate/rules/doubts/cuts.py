"""Cut lists: whether the stock does, and whether the usual way of cutting, longest piece first, wastes a length."""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.cutting import CutPlan, Piece, cut_plan
from yokemate.calc.errors import CalcError
from yokemate.planfile.findings import Loc
from yokemate.planfile.model import CutList, Plan
from yokemate.planfile.told import Told
from yokemate.units import (
    QuantityError,
    convert_exact,
    format_decimal,
    format_inches,
    parse_inches,
    parse_number,
)

BY = "The cutting stock problem over all ways to cut a length; longest piece first for comparison."
SOLVED_AT_MOST = 12  # lists; and lengths in one of them: a plan is looked at while somebody waits


def length_of(text: str, cut: CutList) -> Fraction | None:
    """In the list's own unit; None where `planfile` has already told what is wrong with it."""
    try:
        value = parse_inches(text) if cut.unit == "in" else parse_number(text)
    except QuantityError:
        return None
    return value if value >= 0 else None


def say_length(value: Fraction, cut: CutList) -> str:
    """With its unit, as it would be written in the list."""
    if cut.unit == "in":
        try:
            return f"{format_inches(value)} in"
        except QuantityError:
            return f"{format_decimal(value, 3)} in"
    return f"{format_decimal(value, 1).removesuffix('.0')} {cut.unit}"


def cut_doubts(plan: Plan, told: Told) -> None:
    solved = 0
    for n, cut in enumerate(plan.cuts):
        if len({piece.length for piece in cut.pieces}) > SOLVED_AT_MOST or solved == SOLVED_AT_MOST:
            continue
        found = best_cuts(cut)
        if found is not None:
            solved += 1
            _stock(cut, found, ("cuts", n), told)


def best_cuts(cut: CutList) -> CutPlan | None:
    """The fewest lengths for the list; None where its figures do not allow it."""
    stock, kerf = length_of(cut.stock_length, cut), length_of(cut.kerf, cut)
    lengths = [(length_of(piece.length, cut), piece.n) for piece in cut.pieces]
    if stock is None or kerf is None or not lengths:
        return None
    pieces = []
    for length, count in lengths:
        if length is None or length > stock:
            return None
        pieces.append(Piece(_mm(length, cut), count))
    try:
        return cut_plan(_mm(stock, cut), pieces, _mm(kerf, cut))
    except CalcError:
        return None


def _mm(length: Fraction, cut: CutList) -> Fraction:
    return convert_exact(length, cut.unit, "mm")


def _stock(cut: CutList, found: CutPlan, loc: Loc, told: Told) -> None:
    stock = f"{cut.stock_length} {cut.unit}"
    if cut.stock_count is not None and cut.stock_count < found.bars:
        told.doubt(
            "stock_too_little", (*loc, "stock_count"),
            f"{_lengths(found.bars)} of {stock} are needed, however they are cut, and there {_are(cut.stock_count)}.",
            f"Order {found.bars - cut.stock_count} more.", BY,
        )  # fmt: skip
    elif found.longest_first > found.bars and cut.stock_count is None:
        told.doubt(
            "longest_first_wastes", loc,
            f"cut with the longest piece first it takes {_lengths(found.longest_first)} of {stock}; {found.bars} do.",
            f"Cut {cut_words(cut, found)}, and write `stock_count: {found.bars}`.", BY,
        )  # fmt: skip


def cut_words(cut: CutList, found: CutPlan) -> str:
    """ "620 + 480 + 350, 620 + 480 + 270" in the list's unit."""
    bars = []
    for bar in found.cuts:
        pieces = [say_length(convert_exact(piece, "mm", cut.unit), cut) for piece in bar.pieces_mm]
        said = " + ".join(piece.removesuffix(f" {cut.unit}") for piece in pieces)
        bars.append(f"{bar.bars} times {said}" if bar.bars > 1 else said)
    return ", ".join(bars)


def _lengths(count: int) -> str:
    return "one length" if count == 1 else f"{count} lengths"


def _are(count: int) -> str:
    return "is one" if count == 1 else f"are {count}"
