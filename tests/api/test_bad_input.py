"""Bad input gets a clear problem that names the field and the remedy, and changes nothing (R32)."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from api.conftest import crew
from support.phones import Garage, item
from support.service import command_id, fresh_sqlite
from support.small_plan import SMALL
from yokemate.planfile.write import write

JSON = {"Content-Type": "application/json"}


@dataclass(frozen=True)
class Bad:
    """One bad request of Bram's, and what it is answered. `{home}` is the build."""

    path: str
    body: Any
    code: str
    status: int
    names: str | None = None
    method: str = "POST"
    headers: dict[str, str] = dataclasses.field(default_factory=dict)


BIG = "x" * (2048 * 1024 + 1)
READING = {"pass_no": 1, "wrench": "W1", "set_value": "9", "unit": "n_m", "bolts": [{"n": 1}]}
LOAD = {"mass_kg": "80", "cg_x_mm": "500", "cg_y_mm": "0", "how_known_text": "two scales"}
PHOTO = "{home}/photos/" + "0" * 64
CHECKED = {"kind": "house_check", "good": True, "checked_ms": -62_135_596_800_001, "until_ms": 100}
TAKE = "{home}/tasks/T1/take"
CASES = {
    "malformed JSON": Bad(TAKE, b'{"body": {', "malformed", 400),
    "JSON that is no object": Bad(TAKE, b"[1, 2]", "bad_input", 422, "body"),
    "not UTF-8": Bad(TAKE, b'{"body": "\xff"}', "malformed", 400),
    "nothing where something is needed": Bad("{home}/notes", {}, "bad_input", 422, "body"),
    "a missing field": Bad("{home}/notes", {"body": {"about_kind": "task"}}, "bad_input", 422, "about"),
    "an unknown field": Bad(TAKE, {"body": {}, "hurry": True}, "bad_input", 422, "hurry"),
    "an unknown field of the command": Bad("{home}/notes", {"body": {"about_kind": "task", "about": "T1", "x": 1}}, "bad_input", 422, "x"),
    "a word where one of a list is wanted": Bad("{home}/visits", {"body": {"what": "dog"}}, "bad_input", 422, "what"),
    "a wrong unit": Bad("{home}/groups/G1/readings", {"body": READING | {"unit": "Nm"}}, "bad_input", 422, "unit"),
    "no number": Bad("{home}/tasks/T1/measure", {"body": {"step": "a", "value": "about 12", "unit": "mm"}}, "bad_input", 422, "value"),
    "an unknown task": Bad("{home}/tasks/T99/take", {"body": {}}, "unknown", 404),
    "an unknown person": Bad("{home}/members/nobody/leave", {"body": {}}, "role", 403),
    "an id that is none": Bad("{home}/tasks/T 1;--/take", {"body": {}}, "bad_input", 422, "task"),
    "an id too long": Bad("{home}/tasks/" + "T" * 81 + "/take", {"body": {}}, "bad_input", 422, "task"),
    "a command id that is none": Bad(TAKE, {"id": "7", "body": {}}, "bad_input", 422, "id"),
    "a moment before time": Bad(TAKE, {"device_ms": -1, "body": {}}, "bad_input", 422, "device_ms"),
    "a moment beyond exact numbers": Bad(TAKE, {"device_ms": 2**53, "body": {}}, "bad_input", 422, "device_ms"),
    "a moment beyond every calendar": Bad(TAKE, {"device_ms": 253_402_300_800_000, "body": {}}, "bad_input", 422, "device_ms"),
    "a check that no calendar holds": Bad("{home}/torque-wrenches/W1/checks", {"body": CHECKED}, "bad_input", 422, "checked_ms"),
    "an entry beyond exact numbers": Bad("{home}/record?from=" + "9" * 23, None, "bad_input", 422, "from", "GET"),
    "a number that is not exact": Bad("{home}/groups/G1/run-in", {"body": {"bolts": [2**60], "how": "snug"}}, "bad_input", 422, "bolts.1"),
    "a character that is no text": Bad("{home}/snags", {"body": {"what_text": "a\u0000b"}}, "bad_input", 422, "what_text"),
    "half a character": Bad("{home}/snags", b'{"body": {"what_text": "\\ud800"}}', "bad_input", 422, "what_text"),
    "words without end": Bad("{home}/snags", {"body": {"what_text": "x" * 2001}}, "bad_input", 422, "what_text"),
    "a foreign build": Bad("/api/builds/nowhere/tasks/T1/take", {"body": {}}, "no_such_build", 404),
    "oversize, said": Bad(TAKE, BIG.encode(), "too_big", 413),
    "a wrong role": Bad("{home}/lifts/L1/call", {"body": {"when_ms": 1}}, "role", 403),
    "a bad PIN": Bad("{home}/tasks/T1/sign-hold", {"seen": 1, "pin": "000000", "body": {"step": "a"}}, "pin_wrong", 403),
    "no PIN": Bad("{home}/tasks/T1/sign-hold", {"seen": 1, "body": {"step": "a"}}, "pin_needed", 403),
    "a PIN without end": Bad("{home}/tasks/T1/sign-hold", {"seen": 1, "pin": "0" * 129, "body": {"step": "a"}}, "bad_input", 422, "pin"),
    "no invite": Bad("/api/join", {"code": "nonsense", "name": "Eve", "pin": "246810"}, "no_such_invite", 404),
    "no name": Bad("/api/join", {"code": "nonsense", "name": " ", "pin": "246810"}, "bad_input", 422, "name"),
    "a name that nobody can read": Bad("/api/join", {"code": "nonsense", "name": "\u200b", "pin": "246810"}, "bad_input", 422, "name"),
    "a name that reads backwards": Bad("/api/join", {"code": "nonsense", "name": "V\u202eera", "pin": "246810"}, "bad_input", 422, "name"),
    "a limit that is no number": Bad("/api/me/private", {"limit_kg": "a lot"}, "bad_input", 422, "limit_kg", "PUT"),
    "a guideline that nobody printed": Bad("/api/me/private", {"guideline_kg": 30}, "bad_input", 422, "guideline_kg", "PUT"),
    "a time zone that is none": Bad("/api/builds", {"build_name": "x", "time_zone": "Mars/Olympus"}, "bad_input", 422, "time_zone"),
    "an If-Match that is no head": Bad(TAKE, {"body": {}}, "bad_input", 422, "If-Match", headers={"If-Match": '"abc"'}),
    "a cursor that is none": Bad("{home}/sync", {"cursor": {"number": -1, "digest": ""}}, "bad_input", 422, "cursor.number"),
    "an outbox without end": Bad("{home}/sync", {"commands": [0] * 201}, "bad_input", 422, "commands"),
    "a photo that is not the one named": Bad(PHOTO, b"\xff\xd8\xff", "photo_differs", 422, None, "PUT", {"Content-Type": "image/jpeg"}),
    "a photo that is none": Bad(PHOTO, b"GIF89a", "not_json", 415, None, "PUT", {"Content-Type": "image/gif"}),
    "a note with nothing in it": Bad("{home}/notes", {"body": {"about_kind": "task", "about": "T1"}}, "bad_input", 422, "text"),
    "how a load was found, unsaid": Bad("{home}/lifts/L1/weigh", {"body": LOAD | {"how_known_text": ""}}, "bad_input", 422, "how_known_text"),
    "how a load was found, without end": Bad(
        "{home}/lifts/L1/weigh", {"body": LOAD | {"how_known_text": "x" * 2001}}, "bad_input", 422, "how_known_text"
    ),
    "a mass that is no number": Bad("{home}/lifts/L1/weigh", {"body": LOAD | {"mass_kg": "about 80"}}, "bad_input", 422, "mass_kg"),
    "a tag on nothing": Bad("{home}/tags", {"body": {"what": "other"}}, "bad_input", 422, "what_text"),
    "a tag without end": Bad("{home}/tags", {"body": {"what": "other", "what_text": "x" * 5000}}, "bad_input", 422, "what_text"),
    "a yes that is a word": Bad("{home}/engine", {"body": {"running": "yes"}}, "bad_input", 422, "running"),
    "a route that is none": Bad("{home}/tasks/T1/paint", {"body": {}}, "not_found", 404),
    "a method that is none": Bad("{home}/people", {}, "no_method", 405),
    "a record from nowhere": Bad("{home}/record?from=0", None, "bad_input", 422, "from", "GET"),
    "a payload that is none": Bad("{home}/payloads/xyz", None, "bad_input", 422, "payload", "GET"),
    "a plan that is none": Bad("{home}/plan", {"seen": 1, "text": "}{", "options": {}}, "plan_faulty", 422),
}  # fmt: skip


