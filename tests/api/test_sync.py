"""One exchange: outcomes, rows since the cursor, and only what this person may see."""

from __future__ import annotations

import json
from typing import Any

import pytest

from api.test_limits_stay_private import PLAN as WITH_LIFT
from support.phones import PINS, Garage, item
from support.pictures import name_of, picture
from support.small_plan import SMALL
from yokemate.planfile.write import write


def rows_of(answer: Any, kind: str) -> list[Any]:
    return [one for one in answer["rows"] if one["kind"] == kind]


@pytest.fixture
def planned(garage: Garage) -> Garage:
    ines = garage.phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}}, 200)
    for name in ("ines", "bram", "kofi"):
        garage.phones[name].act("/sign-in")
    return garage


def test_the_first_exchange_brings_all_and_the_next_only_what_changed(planned: Garage) -> None:
    """R31: a phone with nothing gets every row; from then on the rows changed since its cursor."""
    bram, kofi = planned.phones["bram"], planned.phones["kofi"]
    all_ = bram.sync()
    same = bram.sync(cursor=all_["head"])
    kofi.act("/tasks/T1/take")
    more = bram.sync(cursor=all_["head"])

    assert (all_["reset"], all_["forked"]) == (True, False)
    assert len(rows_of(all_, "task")) == 3
    assert (same["rows"], same["reset"], same["head"]) == ([], False, all_["head"])
    assert [(one["kind"], one["id"], one["body"]["holder"]) for one in more["rows"]] == [
        ("task", "T1", kofi.person)
    ]
    assert more["head"]["number"] == more["rows"][0]["changed_at"]


def test_a_row_that_is_gone_is_said_to_be_gone(planned: Garage) -> None:
    """R31: a phone keeps no ghosts: a row that went comes once more, without a body."""
    bram = planned.phones["bram"]
    bram.act("/under")
    there = bram.sync()
    bram.act("/out")

    gone = bram.sync(cursor=there["head"])

    assert [one["body"]["id"] for one in rows_of(there, "under")] == [bram.person]
    assert [(one["id"], one["body"]) for one in rows_of(gone, "under")] == [(bram.person, None)]
    assert rows_of(bram.sync(), "under") == []


@pytest.mark.parametrize("cursor", [{"number": 4, "digest": "0" * 64}, {"number": 9999, "digest": "0" * 64}])
def test_a_head_this_service_does_not_know(planned: Garage, cursor: dict[str, Any]) -> None:
    """R1, R3: restored from a backup, or a rewritten end: the phone is told and gets all rows anew. What it hands over is
    not judged yet: it builds on what was lost, which the phone offers first."""
    bram = planned.phones["bram"]
    took, ticked = item("task.take", task="T1"), item("task.tick", task="T1", steps=["a"])
    answer = bram.sync(ticked, cursor=cursor)

    assert (answer["forked"], answer["reset"], answer["outcomes"]) == (True, True, [])
    assert len(rows_of(answer, "task")) == 3
    again = bram.sync(took, ticked, cursor=answer["head"])
    assert [one["status"] for one in again["outcomes"]] == ["accepted"] * 2


def test_a_phone_that_was_let_in_again_says_what_it_knew(planned: Garage) -> None:
    """R1, R3: put back to before a phone was enrolled, the service puts it out, and its rows go with its cursor. Let in
    again it has nothing, and still knows which head it had heard of: it is told, and nothing is judged before it offered
    what it had. A head that this service has brings all rows, and what was handed over is judged."""
    bram = planned.phones["bram"]
    lost, known = {"number": 9999, "digest": "0" * 64}, bram.sync()["head"]
    took = item("task.take", task="T1")

    answer = bram.post(f"{bram.home}/sync", {"cursor": None, "knew": lost, "commands": [took]}, 200)

    assert (answer["forked"], answer["reset"], answer["outcomes"]) == (True, True, [])
    again = bram.post(f"{bram.home}/sync", {"cursor": None, "knew": known, "commands": [took]}, 200)
    assert (again["forked"], again["reset"]) == (False, True)
    assert [one["status"] for one in again["outcomes"]] == ["accepted"]
    assert len(rows_of(again, "task")) == 3


