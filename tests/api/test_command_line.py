"""The command line of the machine that runs the service: the record checked, the rows made anew, a lead let in again."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from sqlalchemy import text

from support.phones import PINS, Garage
from yokemate.cli import main

NEW_PIN = "97531864"


def test_r29_a_lead_who_lost_their_phone_gets_in_from_the_machine_as_an_entry(
    one: Garage, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """R29: the printed code works once, sets a new PIN; old phones are out; the record says it, never the code."""
    ines, kofi = one.phones["ines"], one.phones["kofi"]

    assert main(["recover-lead", "ines", "--data", str(tmp_path)]) == 0
    found = re.search(r"https://\S+/join#(\S+)", capsys.readouterr().out)
    assert found is not None
    code = found[1]
    entry = kofi.get(f"{kofi.home}/record?count=500")["entries"][-1]
    lost = ines.post(f"{ines.home}/sync", {"cursor": None, "commands": []})
    new = one.phone()
    new.post("/api/join", {"code": code, "name": "x", "pin": NEW_PIN}, 200)
    spent = one.phone().post("/api/join", {"code": code, "name": "x", "pin": NEW_PIN})
    by_pin = [
        new.ask("PUT", "/api/me/pin", {"old": old, "new": "another one"}).status_code
        for old in (PINS["ines"], NEW_PIN)
    ]

    assert (entry["kind"], entry["data"]["person"]) == ("crew.lead_recovered", ines.person)
    assert json.loads(entry["text"])["device"] == "machine"
    assert code not in kofi.http.get(f"{kofi.home}/record?count=500").text
    assert lost["code"] == "shut_out"
    assert new.get("/api/me")["person"] == ines.person
    assert new.act("/emergency-card", address_text="Unit 4")["status"] == "accepted", "a lead's act"
    assert spent["code"] == "invite_used"
    assert [status < 400 for status in by_pin] == [False, True]
    assert kofi.act("/sign-in")["status"] == "accepted"


def test_r29_whoever_is_not_there_is_let_in_by_no_name(
    one: Garage, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """R32: says who is there instead, and changes nothing."""
    head = one.phones["ines"].head()

    assert main(["recover-lead", "Eve", "--data", str(tmp_path)]) == 2
    assert "Bram, Ines, Kofi, Vera" in capsys.readouterr().err
    assert one.phones["ines"].head() == head


def test_r1_r2_verify_and_replay_say_what_is_wrong_and_repair_the_rows(
    one: Garage, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """R2: rows that somebody changed are named and made anew. R1: an entry that somebody changed is named by number."""
    kept = ["--data", str(tmp_path)]
    database = one.service.database
    one.phones["kofi"].act("/sign-in")
    good = [main([what, *kept]) for what in ("verify", "replay")]
    with database.write() as connection:
        connection.execute(text("UPDATE row_member SET changed_at = 99"))
    capsys.readouterr()
    differs, said = main(["replay", *kept]), capsys.readouterr().out
    repaired = [main(["replay", "--repair", *kept]), main(["replay", *kept])]
    with database.write() as connection:
        for (trigger,) in connection.execute(
            text("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        ).all():
            connection.execute(text(f"DROP TRIGGER {trigger}"))
        connection.execute(text("UPDATE ledger SET text = replace(text, 'crew.', 'crow.') WHERE number = 3"))
    capsys.readouterr()
    forged, told = main(["verify", *kept]), capsys.readouterr().out

    assert good == [0, 0]
    assert differs != 0
    assert f"member {one.phones['kofi'].person}" in said
    assert repaired[-1] == 0
    assert forged != 0
    assert "Entry 3 was changed" in told