@pytest.fixture(scope="module")
def garage(tmp_path_factory: pytest.TempPathFactory, sqlite_template: Path) -> Garage:
    """One crew for the whole table: nothing in it may change anything."""
    made = crew(Garage(fresh_sqlite(sqlite_template, tmp_path_factory.mktemp("bad"))))
    ines = made.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}}, 200)
    return made


def kept(garage: Garage) -> dict[str, list[tuple[object, ...]]]:
    """Everything in the database but receipts and counted tries, which are there to remember refusals."""
    from sqlalchemy import inspect

    tables = set(inspect(garage.service.database.engine).get_table_names()) - {"receipts", "pin_tries"}
    with garage.service.database.read() as connection:
        return {
            name: [tuple(row) for row in connection.exec_driver_sql(f"SELECT * FROM {name}")] for name in sorted(tables)
        }  # fmt: skip


@pytest.mark.parametrize("bad", CASES.values(), ids=CASES.keys())
def test_bad_input_is_named_and_changes_nothing(garage: Garage, bad: Bad) -> None:
    """R32: a problem with code, status, field and a way on; the database stays as it was."""
    bram = garage.phones["bram"]
    before = kept(garage)
    content = (
        {"content": bad.body}
        if isinstance(bad.body, bytes)
        else {"json": bad.body}
        if bad.body is not None
        else {}
    )

    answer = bram.http.request(
        bad.method, bad.path.replace("{home}", bram.home), headers={**JSON, **bad.headers}, **content
    )  # fmt: skip

    said = answer.json()
    assert (said["code"], said["status"], answer.status_code) == (bad.code, bad.status, bad.status), said
    assert answer.headers["content-type"] == "application/problem+json"
    assert said["field"] == bad.names
    assert said["detail"]
    assert "…" not in said["detail"] + said["way_on"], "a sentence lacks one of its words"
    assert said["way_on"]
    assert not any(
        word in said["detail"] + said["way_on"] for word in ("pattern", "input should", "string should")
    )
    assert kept(garage) == before