def test_what_a_newer_app_says_beside_its_commands_holds_up_none_of_them(planned: Garage) -> None:
    """R3: an exchange with a field this service does not know is an exchange; a command it does not know says so."""
    bram = planned.phones["bram"]
    newer = item("task.weigh", task="T1")
    body = {"cursor": None, "commands": [item("task.take", task="T1"), newer], "battery_percent": 12}

    answer = bram.post(f"{bram.home}/sync", body, 200)

    assert [one["status"] for one in answer["outcomes"]] == ["accepted", "refused"]
    problem = answer["outcomes"][1]["problem"]
    assert (problem["code"], problem["status"]) == ("other_version", 501)
    assert "the command task.weigh" in problem["detail"]
    assert bram.get(f"{bram.home}/outcomes/{newer['id']}", 404)


def test_r21_the_rows_go_packed_and_what_became_of_commands_does_not(planned: Garage) -> None:
    """A phone's first exchange is large. What can rest on a private limit, an outcome, has the length that it has."""
    bram = planned.phones["bram"]

    def exchange(*commands: Any, **headers: str) -> Any:
        body = {"cursor": None, "commands": list(commands)}
        return bram.ask("POST", f"{bram.home}/sync", body, headers=headers)

    plain = exchange(**{"Accept-Encoding": "identity"})
    packed = exchange(**{"Accept-Encoding": "gzip"})
    said = exchange(item("task.take", task="T1"), **{"Accept-Encoding": "gzip"})

    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert int(packed.headers["content-length"]) < len(plain.content) / 2
    assert packed.json()["rows"] == plain.json()["rows"]
    assert "content-encoding" not in said.headers
    assert said.json()["outcomes"][0]["status"] == "accepted"


def test_outcomes_come_in_order_with_the_rows_they_made(planned: Garage) -> None:
    """R3: one outcome for each command handed over; the rows of the same answer hold what they did."""
    bram = planned.phones["bram"]
    cursor = bram.sync()["head"]

    answer = bram.sync(
        item("task.take", task="T1"), {"nonsense": 1}, item("task.take", task="T9"), cursor=cursor
    )

    assert [one["status"] for one in answer["outcomes"]] == ["accepted", "refused", "refused"]
    assert [one["problem"] and one["problem"]["code"] for one in answer["outcomes"]] == [
        None,
        "bad_input",
        "unknown",
    ]
    assert rows_of(answer, "task")[0]["body"]["holder"] == bram.person


def test_a_changed_role_starts_the_mirror_anew(planned: Garage) -> None:
    """R31: who becomes lead gets what only leads see; who is no longer lead loses it."""
    ines, kofi = planned.phones["ines"], planned.phones["kofi"]
    before = kofi.sync()
    ines.act(f"/members/{kofi.person}/change", around={"seen": ines.head()}, role="lead")
    as_lead = kofi.sync(cursor=before["head"])
    ines.act(f"/members/{kofi.person}/change", around={"seen": ines.head()}, role="helper")
    as_helper = kofi.sync(cursor=as_lead["head"])

    assert rows_of(before, "invite") == []
    assert as_lead["reset"] is True
    assert len(rows_of(as_lead, "invite")) == 3
    assert as_helper["reset"] is True
    assert rows_of(as_helper, "invite") == []


def evidence_seen_by(garage: Garage, name: str) -> int:
    return len(rows_of(garage.phones[name].sync(), "evidence"))


def test_evidence_is_for_its_owner_and_the_lead(planned: Garage) -> None:
    """R31: what somebody typed with a refused ask is nobody else's to read."""
    planned.phones["ines"].act("/tasks/T1/take")
    planned.phones["kofi"].sync(item("task.take", task="T1"))

    assert {name: evidence_seen_by(planned, name) for name in ("ines", "bram", "kofi", "vera")} == {
        "ines": 1, "bram": 0, "kofi": 1, "vera": 0,
    }  # fmt: skip


