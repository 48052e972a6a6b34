"""Counting on bit masks: a mask has one bit per slot of a day, so that a whole day is judged in a few operations."""

from __future__ import annotations

from collections.abc import Iterable

from yokemate.planning.problem import Span


def span_mask(start: int, end: int) -> int:
    """Ones for slots start..end-1; nothing where end <= start."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


def mask_within(spans: Iterable[Span], day: Span) -> int:
    """Ones for the slots of a day that lie in one of the spans; its first slot is bit 0."""
    mask = 0
    for span in spans:
        mask |= span_mask(max(span.start, day.start) - day.start, min(span.end, day.end) - day.start)
    return mask


def runs(mask: int) -> list[tuple[int, int]]:
    """Runs of ones as (first, one past the last)."""
    found = []
    at = 0
    while mask:
        skip = (mask & -mask).bit_length() - 1
        mask >>= skip
        length = (~mask & (mask + 1)).bit_length() - 1
        found.append((at + skip, at + skip + length))
        mask >>= length
        at += skip + length
    return found


def starts_of(mask: int, length: int) -> int:
    """Slots at which `length` ones in a row begin."""
    done = 1
    while done < length and mask:
        step = min(done, length - done)
        mask &= mask >> step
        done += step
    return mask


def at_least(count: int, masks: Iterable[int]) -> int:
    """Slots where at least `count` of the masks have a one; count >= 1."""
    level = [0] * count
    for mask in masks:
        for n in range(count - 1, 0, -1):
            level[n] |= level[n - 1] & mask
        level[0] |= mask
    return level[-1]


class Meter:
    """How much of something is in use in each slot, as a binary number spread over masks, one per digit."""

    __slots__ = ("capacity", "digits", "whole")

    def __init__(self, capacity: int, slots: int) -> None:
        self.capacity = capacity
        self.whole = span_mask(0, slots)
        self.digits = [0] * capacity.bit_length()

    def add(self, amount: int, mask: int) -> None:
        carry = 0
        for n in range(max(len(self.digits), amount.bit_length())):
            if n == len(self.digits):
                self.digits.append(0)
            digit, more = self.digits[n], mask if amount >> n & 1 else 0
            self.digits[n] = digit ^ more ^ carry
            carry = (digit & more) | (digit & carry) | (more & carry)
        if carry:
            self.digits.append(carry)

    def take(self, amount: int, mask: int) -> None:
        borrow = 0
        for n in range(len(self.digits)):
            digit, less = self.digits[n], mask if amount >> n & 1 else 0
            self.digits[n] = digit ^ less ^ borrow
            borrow = (~digit & (less | borrow)) | (less & borrow)

    def room(self, amount: int) -> int:
        """Slots where `amount` more fits."""
        most = self.capacity - amount
        if most < 0:
            return 0
        above, equal = 0, self.whole
        for n in range(len(self.digits) - 1, -1, -1):
            digit = self.digits[n]
            if most >> n & 1:
                equal &= digit
            else:
                above |= equal & digit
                equal &= ~digit
        return self.whole & ~above
