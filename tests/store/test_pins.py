"""PINs: five tries, then it waits, longer each time; counted outside the ledger."""

from __future__ import annotations

import hashlib
import threading

import argon2
import pytest
from sqlalchemy import text

from support.service import SECRET, Service
from yokemate.store.pins import Pins

RIGHT, WRONG = "246810", "111111"


def tries(service: Service, pin: str, device: str = "phone") -> tuple[str, int]:
    found = service.handler.pins.try_("person-ines", device, pin, service.clock())
    return found.is_, found.left


def test_five_wrong_then_it_waits_even_for_the_right_one(service: Service) -> None:
    """R29: a PIN is tried five times, then waits; the right one does not open it meanwhile."""
    answers = [tries(service, WRONG) for _ in range(5)]

    assert answers == [("wrong", 4), ("wrong", 3), ("wrong", 2), ("wrong", 1), ("wrong", 0)]
    assert tries(service, RIGHT) == ("waits", 0)
    service.clock.wait(59)
    assert tries(service, RIGHT) == ("waits", 0)
    service.clock.wait(1)
    assert tries(service, RIGHT) == ("right", 5)


def test_each_wait_is_longer(service: Service) -> None:
    """R29: the wait doubles with each wrong one after it, up to an hour."""
    for _ in range(5):
        tries(service, WRONG)
    waits = []
    for _ in range(8):
        until = service.handler.pins.try_("person-ines", "phone", RIGHT, service.clock()).until_ms
        waits.append((until - service.clock()) // 1000)
        service.clock.now_ms = until
        tries(service, WRONG)

    assert waits == [60, 120, 240, 480, 960, 1920, 3600, 3600]


def test_tries_are_counted_per_person_and_device(service: Service) -> None:
    """R29: somebody guessing on one device does not lock the person out of their own phone."""
    for _ in range(6):
        tries(service, WRONG, "tablet")

    assert tries(service, RIGHT, "phone") == ("right", 5)
    assert tries(service, RIGHT, "tablet") == ("waits", 0)


def test_guesses_sent_at_once_are_all_counted(service: Service) -> None:
    """R29: sixteen guesses at the same instant are sixteen tries, not one: at most five are looked at."""
    found: list[str] = []
    gate = threading.Barrier(16)

    def guess() -> None:
        gate.wait()
        found.append(tries(service, WRONG)[0])

    threads = [threading.Thread(target=guess) for _ in range(16)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()

    assert sorted(found) == ["waits"] * 11 + ["wrong"] * 5


def test_wrong_pins_of_a_refused_act_count_and_leave_no_entry(service: Service) -> None:
    """R29: tries are counted outside the ledger, also for acts that are refused anyhow."""
    service.join("bram", "ines")
    for _ in range(6):
        answer = service.do("bram", "torque.countersign", checks=[], readings_digests={}, seen=3, pin=WRONG)
    with service.database.read() as connection:
        entries = connection.execute(text("SELECT count(*) FROM ledger")).scalar()

    assert (answer.status, answer.code) == ("refused", "pin_waits")
    assert entries == 3


def test_a_pin_is_kept_only_as_argon2id_over_a_keyed_digest(service: Service) -> None:
    """R29: 19 MiB, two rounds; without the key outside the database the hash can't be searched."""
    pins = Pins(service.database, SECRET)
    kept = pins.hashed(RIGHT)
    found = argon2.extract_parameters(kept)

    assert (found.type, found.memory_cost, found.time_cost) == (argon2.Type.ID, 19 * 1024, 2)
    with pytest.raises(argon2.exceptions.VerifyMismatchError):
        argon2.PasswordHasher().verify(kept, RIGHT)
    with pytest.raises(argon2.exceptions.VerifyMismatchError):
        argon2.PasswordHasher().verify(kept, hashlib.sha256(RIGHT.encode()).digest())
