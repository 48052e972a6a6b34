"""The smallest set of causes that still leaves no plan, by halving."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from yokemate.planning.reasons import Cause

Impossible = Callable[[frozenset[Cause]], bool]


class TooMany(Exception):
    """More causes belong to it than may be named."""


def smallest(
    ground: frozenset[Cause], causes: Sequence[Cause], impossible: Impossible, most: int
) -> list[Cause]:
    """Of `causes`, a set that with `ground` leaves no plan while any less would. All of them together must leave none.

    Halving: with k of n in the set about 2 k (1 + log2(n / k)) questions. The later ones are given up first. Raises
    TooMany beyond `most`.
    """
    count = 0

    def narrowed(ground: frozenset[Cause], more: bool, causes: Sequence[Cause]) -> list[Cause]:
        nonlocal count
        if more and impossible(ground):
            return []
        if len(causes) == 1:
            count += 1
            if count > most:
                raise TooMany
            return list(causes)
        first, second = causes[: len(causes) // 2], causes[len(causes) // 2 :]
        of_second = narrowed(ground | frozenset(first), True, second)
        of_first = narrowed(ground | frozenset(of_second), bool(of_second), first)
        return of_first + of_second

    return narrowed(ground, True, causes) if causes else []