def test_what_was_typed_with_a_refused_ask_is_open_to_its_owner_and_the_lead(planned: Garage) -> None:
    """R31: neither the record nor payloads nor photos show others what Kofi typed and was refused. R1: that there is an
    entry, which number and digest it has and of what kind it is stays everybody's to see."""
    kofi, body = planned.phones["kofi"], picture()
    kofi.http.put(f"{kofi.home}/photos/{name_of(body)}", content=body, headers={"Content-Type": "image/jpeg"})
    words = "my hands were cold"
    kofi.sync(
        item("loose.propose_another_way", loose_end="L9", reason_text=words),
        item("loose.make_good", loose_end="L9", photo=name_of(body)),
    )
    asks = [ask["body"] for row in rows_of(kofi.sync(), "evidence") for ask in row["body"]["asks"]]
    note, photo = asks[0]["reason_text"], asks[1]["photo"]

    for name, open_ in {"ines": True, "kofi": True, "bram": False, "vera": False}.items():
        phone = planned.phones[name]
        record = phone.get(f"{phone.home}/record?count=500")["entries"]
        kept = [one for one in record if one["kind"] == "evidence.kept"]
        assert len(kept) == 1
        assert all(one["number"] and len(one["digest"]) == 64 for one in kept)
        assert (note in json.dumps(kept)) == open_
        if not open_:
            shown = {"number", "kind", "digest", "prev"}
            assert all({field for field, value in one.items() if value is not None} == shown for one in kept)
        for path, holds in (
            (f"payloads/{note}", words.encode()),
            (f"payloads/{photo}", name_of(body).encode()),
            (f"photos/{name_of(body)}", body),
        ):
            got = phone.ask("GET", f"{phone.home}/{path}")
            assert (got.status_code == 200, holds in got.content) == (open_, open_), (
                name,
                path,
                got.text[:200],
            )

    told = item("note.add", about_kind="task", about="T1", photo=name_of(body))
    kofi.sync(told)
    bram = planned.phones["bram"]
    assert bram.ask("GET", f"{bram.home}/photos/{name_of(body)}").content == body


def test_no_words_stand_in_an_entry(garage: Garage) -> None:
    """R1: how a load was found and what a tag keeps off are payloads, which can be withdrawn; others may read them."""
    ines, bram, kofi = (garage.phones[name] for name in ("ines", "bram", "kofi"))
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(WITH_LIFT), "options": {}}, 200)
    load = {"mass_kg": "40", "cg_x_mm": "500", "cg_y_mm": "0"}
    bram.act("/lifts/L1/weigh", **load, how_known_text="borrowed scales")
    bram.act("/tags", what="other", what_text="the starter's lead")

    assert not any(
        words in kofi.http.get(f"{kofi.home}/record?count=500").text for words in ("scales", "starter")
    )
    found = kofi.get(f"{kofi.home}/lifts/L1")["load"]
    tag = rows_of(kofi.sync(), "tag")[0]["body"]
    assert found["how_known"] is None
    assert kofi.get(f"{kofi.home}/payloads/{found['how_known_text']}")["text"] == "borrowed scales"
    assert kofi.get(f"{kofi.home}/payloads/{tag['note']}")["text"] == "the starter's lead"


def test_an_invite_in_the_record_is_for_who_invites(planned: Garage) -> None:
    """R31: what an invite gives is the lead's to see; others see that there is an entry."""
    for name, open_ in {"ines": True, "bram": False, "vera": False}.items():
        phone = planned.phones[name]
        record = phone.get(f"{phone.home}/record?count=500")["entries"]
        invited = [one for one in record if one["kind"] == "crew.invited"]
        assert [one["data"] is not None for one in invited] == [open_] * 3
        assert [one["text"] is not None for one in invited] == [open_] * 3


