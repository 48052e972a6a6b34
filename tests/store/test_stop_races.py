"""*Lift* and STOP released at the same instant: the load ends held, or it never went up (R18, R19)."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator

import pytest

from rules.world import lift, plan, task
from support.service import BUILD, Service
from yokemate.handle import Answer
from yokemate.rules.rows import Lift
from yokemate.store import ledger
from yokemate.store.verify import differences, verify

CREW = {"front": "ines", "rear": "kofi", "caller": "bram"}
LIFTS = 200


@pytest.fixture
def yard(service: Service) -> Iterator[list[Service]]:
    """Two processes of the service, a plan of light loads, three people whose phones are alive."""
    service.join("bram", "ines", role="builder")
    service.join("kofi", "ines")
    other = Service(service.url, service.clock, phones=service.phones)
    for one in (service, other):
        one.handler.alive = lambda build: frozenset(actor.person for actor in service.phones.values())
    loads = [lift(f"L{n}", mass_kg="20") for n in range(LIFTS)]
    made = plan(task("T1"), lifts=loads).model_dump(mode="json")
    assert service.do("ines", "plan.load", seen=head(service), plan=made, options={}).status == "accepted"
    yield [service, other]
    other.close()


def head(service: Service) -> int:
    loaded = service.handler.states.current(BUILD)
    assert loaded is not None
    return loaded.head.number


def state_of(service: Service, id: str) -> str:
    """As the ledger has it, not as some process remembers it."""
    with service.database.read() as connection:
        found = ledger.head_and_stamp(connection, BUILD)
        assert found is not None
        loaded = service.handler.states.under_lock(connection, BUILD, *found)
    return loaded.state.get(Lift, id).state


def crewed(service: Service, id: str) -> None:
    service.do("ines", "lift.call", lift=id, when_ms=service.clock())
    for place, who in CREW.items():
        assert service.do(who, "lift.take_place", lift=id, place=place).status == "accepted"
        service.do(who, "lift.ready", lift=id)


def roll(service: Service, id: str) -> None:
    service.clock.wait(1)
    for place in ("front", "rear"):
        assert service.do("bram", "lift.roll", lift=id, place=place).status == "accepted"
    service.do("bram", "lift.clear_floor", lift=id, children_out=True, nobody_beneath=True)


def together(*acts: Callable[[], Answer]) -> list[Answer]:
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


def race(yard: list[Service], id: str, word: str, number: int) -> bool:
    """Who wins differs; what it ends in does not. True when the load had gone up before it was stopped."""
    first, second = yard if number % 2 else reversed(yard)
    said, stop = together(
        lambda: first.do("bram", word, lift=id), lambda: second.do("kofi", "lift.stop", lift=id)
    )
    assert stop.status == "accepted", "STOP was refused"
    went = said.status == "accepted"
    if went:
        assert said.entries is not None and stop.entries is not None
        assert said.entries[1] < stop.entries[0], "the word came after STOP and was let through"
    else:
        assert said.code in ("roll_missing", "floor_not_clear", "not_in_state"), said
    after = state_of(first, id)
    assert after == ("held" if went or word == "lift.go_on" else "crewed")
    return went


def races(yard: list[Service], rounds: int) -> None:
    """Each load is raced for until it is up and held; then going on is raced for as well."""
    service, done, number = yard[0], 0, 0
    ends: set[bool] = set()
    while done < rounds:
        id = f"L{number}"
        crewed(service, id)
        up = False
        while not up and done < rounds:
            roll(service, id)
            up = race(yard, id, "lift.lift", done)
            ends.add(up)
            done += 1
        if up:
            roll(service, id)
            race(yard, id, "lift.go_on", done)
        number += 1
    assert ends == {True, False}, "the same one always came first: that was no race"
    with service.database.read(steady=True) as connection:
        assert verify(connection, BUILD).problems == []
        assert differences(connection, BUILD) == []


def test_lift_against_stop_ends_held_or_never_lifting(yard: list[Service]) -> None:
    """R18, R19: 30 rounds, the two talking to different processes of the service."""
    races(yard, 30)


@pytest.mark.long
def test_lift_against_stop_for_long(yard: list[Service]) -> None:
    """R18, R19: 200 rounds."""
    races(yard, 200)
