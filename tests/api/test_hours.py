"""Hours over HTTP: one's own, the lead's word for somebody, who sees what, and that others hear of it."""

from __future__ import annotations

import pytest

from support.phones import Garage
from yokemate.rules.hours import WEEKDAYS

SATURDAY = {"weekly": [{"weekday": 5, "begins": "09:00", "ends": "17:00"}], "exceptions": []}


def hours_path(garage: Garage, name: str) -> str:
    return f"/api/builds/{garage.build}/people/{garage.phones[name].person}/hours"


def test_hours_are_kept_and_the_lead_sees_who_comes(garage: Garage) -> None:
    """One says when they can come; the lead sees a week of it; nobody else does."""
    bram, ines, kofi = (garage.phones[name] for name in ("bram", "ines", "kofi"))

    kept = bram.ask("PUT", hours_path(garage, "bram"), SATURDAY)

    assert kept.status_code == 200, kept.text
    assert kept.json()["hours"] == SATURDAY
    assert kept.json()["time_zone"] == "Europe/London"
    view = ines.get(f"{ines.home}/coming")
    assert view["days"][0]["day"].startswith(WEEKDAYS[5])
    assert view["days"][0]["comes"] == [{"person": bram.person, "from_min": 540, "to_min": 1020}]
    assert bram.person not in view["not_said"]
    assert kofi.ask("GET", f"{kofi.home}/coming").status_code == 403
    assert kofi.ask("GET", hours_path(garage, "bram")).json()["code"] == "role"


def test_the_lead_types_for_somebody_and_it_says_so(one: Garage) -> None:
    """R29: what is typed for somebody else says so."""
    kept = one.phones["ines"].ask("PUT", hours_path(one, "kofi"), SATURDAY).json()

    assert kept["typed_by"] == one.phones["ines"].person
    assert one.phones["bram"].ask("PUT", hours_path(one, "kofi"), SATURDAY).json()["code"] == "role"


def test_an_answer_with_hours_in_it_ends_when_they_change(one: Garage) -> None:
    """No entry comes, yet the prepared answer is made anew; the same again is 304."""
    ines = one.phones["ines"]
    first = ines.ask("GET", f"{ines.home}/coming")
    etag = {"If-None-Match": first.headers["ETag"]}
    assert ines.ask("GET", f"{ines.home}/coming", headers=etag).status_code == 304
    before = one.service.hub._builds[one.build].beside if one.build in one.service.hub._builds else 0

    ines.ask("PUT", hours_path(one, "ines"), SATURDAY)

    assert ines.ask("GET", f"{ines.home}/coming", headers=etag).status_code == 200
    assert one.service.hub._builds[one.build].beside == before + 1


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"weekly": [{"weekday": 5, "begins": "17:00", "ends": "09:00"}]}, "weekly.0.ends"),
        ({"weekly": [{"weekday": 9, "begins": "09:00", "ends": "17:00"}]}, "weekly.0.weekday"),
        ({"weekly": [{"weekday": 5, "begins": "9 am", "ends": "17:00"}]}, "weekly.0.begins"),
        ({"weekly": [{"weekday": 5, "begins": "09:00", "ends": "17:00"}] * 51}, "weekly"),
        ({"weekly": [], "exceptions": [{"on": "2026-12-05", "comes": False}] * 201}, "exceptions"),
        ({"weekly": [], "often": True}, "often"),
        ({"exceptions": [{"on": "2026-02-30", "comes": False}]}, "exceptions.0.on"),
        ({"exceptions": [{"on": "on Saturday", "comes": False}]}, "exceptions.0.on"),
    ],
)
def test_r32_hours_that_cannot_be_are_refused(one: Garage, said: dict[str, object], field: str) -> None:
    """R32: the field is named and nothing is kept."""
    bram = one.phones["bram"]

    answer = bram.ask("PUT", hours_path(one, "bram"), said)

    assert answer.status_code == 422
    assert answer.json()["field"] == field
    assert bram.get(hours_path(one, "bram"))["at_ms"] is None
