"""Commands by their own routes: outcomes, receipts, preconditions, and a service that fails honestly."""

from __future__ import annotations

import pytest

from support.phones import PINS, Garage
from support.service import command_id
from support.small_plan import SMALL
from yokemate.planfile.write import write
from yokemate.routes.problems import render
from yokemate.store import receipts


@pytest.fixture
def planned(garage: Garage) -> Garage:
    """The small plan is loaded and everybody is in."""
    ines = garage.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}}, 200)
    for name in ("ines", "bram", "kofi"):
        garage.phones[name].act("/sign-in")
    return garage


def test_a_command_answers_what_became_of_it(planned: Garage) -> None:
    """R3: accepted, with the numbers of its entries; asking again under the same id gets the same answer."""
    bram = planned.phones["bram"]
    around = {"id": command_id()}
    head = bram.head()

    first = bram.act("/tasks/T1/take", around=around)
    again = bram.act("/tasks/T1/take", around=around)

    assert first["status"] == "accepted"
    assert first["entries"][0] == head + 1
    assert again == first
    assert bram.get(f"{bram.home}/outcomes/{around['id']}") == first


def test_a_refusal_is_a_problem_with_a_way_on(planned: Garage) -> None:
    """R4: a problem (RFC 9457) in plain words, others by name, with the rule and the way on."""
    bram, kofi = planned.phones["bram"], planned.phones["kofi"]
    bram.act("/tasks/T1/take")
    around = {"id": command_id()}

    answer = kofi.ask("POST", f"{kofi.home}/tasks/T1/take", {"body": {}, **around})

    said = answer.json()
    assert (answer.status_code, answer.headers["content-type"]) == (409, "application/problem+json")
    assert (said["code"], said["rule"], said["status"]) == ("taken_by", "R6", 409)
    assert "Bram" in said["detail"]
    assert said["params"]["holder_person"] == bram.person
    assert said["way_on"]
    kept = kofi.get(f"{kofi.home}/outcomes/{around['id']}")
    assert (kept["status"], kept["problem"]) == ("refused", said)


def test_the_same_id_with_another_body_is_an_error(planned: Garage) -> None:
    """R3: 422, and nothing is done."""
    bram = planned.phones["bram"]
    around = {"id": command_id()}
    bram.act("/tasks/T1/take", around=around)

    assert bram.act("/tasks/T2/take", 422, around=around)["code"] == "same_id"


def test_an_outcome_nobody_ever_saw(planned: Garage) -> None:
    """R3: a command that never arrived says so, and so does one of another device."""
    bram, kofi = planned.phones["bram"], planned.phones["kofi"]
    around = {"id": command_id()}
    bram.act("/tasks/T1/take", around=around)

    assert kofi.get(f"{kofi.home}/outcomes/{around['id']}", 404)["code"] == "never_seen"
    assert bram.get(f"{bram.home}/outcomes/{command_id()}", 404)["code"] == "never_seen"


@pytest.mark.parametrize("how", ["seen", "If-Match"])
def test_what_was_on_the_screen_is_a_precondition(planned: Garage, how: str) -> None:
    """R32: signatures and edits say what they were looking at, in the body or as If-Match."""
    ines = planned.phones["ines"]
    path = f"{ines.home}/tasks/T3/release"
    body = {"body": {"reason_text": "the frame is already here"}}

    without = ines.ask("POST", path, body)
    head = ines.head()
    given = (body | {"seen": head}, {}) if how == "seen" else (body, {"If-Match": f'"{head}"'})
    with_it = ines.ask("POST", path, given[0], headers=given[1])

    assert (without.status_code, without.json()["code"]) == (428, "seen_needed")
    assert with_it.json()["status"] == "accepted"


def test_a_failing_commit_answers_5xx_and_the_next_command_works(
    planned: Garage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """R4: never 200 for what is not on the disk; nothing of it is left in memory."""
    bram, kofi = planned.phones["bram"], planned.phones["kofi"]
    head = bram.head()
    with monkeypatch.context() as broken:
        broken.setattr(receipts, "keep", _no_disk)
        failed = bram.ask("POST", f"{bram.home}/tasks/T1/take", {"body": {}})
        synced = bram.ask(
            "POST",
            f"{bram.home}/sync",
            {"cursor": None, "commands": [{"id": command_id(), "kind": "task.take", "body": {"task": "T1"}}]},
        )

    assert (failed.status_code, failed.json()["code"]) == (500, "fault")
    assert synced.status_code == 500
    assert bram.head() == head
    assert kofi.get(f"{kofi.home}/tasks/T1/view")["card"]["state"] == "ready"
    assert kofi.act("/tasks/T1/take")["status"] == "accepted"


def test_r8_whom_to_ask_is_said_also_where_nobody_is(one: Garage) -> None:
    """R8: two who could take it by name; nobody: the lead."""
    crew = [one.phones[name].person for name in ("bram", "ines")]
    for people, asked in ((crew, "Ask Bram and Ines"), ([], "Ask the lead")):
        said = render(one.service, "minor_needs_adult", {"ask_people": people}, build=one.build)
        assert said.way_on == f"{asked} to take it, then join them."


def test_a_pin_is_nowhere_in_what_is_kept(planned: Garage) -> None:
    """R29: a PIN travels beside a command and is in no entry, receipt or row."""
    ines = planned.phones["ines"]
    ines.act("/tasks/T1/sign-hold", 409, around={"seen": 1, "pin": PINS["ines"]}, step="a")

    with planned.service.database.read() as connection:
        kept = [
            str(tuple(row))
            for table in ("ledger", "receipts", "people", "pin_tries")
            for row in connection.exec_driver_sql(f"SELECT * FROM {table}")
        ]
    assert kept
    assert not any(PINS["ines"] in one for one in kept)


def _no_disk(*_args: object) -> None:
    raise OSError("disk full")
