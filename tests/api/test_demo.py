"""The demo: an invented crew in the middle of an invented build, brought there by commands alone."""

from __future__ import annotations

import pytest

from support.phones import Garage
from support.service import fresh_sqlite
from yokemate import demo
from yokemate.rules.rows import Group, Lift, LooseEnd, Task
from yokemate.store.verify import differences, verify


@pytest.fixture(scope="module")
def playing(sqlite_template, tmp_path_factory):
    crew = demo.crew()
    url = fresh_sqlite(sqlite_template, tmp_path_factory.mktemp("demo"))
    garage = Garage(url, mode="demo", demo_crew=tuple(one.shown() for one in crew.people))
    garage.loaded = demo.load(garage.service, crew)
    yield garage
    garage.close()


def test_the_demo_plays_and_its_rows_follow_from_its_record(playing):
    """R1, R2: no recorded command is refused any more, the chain holds, and replay gives the same rows."""
    with playing.service.database.read() as connection:
        assert verify(connection, demo.BUILD).holds
        assert differences(connection, demo.BUILD) == []
    state = playing.service.handler.states.current(demo.BUILD).state
    assert sum(task.state != "left_out" for task in state.all(Task)) == 86
    assert playing.loaded.entries > 400


def test_the_demo_stands_at_an_interesting_middle(playing):
    """A visitor finds work done and not done, a lift called, a check waiting, something loose, somebody stuck."""
    state = playing.service.handler.states.current(demo.BUILD).state
    tasks = list(state.all(Task))

    assert {"open", "taken", "closed"} <= {task.state for task in tasks}
    assert any(task.stuck for task in tasks)
    assert any(lift.state in ("called", "crewed") for lift in state.all(Lift))
    assert any(end.closed is None for end in state.all(LooseEnd))
    assert any(group.check_asked_ms and group.countersign is None for group in state.all(Group))


def test_a_demo_that_is_there_is_not_played_again(playing):
    """Kept with --data, it goes on where it was."""
    again = demo.load(playing.service, demo.crew())

    assert again == playing.loaded


def test_every_one_of_the_crew_can_be_picked(playing):
    """R29: in the demo a visitor is whoever they pick, and sees that person's queue."""
    for shown in playing.phone().get("/api/demo/crew"):
        phone = playing.phone()
        phone.post("/api/demo/pick", {"person": shown["person"]}, status=200)

        assert phone.get(f"/api/builds/{demo.BUILD}/queue")["person"] == shown["person"]
