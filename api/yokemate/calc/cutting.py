"""Cutting pieces from stock bars or hose with the fewest bars. The solver is imported here only,
when it is needed.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from yokemate.calc.errors import CalcError, check_range

# The solver works in whole steps and for a bounded amount of work, so that the same input gives the same
# answer.
_WORK_LIMIT = 20.0
_MOST_PATTERNS = 20000  # ways to cut a bar that are compared


@dataclass(frozen=True)
class Piece:
    """Pieces of one length.

    Fields:
        length_mm [mm]: finished; 1..20000
        count [-]: how many; 1..500
    """

    length_mm: Fraction
    count: int


@dataclass(frozen=True)
class Bar:
    """How one bar is cut; bars that are cut alike are one row.

    Fields:
        bars [-]: how many bars are cut so
        pieces_mm [mm]: lengths, longest first
        offcut_mm [mm]: what is left of each
    """

    bars: int
    pieces_mm: tuple[Fraction, ...]
    offcut_mm: Fraction


@dataclass(frozen=True)
class CutPlan:
    """A plan for all pieces.

    Fields:
        bars [-]: bars needed by this plan
        proved [-]: whether fewer is proved impossible
        bound [-]: no plan needs fewer: total length over stock, rounded up
        longest_first [-]: bars by cutting the longest piece that fits, for comparison
        cuts [-]: the bars
        longest_first_cuts [-]: the bars of cutting the longest piece that fits
    """

    bars: int
    proved: bool
    bound: int
    longest_first: int
    cuts: tuple[Bar, ...]
    longest_first_cuts: tuple[Bar, ...]


def cut_plan(stock_mm: Fraction, pieces: Sequence[Piece], kerf_mm: Fraction = Fraction(0)) -> CutPlan:
    """The fewest bars for a list of pieces, exactly, with what each cut turns to dust.

    Formula: pieces fit a bar when Σ(length + kerf) <= stock + kerf; fewest bars over all patterns of cutting
        a bar
    Args:
        stock_mm [mm]: one bar or roll; 10..100000
        pieces [-]: lengths and counts, at most 20 different lengths
        kerf_mm [mm]: lost per cut: knife 0, saw 1.5 to 3; 0..20
    Returns: CutPlan
    Picture: cut_bars
    Source: the cutting stock problem; solved with CP-SAT over all patterns, exact for the sizes of a garage
    Example:
        >>> sticks = [Piece(Fraction(620), 2), Piece(Fraction(480), 3), Piece(Fraction(350), 3)]
        >>> cut_plan(Fraction(1500), sticks).bars
        3
    """
    check_range("stock_mm", stock_mm, 10, 100000)
    check_range("kerf_mm", kerf_mm, 0, 20)
    if not 1 <= len(pieces) <= 20:
        raise CalcError("pieces", "give 1 to 20 lengths.", "Split the list.")
    demand: Counter[Fraction] = Counter()
    for i, piece in enumerate(pieces):
        check_range(f"pieces[{i}].length_mm", piece.length_mm, 1, 20000)
        check_range(f"pieces[{i}].count", piece.count, 1, 500)
        if piece.length_mm > stock_mm:
            raise CalcError(
                f"pieces[{i}].length_mm",
                f"{float(piece.length_mm):g} mm is longer than the stock.",
                "Use longer stock.",
            )
        demand[piece.length_mm] += piece.count
    greedy = _longest_first(stock_mm, demand, kerf_mm)
    total = sum((length + kerf_mm) * count for length, count in demand.items())
    bound = -(-total // (stock_mm + kerf_mm))
    bars, proved = (
        (greedy, True) if sum(greedy.values()) == bound else _solve(stock_mm, demand, kerf_mm, greedy)
    )
    return CutPlan(
        bars=sum(bars.values()),
        proved=proved,
        bound=int(bound),
        longest_first=sum(greedy.values()),
        cuts=_as_cut(bars, stock_mm, kerf_mm),
        longest_first_cuts=_as_cut(greedy, stock_mm, kerf_mm),
    )


Pattern = tuple[Fraction, ...]


def _as_cut(bars: Counter[Pattern], stock: Fraction, kerf: Fraction) -> tuple[Bar, ...]:
    return tuple(
        Bar(count, pattern, max(stock - sum(pattern) - kerf * len(pattern), Fraction(0)))
        for pattern, count in sorted(bars.items(), key=lambda item: item[0], reverse=True)
    )


def _longest_first(stock: Fraction, demand: Counter[Fraction], kerf: Fraction) -> Counter[Pattern]:
    left, bars = Counter(demand), Counter[Pattern]()
    while sum(left.values()):
        room, pattern = stock + kerf, []
        for length in sorted(left, reverse=True):
            while left[length] and length + kerf <= room:
                room -= length + kerf
                left[length] -= 1
                pattern.append(length)
        bars[tuple(pattern)] += 1
    return bars


def _patterns(stock: Fraction, demand: Counter[Fraction], kerf: Fraction) -> list[Pattern]:
    """Every way to cut a bar that leaves no room for another needed piece."""
    lengths = sorted(demand, reverse=True)
    found: list[Pattern] = []

    def extend(index: int, room: Fraction, pattern: list[Fraction]) -> None:
        if len(found) > _MOST_PATTERNS:
            return
        if index == len(lengths):
            if pattern:
                found.append(tuple(pattern))
            return
        length = lengths[index]
        most = min(demand[length], int(room // (length + kerf)))
        least = most if index == len(lengths) - 1 else 0
        for count in range(most, least - 1, -1):
            extend(index + 1, room - count * (length + kerf), pattern + [length] * count)

    extend(0, stock + kerf, [])
    return found


def _solve(
    stock: Fraction, demand: Counter[Fraction], kerf: Fraction, greedy: Counter[Pattern]
) -> tuple[Counter[Pattern], bool]:
    from ortools.sat.python import cp_model

    patterns = _patterns(stock, demand, kerf)
    if len(patterns) > _MOST_PATTERNS:
        raise CalcError(
            "pieces", "can be cut in too many ways to compare.", "Split the list, or use shorter stock."
        )
    model = cp_model.CpModel()
    most = sum(greedy.values())
    used = [model.new_int_var(0, most, "") for _ in patterns]
    for length, count in demand.items():
        model.add(sum(pattern.count(length) * u for pattern, u in zip(patterns, used, strict=True)) >= count)
    model.add(sum(used) <= most)
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = _WORK_LIMIT
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return greedy, False
    left, bars = Counter(demand), Counter[Pattern]()
    for pattern, u in zip(patterns, used, strict=True):
        for _ in range(solver.value(u)):
            kept = []
            for length in pattern:  # a pattern may hold more of a length than is still needed
                if left[length]:
                    left[length] -= 1
                    kept.append(length)
            bars[tuple(kept)] += 1
    return bars, status == cp_model.OPTIMAL