@pytest.mark.parametrize("name", ["ines", "bram", "kofi", "vera"])
def test_what_a_phone_receives_holds_nothing_private(planned: Garage, name: str) -> None:
    """R1, R21, R31: no limit, no guideline, no PIN, no name in any row or entry that any role receives."""
    bram = planned.phones["bram"]
    bram.ask("PUT", "/api/me/private", {"limit_kg": "13.7", "guideline_kg": 16})
    phone = planned.phones[name]

    received = [json.dumps(phone.sync()), json.dumps(phone.get(f"{phone.home}/record?count=500"))]
    if name != "bram":
        received += [json.dumps(phone.get(f"{phone.home}/people")), json.dumps(phone.get("/api/me/private"))]

    for text in received:
        assert "13.7" not in text
        assert "school run" not in text
        assert PINS["ines"] not in text
        assert "argon2" not in text
    for text in received[:2]:
        assert not any(word in text for word in ("Bram", "Ines", "Kofi", "Vera", "limit_kg", "guideline_kg"))


def test_builds_do_not_see_each_other(garage: Garage) -> None:
    """R31: who belongs to one build learns nothing of another, not even that it is there."""
    ines, bram = garage.phones["ines"], garage.phones["bram"]
    other = ines.post("/api/builds", {"build_name": "Quillback Three"}, 200)["build"]

    nowhere = bram.get("/api/builds/nowhere/people", 404)
    outcome = f"outcomes/{'0' * 8}-0000-0000-0000-{'0' * 12}"
    papers = (f"payloads/{'0' * 64}", f"photos/{'0' * 64}")
    for path in ("people", "record", "record/verify", "events", outcome, *papers):
        answer = bram.get(f"/api/builds/{other}/{path}", 404)
        assert answer | {"params": 0} == nowhere | {"params": 0}
    assert bram.post(f"/api/builds/{other}/sync", {"cursor": None, "commands": []})["code"] == "no_such_build"
    assert bram.post(f"/api/builds/{other}/sign-in", {})["code"] == "no_such_build"
    assert [one["name"] for one in bram.get("/api/me")["builds"]] == ["Quillback Two"]

    body = picture()
    photo = {"about_kind": "task", "about": "T1", "text": "behind the seat", "photo": name_of(body)}
    ines.post(f"/api/builds/{other}/notes", {"body": photo}, 200)
    ines.http.put(
        f"/api/builds/{other}/photos/{name_of(body)}", content=body, headers={"Content-Type": "image/jpeg"}
    )
    note = ines.get(f"/api/builds/{other}/record")["entries"][-1]["data"]
    assert ines.get(f"/api/builds/{other}/payloads/{note['text']}")["text"] == "behind the seat"
    for path in (f"payloads/{note['text']}", f"payloads/{note['photo']}", f"photos/{name_of(body)}"):
        assert bram.get(f"/api/builds/{other}/{path}", 404)["code"] == "no_such_build"
        assert bram.get(f"{bram.home}/{path}", 404)["code"] in ("unknown", "not_sent_yet")


def test_who_left_receives_nothing_more(garage: Garage) -> None:
    """R31: taken off the crew, the phone is told so at its next exchange."""
    ines, kofi = garage.phones["ines"], garage.phones["kofi"]
    ines.act(f"/members/{kofi.person}/leave")

    assert kofi.post(f"{kofi.home}/sync", {"cursor": None, "commands": []})["code"] == "not_a_member"
    for path in ("record", f"payloads/{'0' * 64}", f"photos/{'0' * 64}"):
        assert kofi.get(f"{kofi.home}/{path}", 403)["code"] == "not_a_member"


def test_a_phone_that_was_shut_out_receives_nothing_more(garage: Garage) -> None:
    """R29, R31: a lost phone reads no words and no photos any more."""
    ines, kofi = garage.phones["ines"], garage.phones["kofi"]
    ines.act(f"/devices/{kofi.get('/api/me')['device']}/shut-out", person=kofi.person)

    for path in ("record", f"payloads/{'0' * 64}", f"photos/{'0' * 64}"):
        assert kofi.get(f"{kofi.home}/{path}", 403)["code"] == "shut_out"