SAID = {
    "no number": ("Value: this is no number.", "Type a number, such as 92 or 92,5."),
    "a word where one of a list is wanted": ("What: this is none of the choices.", "Choose 'visitor' or 'child'."),
    "words without end": ("What: this is longer than 2000 characters.", "Say it in fewer words."),
    "how a load was found, unsaid": ("How known: this is empty.", "Fill it in."),
    "a moment before time": ("Device ms: this is below 0.", "Give 0 or more."),
    "an id that is none": ("Task: this is no id.", "Use letters, digits and _ . : - only, no more than 80."),
    "a command id that is none": ("Id: this is no UUID.", "Send one such as 0199a7c2-5b1e-7d3a-9c40-3f2e1d0c9b8a."),
    "a limit that is no number": ("Limit kg: this is no number of kg.", "Type a number, such as 15 or 12.5."),
    "a time zone that is none": ("Time zone: this is no time zone.", "Give one such as Europe/London."),
    "a yes that is a word": ("Running: this is neither yes nor no.", "Send true or false."),
    "an outbox without end": ("Commands: these are more than 200.", "Send fewer at a time."),
    "a missing field": ("About: this is missing.", "Give it."),
}  # fmt: skip


@pytest.mark.parametrize("name", SAID)
def test_bad_input_is_answered_in_plain_words(garage: Garage, name: str) -> None:
    """R32: what is wrong and how it looks right, in words for whoever typed it."""
    bad, bram = CASES[name], garage.phones["bram"]

    said = bram.http.request(bad.method, bad.path.replace("{home}", bram.home), json=bad.body).json()

    assert (said["detail"], said["way_on"]) == SAID[name]


def test_one_bad_figure_in_an_outbox_is_answered_in_the_same_words(garage: Garage) -> None:
    """R32: a phone's batch is no other door: nothing breaks down, and what is behind it is judged."""
    wrong = item("lift.weigh", lift="L1", **LOAD | {"mass_kg": "about 80"})
    empty = item(
        "lift.weigh",
        lift="L1",
        **{name: value for name, value in LOAD.items() if name != "how_known_text"},
        how_known="",
    )

    outcomes = garage.phones["bram"].sync(wrong, empty, item("crew.sign_in"))["outcomes"]

    assert [one["status"] for one in outcomes] == ["refused", "refused", "accepted"]
    assert [one["problem"]["detail"] for one in outcomes[:2]] == [
        "Mass kg: this is no number.",
        "How known: this is empty.",
    ]


def test_oversize_that_does_not_say_so_is_cut_off(garage: Garage) -> None:
    """R32: a body sent in pieces without its length is refused once it is too large."""
    bram = garage.phones["bram"]

    def pieces() -> Any:
        yield b'{"body": {"what_text": "'
        for _ in range(40):
            yield b"x" * 65_536

    answer = bram.http.post(f"{bram.home}/snags", content=pieces(), headers=JSON)

    assert (answer.status_code, answer.json()["code"]) == (413, "too_big")
    assert answer.json()["detail"] == "This is larger than 2048 KiB."


def test_the_service_itself_breaking_down_says_nothing_about_itself(
    garage: Garage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """R32: a fault of the program is a problem like any other and shows no trace of the program."""
    bram = garage.phones["bram"]
    monkeypatch.setattr("yokemate.routes.crew.initials", lambda name: 1 // 0)

    answer = bram.ask("GET", f"{bram.home}/people")

    assert (answer.status_code, answer.json()["code"]) == (500, "fault")
    assert "ZeroDivision" not in answer.text


def test_a_command_id_is_not_made_up_by_guessing_another_device(garage: Garage) -> None:
    """R3: ids belong to the device that made them: the same id from another phone is another command."""
    id = command_id()
    bram, kofi = garage.phones["bram"], garage.phones["kofi"]

    first = bram.act("/sign-in", around={"id": id})
    second = kofi.act("/sign-in", around={"id": id})

    assert first["entries"] != second["entries"]
