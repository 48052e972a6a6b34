"""Hours that members give: what is refused, exceptions, and both changes of the clocks."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from yokemate.rules.hours import Hours, day_spans, need_good, spans, zone_of
from yokemate.rules.refusals import Refused

TODAY = date(2026, 11, 25)  # a Wednesday
SATURDAYS = {"weekly": [{"weekday": 5, "begins": "09:00", "ends": "17:00"}]}


def given(**more: object) -> Hours:
    return Hours.model_validate({**SATURDAYS, **more})


BAD: list[tuple[dict[str, object], str]] = [
    ({"weekly": [{"weekday": 5, "begins": "17:00", "ends": "09:00"}]}, "weekly.0.ends"),
    ({"weekly": [{"weekday": 5, "begins": "09:00", "ends": "09:00"}]}, "weekly.0.ends"),
    (
        {"weekly": [{"weekday": 5, "begins": "09:00", "ends": "12:00"}, {"weekday": 5, "begins": "11:00", "ends": "14:00"}]},
        "weekly.1.begins",
    ),
    ({"weekly": [{"weekday": 5, "begins": "00:00", "ends": "24:00"}]}, "weekly.0.ends"),
    ({"exceptions": [{"on": "2031-01-01", "comes": False}]}, "exceptions.0.on"),
    ({"exceptions": [{"on": "2026-12-05", "comes": True}]}, "exceptions.0.begins"),
    ({"exceptions": [{"on": "2026-12-05", "comes": False, "begins": "09:00"}]}, "exceptions.0.ends"),
    ({"exceptions": [{"on": "2026-12-05", "comes": True, "begins": "12:00", "ends": "11:00"}]}, "exceptions.0.ends"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "field"), BAD, ids=[f"{n} {field}" for n, (_, field) in enumerate(BAD)])
def test_r32_hours_that_cannot_be_meant_name_the_field(said: dict[str, object], field: str) -> None:
    """R32: overlap, end before beginning, absurd amounts, dates that are none."""
    with pytest.raises(Refused) as refused:
        need_good(Hours.model_validate(said), TODAY)

    assert refused.value.code == "bad_input"
    assert refused.value.params["field"] == field
    assert refused.value.params["remedy"]


def test_stretches_that_touch_are_no_overlap() -> None:
    said = Hours.model_validate(
        {"weekly": [{"weekday": 5, "begins": "09:00", "ends": "12:00"}, {"weekday": 5, "begins": "12:00", "ends": "24:00"}]}
    )  # fmt: skip
    need_good(said, TODAY)

    assert day_spans(said, date(2026, 11, 28)) == [(540, 1440)]


def test_an_exception_takes_away_and_gives() -> None:
    """Saturday 9 to 17; the 5th not; the 12th not from 11 to 12; Sunday the 6th from 10 to 13."""
    said = given(
        exceptions=[
            {"on": "2026-12-05", "comes": False},
            {"on": "2026-12-12", "comes": False, "begins": "11:00", "ends": "12:00"},
            {"on": "2026-12-06", "comes": True, "begins": "10:00", "ends": "13:00"},
        ]
    )
    need_good(said, TODAY)

    assert day_spans(said, date(2026, 11, 28)) == [(540, 1020)]
    assert day_spans(said, date(2026, 12, 5)) == []
    assert day_spans(said, date(2026, 12, 6)) == [(600, 780)]
    assert day_spans(said, date(2026, 12, 12)) == [(540, 660), (720, 1020)]


@pytest.mark.parametrize(
    ("on", "said", "utc", "hours"),
    [
        # Clocks in the United Kingdom go forward at 1:00 UTC on the last Sunday of March, back at 1:00 UTC on the
        # last Sunday of October (Summer Time Order 2002). 0:00 to 6:00 is five hours, then seven.
        (date(2026, 3, 29), ("00:00", "06:00"), (0, 5), 5),
        (date(2026, 10, 25), ("00:00", "06:00"), (-1, 6), 7),
        (date(2026, 3, 28), ("09:00", "17:00"), (9, 17), 8),
        (date(2026, 3, 29), ("09:00", "17:00"), (8, 16), 8),
        (date(2026, 10, 24), ("09:00", "17:00"), (8, 16), 8),
        (date(2026, 10, 25), ("09:00", "17:00"), (9, 17), 8),
    ],
)
def test_nine_o_clock_stays_nine_o_clock(
    on: date, said: tuple[str, str], utc: tuple[int, int], hours: int
) -> None:
    """The weekends on which the clocks change, by hand from the order that changes them."""
    person = Hours.model_validate({"weekly": [{"weekday": on.weekday(), "begins": said[0], "ends": said[1]}]})

    [(begin, end)] = spans(person, zone_of("Europe/London"), on, 1)

    midnight = int(datetime(on.year, on.month, on.day, tzinfo=UTC).timestamp() * 1000)
    assert (begin - midnight, end - midnight) == (utc[0] * 3_600_000, utc[1] * 3_600_000)
    assert end - begin == hours * 3_600_000


def test_hours_that_come_to_touch_when_clocks_go_forward_are_one_stretch() -> None:
    """Europe/London, Sunday 29 March 2026: 1:00 becomes 2:00, so 1:15 to 1:45 is 2:15 to 2:45 and lies within 2:00 to 5:00."""
    weekly = [
        {"weekday": 6, "begins": "01:15", "ends": "01:45"},
        {"weekday": 6, "begins": "02:00", "ends": "05:00"},
    ]
    found = spans(Hours.model_validate({"weekly": weekly}), ZoneInfo("Europe/London"), date(2026, 3, 29), 1)
    utc = [tuple(datetime.fromtimestamp(ms / 1000, UTC).strftime("%H:%M") for ms in one) for one in found]
    assert utc == [("01:00", "04:00")]
