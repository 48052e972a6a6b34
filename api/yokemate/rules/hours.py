"""The hours somebody can come: a weekly pattern and exceptions, in the clock time of the garage. Pure.

What is kept is what the person said ("Saturdays 9:00 to 17:00; not on the 5th"). Moments are worked out from it with
the build's time zone, so that nine o'clock stays nine o'clock on both sides of a change of the clocks.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from typing import Annotated
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from yokemate.planfile.model import IsoDay
from yokemate.rules.refusals import Refused

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
DAY_MIN = 24 * 60
MOST_A_DAY_MIN = 16 * 60  # nobody works a longer day on a car and is asked to lift
MOST_EXCEPTIONS = 200
AHEAD_DAYS = 730

Clock = Annotated[
    str, StringConstraints(pattern=r"^([01]\d|2[0-3]):[0-5]\d$|^24:00$"), Field(examples=["09:00"])
]


class HoursPart(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Weekly(HoursPart):
    """Every week on this day. `weekday`: 0 is Monday. Clock times of the garage; 24:00 is midnight at its end."""

    weekday: int = Field(ge=0, le=6)
    begins: Clock
    ends: Clock


class Otherwise(HoursPart):
    """On one date otherwise. `comes` False: can't come, all day or between the two; True: comes, between the two."""

    on: IsoDay
    comes: bool
    begins: Clock | None = None
    ends: Clock | None = None


class Hours(HoursPart):
    """The hours one person gives."""

    weekly: list[Weekly] = Field(default=[], max_length=50)
    exceptions: list[Otherwise] = Field(default=[], max_length=MOST_EXCEPTIONS)


def minutes(clock: str) -> int:
    """Minutes after midnight."""
    hour, minute = clock.split(":")
    return int(hour) * 60 + int(minute)


def need_good(hours: Hours, today: date) -> None:
    """Refuse hours that can't be meant, naming the field and the remedy (R32)."""
    by_day: dict[int, list[tuple[int, int, str]]] = {}
    for n, weekly in enumerate(hours.weekly):
        span = _span(f"weekly.{n}", weekly.begins, weekly.ends)
        by_day.setdefault(weekly.weekday, []).append((*span, f"weekly.{n}"))
    for weekday, spans in by_day.items():
        _need_apart(spans, f"on {WEEKDAYS[weekday]}s")
    comes: dict[str, list[tuple[int, int, str]]] = {}
    for n, one in enumerate(hours.exceptions):
        field = f"exceptions.{n}"
        _need_date(field, one.on, today)
        if (one.begins is None) != (one.ends is None):
            raise _bad(
                f"{field}.ends",
                "One of the two times is missing.",
                "Give both times, or neither for all day.",
            )
        if one.begins is not None and one.ends is not None:
            span = _span(field, one.begins, one.ends)
            if one.comes:
                comes.setdefault(one.on, []).append((*span, field))
        elif one.comes:
            raise _bad(
                f"{field}.begins", "A day that you come needs its times.", "Give from when until when."
            )
    for on, spans in comes.items():
        _need_apart(spans, f"on {on}")


def _span(field: str, begins: str, ends: str) -> tuple[int, int]:
    start, end = minutes(begins), minutes(ends)
    if end <= start:
        raise _bad(
            f"{field}.ends", f"{ends} is not after {begins}.",
            "Give an end after the beginning; past midnight is a stretch of the next day.",
        )  # fmt: skip
    return start, end


def _need_apart(spans: list[tuple[int, int, str]], when: str) -> None:
    spans = sorted(spans)
    for (_, end, _), (start, _, field) in pairwise(spans):
        if start < end:
            raise _bad(
                f"{field}.begins",
                f"Two stretches {when} overlap.",
                "Make one of the two, or let one end before the other.",
            )
    total = sum(end - start for start, end, _ in spans)
    if total > MOST_A_DAY_MIN:
        raise _bad(
            f"{spans[0][2]}.ends", f"{total // 60} hours {when} are too many.",
            f"Give at most {MOST_A_DAY_MIN // 60} hours a day.",
        )  # fmt: skip


def _need_date(field: str, on: str, today: date) -> None:
    if date.fromisoformat(on) > today + timedelta(days=AHEAD_DAYS):
        raise _bad(f"{field}.on", f"{on} is more than two years ahead.", "Give a nearer date.")


def _bad(field: str, problem: str, remedy: str) -> Refused:
    return Refused("bad_input", field=field, problem=problem, remedy=remedy)


def zone_of(name: str) -> ZoneInfo:
    return ZoneInfo(name)


def is_zone(name: str) -> bool:
    try:
        zone_of(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def local_day(moment_ms: int, zone: ZoneInfo) -> date:
    return datetime.fromtimestamp(moment_ms / 1000, zone).date()


def moment(on: date, minute: int, zone: ZoneInfo) -> int:
    """The moment [ms] of a clock time of the garage; 24:00 is midnight of the next date.

    A clock time that is skipped when the clocks go forward counts as the moment after the jump; one that comes twice, as
    the first (PEP 495).
    """
    on, minute = (on + timedelta(days=1), minute - DAY_MIN) if minute >= DAY_MIN else (on, minute)
    local = datetime.combine(on, time(minute // 60, minute % 60), zone)
    return int(local.astimezone(UTC).timestamp() * 1000)


def day_spans(hours: Hours, on: date) -> list[tuple[int, int]]:
    """When they come on one date: minutes after midnight by the garage's clock, sorted, without overlap."""
    said = on.isoformat()
    here = [(minutes(w.begins), minutes(w.ends)) for w in hours.weekly if w.weekday == on.weekday()]
    today = [one for one in hours.exceptions if one.on == said]
    for gone in (e for e in today if not e.comes):
        begins, ends = (
            (minutes(gone.begins), minutes(gone.ends)) if gone.begins and gone.ends else (0, DAY_MIN)
        )
        here = [part for start, end in here for part in ((start, min(end, begins)), (max(start, ends), end))]
        here = [(start, end) for start, end in here if start < end]
    here += [(minutes(e.begins), minutes(e.ends)) for e in today if e.comes and e.begins and e.ends]
    merged: list[tuple[int, int]] = []
    for start, end in sorted(here):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return merged


def spans(hours: Hours, zone: ZoneInfo, first: date, days: int) -> list[tuple[int, int]]:
    """The moments [ms] between which they can come, over so many dates from `first`."""
    found = []
    for n in range(days):
        on = first + timedelta(days=n)
        for start, end in day_spans(hours, on):
            begin_ms, end_ms = moment(on, start, zone), moment(on, end, zone)
            if begin_ms < end_ms:
                found.append((begin_ms, end_ms))
    merged: list[tuple[int, int]] = []
    for begin_ms, end_ms in sorted(
        found
    ):  # in the night when clocks go forward, hours apart may come to touch
        if merged and begin_ms < merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end_ms, merged[-1][1]))
        else:
            merged.append((begin_ms, end_ms))
    return merged
