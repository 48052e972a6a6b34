"""Many at once, and two processes: one history, one winner, equal states."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import Any

import pytest

from support.service import BUILD, Service
from support.small_plan import load_small_plan
from yokemate.handle import Answer
from yokemate.rules.frame import State
from yokemate.rules.rows import Task
from yokemate.store.states import FRESH_S
from yokemate.store.verify import differences, verify

RACERS = 16


def at_once(acts: list[Callable[[], Answer]]) -> list[Answer]:
    """Release all at the same instant; every answer, in the order of the acts."""
    gate = threading.Barrier(len(acts))
    answers: dict[int, Answer] = {}

    def run(number: int) -> None:
        gate.wait()
        answers[number] = acts[number]()

    threads = [threading.Thread(target=run, args=(number,)) for number in range(len(acts))]
    for one in threads:
        one.start()
    for one in threads:
        one.join(60)
    return [answers[number] for number in range(len(acts))]


@pytest.fixture
def crowd(service: Service) -> Service:
    """Sixteen helpers who are all in, before one task."""
    for number in range(RACERS):
        service.person(f"racer{number}", pin=None)
        service.join(f"racer{number}", "ines")
        service.do(f"racer{number}", "crew.sign_in")
    load_small_plan(service)
    return service


def holds(service: Service) -> None:
    """The chain holds and the rows follow from it."""
    with service.database.read(steady=True) as connection:
        assert verify(connection, BUILD).problems == []
        assert differences(connection, BUILD) == []


def race(service: Service, task: str) -> list[Answer]:
    def taking(name: str) -> Callable[[], Answer]:
        return lambda: service.do(name, "task.take", task=task)

    return at_once([taking(f"racer{number}") for number in range(RACERS)])


def test_sixteen_take_at_once_and_exactly_one_has_it(crowd: Service) -> None:
    """R6: of those who take at the same instant exactly one has it, and each other one is told who."""
    answers = race(crowd, "T1")

    winners = [number for number, one in enumerate(answers) if one.status == "accepted"]
    losers = [one for one in answers if one.status == "refused"]
    assert len(winners) == 1
    assert {one.code for one in losers} == {"taken_by"}
    assert {one.params["holder_person"] for one in losers} == {f"person-racer{winners[0]}"}
    holds(crowd)


@pytest.mark.long
def test_a_hundred_races_have_a_hundred_winners(crowd: Service) -> None:
    """R6: exactly one wins, each time."""
    for _ in range(100):
        answers = race(crowd, "T1")
        winners = [number for number, one in enumerate(answers) if one.status == "accepted"]
        assert len(winners) == 1
        crowd.do(f"racer{winners[0]}", "task.give_back", task="T1", reason="time")
    holds(crowd)


def test_one_invite_scanned_by_many_lets_one_in(service: Service) -> None:
    """R29: an invite works once, also when eight scan it at the same instant."""
    service.do("ines", "crew.invite", invite="for-one", role="helper")
    names = [f"guest{number}" for number in range(8)]
    for name in names:
        service.person(name, pin=None)

    def joining(name: str) -> Callable[[], Answer]:
        return lambda: service.do(name, "crew.join", invite="for-one")

    answers = at_once([joining(name) for name in names])

    assert sorted(one.status for one in answers) == ["accepted"] + ["refused"] * 7
    assert {one.code for one in answers if one.code} == {"invite_used"}
    holds(service)


def test_the_same_command_sent_many_times_at_once_is_done_once(service: Service) -> None:
    """R3: a phone that sends again while the first is on its way gets the same answer each time."""
    envelope = service.envelope("crew.visitor_in", what="child")
    phone = service.phones["ines"]

    answers = at_once([lambda: service.handler.handle(BUILD, phone, envelope)] * 8)

    assert all(one == answers[0] for one in answers)
    assert answers[0].entries == (2, 2)
    holds(service)


def states_equal(one: Service, other: Service) -> None:
    """A reader on SQLite may be a quarter of a second behind another process; a decision never is."""
    time.sleep(FRESH_S)
    first, second = one.handler.states.current(BUILD), other.handler.states.current(BUILD)
    assert first is not None
    assert second is not None
    assert first.head == second.head
    assert as_plain(first.state) == as_plain(second.state)


def as_plain(state: State) -> dict[str, dict[str, Any]]:
    return {kind: dict(sorted(rows.items())) for kind, rows in state.rows.items() if rows}


def alternate(service: Service, count: int) -> None:
    """Two processes take turns over one build; each works from what the other left."""
    other = Service(service.url, service.clock, phones=service.phones)
    workers = [service, other]
    acts: list[tuple[str, dict[str, Any]]] = [
        ("task.take", {"task": "T1"}),
        ("task.tick", {"task": "T1", "steps": ["a"]}),
        ("task.stuck", {"task": "T1", "reason": "cold", "note_text": "too cold for sealant"}),
        ("task.go_on", {"task": "T1"}),
        ("task.give_back", {"task": "T1", "reason": "time"}),
        ("crew.visitor_in", {"what": "visitor"}),
        ("task.tick", {"task": "T9", "steps": ["a"]}),  # refused: no such task
    ]
    for number in range(count):
        kind, body = acts[number % len(acts)]
        answer = workers[number % 2].do("ines", kind, **body)
        assert answer.status == ("refused" if body.get("task") == "T9" else "accepted"), answer
        service.clock.wait(1)
    states_equal(service, other)
    fresh = Service(service.url, service.clock, phones=service.phones)
    states_equal(service, fresh)
    holds(service)
    other.close()
    fresh.close()


def test_two_processes_taking_turns_stay_equal(service: Service) -> None:
    """R2: a process that fell behind applies what it lacks and decides as the other would have."""
    load_small_plan(service)
    service.do("ines", "crew.sign_in")

    alternate(service, 35)


@pytest.mark.long
def test_two_processes_stay_equal_over_a_thousand_commands(service: Service) -> None:
    """R2: the same, for long."""
    load_small_plan(service)
    service.do("ines", "crew.sign_in")

    alternate(service, 1000)


def test_two_processes_racing_for_one_task_have_one_winner(crowd: Service) -> None:
    """R6: also when the racers talk to different processes of the service."""
    other = Service(crowd.url, crowd.clock, phones=crowd.phones)
    workers = [crowd, other]

    def taking(number: int) -> Callable[[], Answer]:
        return lambda: workers[number % 2].do(f"racer{number}", "task.take", task="T2")

    answers = at_once([taking(number) for number in range(RACERS)])

    assert [one.status for one in answers].count("accepted") == 1
    states_equal(crowd, other)
    loaded = other.handler.states.current(BUILD)
    assert loaded is not None
    assert loaded.state.get(Task, "T2").state == "taken"
    holds(crowd)
    other.close()
