"""Who comes when, for the lead: the days ahead, from the hours that members gave."""

from __future__ import annotations

from datetime import timedelta

from yokemate.rules.frame import LEAD, State
from yokemate.rules.hours import Hours, day_spans, local_day, moment, zone_of
from yokemate.rules.rows import Build, Member
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view

DAYS = 14


class In(ViewPart):
    """`from_min`, `to_min`: minutes after midnight by the garage's clock."""

    person: str
    from_min: int
    to_min: int


class ComingDay(ViewPart):
    on: str  # ISO date
    day: str  # "Saturday 28 November"
    comes: list[In]


class ComingView(View):
    """`not_said`: members who gave no hours yet."""

    time_zone: str
    days: list[ComingDay]
    not_said: list[str]


@view("coming", "/coming", NoParams, ComingView, who=LEAD, wants_hours=True)
def coming(state: State, viewer: Viewer, params: NoParams) -> ComingView:
    """The next fourteen days, as far as somebody comes: who, from when until when."""
    zone_name = state.get(Build, "build").time_zone
    zone = zone_of(zone_name)
    today = local_day(viewer.now_ms, zone)
    members = sorted((m.id for m in state.all(Member) if not m.left and m.role != "viewer"), key=str)
    said = viewer.facts.hours
    days = []
    for n in range(DAYS):
        on = today + timedelta(days=n)
        comes = [
            In(person=person, from_min=start, to_min=end)
            for person in members
            for start, end in day_spans(said.get(person, Hours()), on)
        ]
        if comes:
            days.append(ComingDay(on=on.isoformat(), day=f"{on:%A} {on.day} {on:%B}", comes=comes))
    return ComingView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=moment(today + timedelta(days=1), 0, zone),
        time_zone=zone_name,
        days=days,
        not_said=[
            person for person in members if not (h := said.get(person)) or not (h.weekly or h.exceptions)
        ],
    )
