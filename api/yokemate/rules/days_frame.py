"""Slots of planning and moments of the garage: where slot 0 lies, and how long a slot is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from yokemate.rules.frame import State
from yokemate.rules.hours import local_day, moment, zone_of
from yokemate.rules.rows import Build

SLOT_MIN = 5
SLOT_MS = SLOT_MIN * 60_000
SLIP_MS = 15 * 60_000  # a quarter of an hour earlier or later is no news; common practice


@dataclass(frozen=True)
class Frame:
    """Where slot 0 lies [ms]: midnight of the garage's today."""

    origin_ms: int

    def slot(self, ms: int) -> int:
        """The first slot that begins no earlier."""
        return -((self.origin_ms - ms) // SLOT_MS)

    def floor(self, ms: int) -> int:
        return (ms - self.origin_ms) // SLOT_MS

    def ms(self, slot: int) -> int:
        return self.origin_ms + slot * SLOT_MS


def frame_at(state: State, now_ms: int) -> Frame:
    zone = zone_of(state.get(Build, "build").time_zone)
    return Frame(moment(local_day(now_ms, zone), 0, zone))


def slots(minutes: Fraction | int) -> int:
    return max(1, -int(-Fraction(minutes) // SLOT_MIN))
