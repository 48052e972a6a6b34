"""The demo: an invented crew in the middle of an invented build, brought there by commands alone."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from support.phones import Garage, demo_garage
from yokemate import demo
from yokemate.rules.rows import Group, Lift, LooseEnd, Task, Under
from yokemate.store import ledger
from yokemate.store.verify import differences, verify


@pytest.fixture(scope="module")
def playing(demo_played: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Garage]:
    garage = demo_garage(demo_played, tmp_path_factory.mktemp("demo"))
    yield garage
    garage.close()


def test_the_demo_plays_and_its_rows_follow_from_its_record(playing: Garage) -> None:
    """R1, R2: no recorded command is refused any more, the chain holds, and replay gives the same rows."""
    with playing.service.database.read() as connection:
        assert verify(connection, demo.BUILD).holds
        assert differences(connection, demo.BUILD) == []
    state = playing.service.handler.states.current(demo.BUILD).state
    assert sum(task.state != "left_out" for task in state.all(Task)) == 86
    assert state.head > 400


def test_nobody_works_at_night(playing: Garage) -> None:
    """The story so far was on build days, at hours at which every adult of the crew can come; its last day is today."""
    people = [one.said for one in demo.crew().people if "minor" not in one.said]
    spans = [one["hours"]["sat"].split("-") for one in people]
    begins, ends = max(span[0] for span in spans), min(span[1] for span in spans)
    with playing.service.database.read() as connection:
        at = [json.loads(one.text)["at_ms"] / 1000 for one in ledger.entries(connection, demo.BUILD)]
    local = [datetime.fromtimestamp(one, ZoneInfo(demo.crew().build["time_zone"])) for one in at]
    before = [one for one in local if local[-1] - one > timedelta(days=1)]

    assert at == sorted(at)
    assert len(before) > 400
    assert {f"{one:%a}" for one in before} == {"Sat"}
    assert (begins, ends) == ("10:00", "16:00")
    assert min(f"{one:%H:%M}" for one in before) >= begins
    assert max(f"{one:%H:%M}" for one in before) <= ends
    assert all(local[-1] - one < timedelta(hours=4) for one in local[len(before) :])


def test_the_demo_stands_at_an_interesting_middle(playing: Garage) -> None:
    """A visitor finds work done and not done, a lift called, a check waiting, something loose, somebody stuck, somebody
    under the car: Bram, so that the battery waits (R27).
    """
    state = playing.service.handler.states.current(demo.BUILD).state
    tasks = list(state.all(Task))
    people = {one["name"].split()[0]: one["person"] for one in playing.phone().get("/api/demo/crew")}

    assert {"open", "taken", "closed"} <= {task.state for task in tasks}
    assert any(task.stuck for task in tasks)
    assert any(lift.state in ("called", "crewed") for lift in state.all(Lift))
    assert any(end.closed is None for end in state.all(LooseEnd))
    assert [under.id for under in state.all(Under)] == [people["Bram"]]
    assert any(group.check_asked_ms and group.countersign is None for group in state.all(Group))


def test_a_demo_that_is_there_is_not_played_again(playing: Garage) -> None:
    """Kept with --data, it goes on where it was."""
    before = playing.service.handler.states.current(demo.BUILD).head

    loaded = demo.load(playing.service, demo.crew())

    assert loaded.entries == before.number
    assert playing.service.handler.states.current(demo.BUILD).head == before


def test_every_one_of_the_crew_can_be_picked(playing: Garage) -> None:
    """R29: in the demo a visitor is whoever they pick, and sees that person's queue."""
    for shown in playing.phone().get("/api/demo/crew"):
        phone = playing.phone()
        phone.post("/api/demo/pick", {"person": shown["person"]}, status=200)

        assert phone.get(f"/api/builds/{demo.BUILD}/queue")["person"] == shown["person"]
