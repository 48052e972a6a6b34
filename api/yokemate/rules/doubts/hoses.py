"""Hoses of a cut list: each cut against the gap it bridges, and whether the ends go on far enough."""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.hose import cut_length, push_depth
from yokemate.planfile.findings import Loc
from yokemate.planfile.model import CutList, HoseEnds, Plan
from yokemate.planfile.told import Told
from yokemate.rules.doubts.cuts import length_of, say_length
from yokemate.units import convert_exact


def hose_doubts(plan: Plan, told: Told) -> None:
    for n, cut in enumerate(plan.cuts):
        if cut.hose is not None:
            _depth(cut, cut.hose, ("cuts", n, "hose", "push"), told)
            for m in range(len(cut.pieces)):
                _cut(cut, cut.hose, m, ("cuts", n, "pieces", m, "length"), told)


def _depth(cut: CutList, hose: HoseEnds, loc: Loc, told: Told) -> None:
    bore, push = length_of(hose.bore, cut), length_of(hose.push, cut)
    if bore is None or push is None or hose.to_a_stop:
        return
    try:
        wanted_mm = push_depth(float(convert_exact(bore, cut.unit, "mm")))
    except CalcError as error:
        told.doubt(
            "hose_unlike",
            (*loc[:-1], "bore"),
            error.message,
            "Size of a hose is its inside diameter.",
            "Hoses as sold.",
        )
        return
    if convert_exact(push, cut.unit, "mm") < Fraction(wanted_mm):
        told.doubt(
            "hose_short_on_spigot", loc,
            f"the ends go on {say_length(push, cut)} and a bore of {say_length(bore, cut)} wants {wanted_mm:g} mm where "
            "no stop says how far.",
            "Push it further and cut it longer, or write `to_a_stop: true` where the spigot has one.",
            "1.5 times the inside diameter, at least 25 mm: common practice.",
        )  # fmt: skip


def _cut(cut: CutList, hose: HoseEnds, m: int, loc: Loc, told: Told) -> None:
    piece = cut.pieces[m]
    length, push = length_of(piece.length, cut), length_of(hose.push, cut)
    gap = length_of(piece.gap, cut) if piece.gap is not None else None
    plus, minus = length_of(cut.plus, cut), length_of(cut.minus, cut)
    if length is None or push is None or gap is None or plus is None or minus is None:
        return
    figures = [convert_exact(one, cut.unit, "mm") for one in (gap, push, push, plus, minus)]
    try:
        wanted = cut_length(*figures)
    except CalcError:
        return
    if not wanted.least_mm <= convert_exact(length, cut.unit, "mm") <= wanted.most_mm:
        right = convert_exact(wanted.cut_mm, "mm", cut.unit)
        told.doubt(
            "hose_cut_unlike_gap", loc,
            f"{piece.to}: {say_length(length, cut)} is cut for a gap of {say_length(gap, cut)} and "
            f"{say_length(push, cut)} on at each end, which make {say_length(right, cut)}.",
            "Measure the gap again, or mend the length.", "Gap and both ends, within the list's own plus and minus.",
        )  # fmt: skip
