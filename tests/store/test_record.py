"""Verify and replay: the chain is what was written, and the rows follow from it."""

from __future__ import annotations

import hashlib

import pytest
from sqlalchemy import text

from support.service import BUILD, Service, command_id
from yokemate.handle.batch import Batch
from yokemate.store import ledger, payloads, row_tables, states
from yokemate.store.verify import Verified, differences, verify


def verified(service: Service) -> Verified:
    with service.database.read(steady=True) as connection:
        return verify(connection, BUILD)


def differing(service: Service) -> list[str]:
    with service.database.read(steady=True) as connection:
        return differences(connection, BUILD)


@pytest.fixture
def busy(service: Service) -> Service:
    """Some entries, among them free words."""
    service.join("bram", "ines", role="builder")
    service.do("ines", "crew.sign_in")
    service.do("bram", "crew.sign_in")
    service.do("ines", "crew.visitor_in", what="visitor", name_text="the man from the gas board")
    service.do("bram", "crew.sign_out")
    return service


def test_an_untouched_record_holds(busy: Service) -> None:
    """R1, R2: what was written verifies, and replaying it gives the same rows, table for table."""
    found = verified(busy)

    assert (found.holds, found.entries, found.problems) == (True, 7, [])
    assert differing(busy) == []


def forge(service: Service, statement: str) -> None:
    """Somebody with the database file in their hands takes the guards off first."""
    with service.database.write() as connection:
        if service.database.sqlite:
            connection.execute(text("DROP TRIGGER ledger_no_update"))
            connection.execute(text("DROP TRIGGER ledger_no_delete"))
        else:
            connection.execute(text("DROP TRIGGER ledger_no_change ON ledger"))
        connection.execute(text(statement))


@pytest.mark.parametrize(
    ("forgery", "says"),
    [
        ("UPDATE ledger SET text = replace(text, 'crew.signed_in', 'crew.signed_ix') WHERE number = 4", "Entry 4 was changed"),
        ("DELETE FROM ledger WHERE number = 5", "Entry 5 is missing"),
        ("DELETE FROM ledger WHERE number = 7", "The ledger ends at entry 6"),
        ("UPDATE ledger SET prev = 'x' WHERE number = 3", "Entry 3 does not hold the digest of the entry before"),
    ],
)  # fmt: skip
def test_a_forged_record_is_found_out(busy: Service, forgery: str, says: str) -> None:
    """R1: an entry changed or taken out behind the service's back is named."""
    forge(busy, forgery)

    found = verified(busy)

    assert not found.holds
    assert any(one.startswith(says) for one in found.problems)


@pytest.mark.parametrize(
    ("find", "put", "says"),
    [
        ('"number":7', '"number":70', "says another build, number or digest before"),
        ('"prev":"', '"prev":"0', "says another build, number or digest before"),
        (f'"build":"{BUILD}"', '"build":"another"', "says another build, number or digest before"),
        ('"version":1', '"version": 1', "is not in canonical form"),
        ('"version":1', '"version":', "can't be read"),
    ],
)
def test_an_entry_forged_with_its_digest_is_found_out(busy: Service, find: str, put: str, says: str) -> None:
    """R1: the last entry changed, its digest and the head's made anew: what it says of itself is held against where it stands."""
    with busy.database.read() as connection:
        last = list(ledger.entries(connection, BUILD))[-1]
    forged = last.text.replace(find, put)
    digest = hashlib.sha256(forged.encode()).hexdigest()
    quoted = forged.replace("'", "''").replace(":", r"\:")
    forge(busy, f"UPDATE ledger SET text = '{quoted}', digest = '{digest}' WHERE number = 7")
    with busy.database.write() as connection:
        connection.execute(text(f"UPDATE builds SET digest = '{digest}'"))

    assert forged != last.text
    assert any(one.startswith("Entry 7 ") and says in one for one in verified(busy).problems)


def test_changed_words_are_found_out(busy: Service) -> None:
    """R1: the words a digest stands for can't be swapped for others."""
    with busy.database.write() as connection:
        connection.execute(text("UPDATE payloads SET body = 'nobody'"))

    assert any("was changed" in one for one in verified(busy).problems)


def test_a_withdrawn_note_is_told_and_its_words_are_gone(busy: Service) -> None:
    """R1: withdrawing takes the words away by an entry with a reason; verify holds and says so."""
    with busy.database.read() as connection:
        payload = connection.execute(text("SELECT id FROM payloads")).scalar()

    answer = busy.do("ines", "note.withdraw", payload=payload, reason="other")

    found = verified(busy)
    with busy.database.read() as connection:
        left = connection.execute(text("SELECT body, salt FROM payloads")).one()
    assert answer.status == "accepted"
    assert tuple(left) == (None, None)
    assert (found.holds, found.withdrawn) == (True, 1)


PHOTO = b"these bytes stand for a photo"
NAME = hashlib.sha256(PHOTO).hexdigest()


@pytest.fixture
def pictured(busy: Service) -> Service:
    """A note with a photo whose bytes have come, as entry 8."""
    assert busy.do("bram", "note.add", about_kind="task", about="T1", photo=NAME).status == "accepted"
    with busy.database.write() as connection:
        payloads.put_photo(connection, BUILD, NAME, "image/jpeg", PHOTO, "person-bram", busy.clock())
    return busy


@pytest.mark.parametrize(
    ("forgery", "says"),
    [
        ("UPDATE payloads SET body = NULL, salt = NULL", "is gone and no entry withdraws it"),
        ("UPDATE payloads SET body = NULL, salt = NULL, withdrawn_at = 6", "is gone and no entry withdraws it"),
        ("DELETE FROM payloads WHERE kind = 'text'", "that entry 6 names is not there"),
        ("DELETE FROM payloads WHERE kind = 'photo'", "that entry 8 names is not there"),
        ("UPDATE photos SET body = CAST('another photo' AS {bytes})", "was changed: its bytes"),
    ],
)  # fmt: skip
def test_words_and_photos_gone_or_changed_are_found_out(pictured: Service, forgery: str, says: str) -> None:
    """R1: what vanishes without an entry that withdraws it is no withdrawal, and a photo's bytes are its name."""
    assert (verified(pictured).problems, verified(pictured).photos_awaited) == ([], 0)

    with pictured.database.write() as connection:
        bytes_ = "BLOB" if pictured.database.sqlite else "BYTEA"
        connection.execute(text(forgery.format(bytes=bytes_)))

    assert any(says in one for one in verified(pictured).problems)


def test_words_that_were_refused_are_looked_for_too(busy: Service) -> None:
    """R1, R4: what was typed with a refused ask stands in its evidence by payload id."""
    body = {"deviation": "D9", "answer_text": "the maker says yes"}
    asked = {"id": command_id(), "kind": "deviation.accept", "seen": 7, "body": body}
    assert Batch(busy.handler, BUILD, busy.phones["ines"]).run([asked])[0].status == "refused"
    assert verified(busy).problems == []

    with busy.database.write() as connection:
        connection.execute(text("DELETE FROM payloads WHERE body = 'the maker says yes'"))

    assert any("that entry 8 names is not there" in one for one in verified(busy).problems)


def test_a_photo_that_has_not_come_is_told_and_is_no_forgery(pictured: Service) -> None:
    """R1: bytes follow in any order, and some never; that they are lacking is said. Withdrawn ones are not awaited."""
    with pictured.database.write() as connection:
        connection.execute(text("DELETE FROM photos"))
    awaited = verified(pictured)
    with pictured.database.read() as connection:
        payload = connection.execute(text("SELECT id FROM payloads WHERE kind = 'photo'")).scalar()
    pictured.do("ines", "note.withdraw", payload=payload, reason="other")

    assert (awaited.holds, awaited.photos_awaited) == (True, 1)
    assert (verified(pictured).holds, verified(pictured).photos_awaited) == (True, 0)


def test_withdrawn_words_brought_back_are_found_out(busy: Service) -> None:
    """R1: what an entry withdrew stays away."""
    with busy.database.write() as connection:
        kept = payloads.all_of(connection, BUILD)[0]
    busy.do("ines", "note.withdraw", payload=kept.id, reason="other")

    with busy.database.write() as connection:
        back = text("UPDATE payloads SET body = :body, salt = :salt, withdrawn_at = NULL")
        connection.execute(back, {"body": kept.body, "salt": kept.salt})

    assert any("was withdrawn by entry 8 and is back" in one for one in verified(busy).problems)


def test_rows_that_differ_are_named_and_repaired(busy: Service) -> None:
    """R2: rows are disposable: what differs is named, and written anew from the ledger to the last column."""
    with busy.database.write() as connection:
        connection.execute(text("DELETE FROM row_visit"))
        connection.execute(text("UPDATE row_build SET changed_at = 99"))
    found = differing(busy)

    with busy.database.write() as connection:
        ledger.lock_head(connection, BUILD)
        states.rebuild(connection, BUILD)

    assert [one.split(": ")[1] for one in found] == ["differs", "lacking"]
    assert differing(busy) == []


def test_rows_of_another_shape_are_rebuilt_before_anything_is_read(busy: Service) -> None:
    """R2: after an upgrade the first reader finds rows written by the new shape, made from the ledger."""
    with busy.database.write() as connection:
        connection.execute(text("DELETE FROM row_member"))
        ledger.set_stamp(connection, BUILD, "an older version")
    upgraded = Service(busy.url, busy.clock)

    loaded = upgraded.handler.states.current(BUILD)

    assert loaded is not None
    assert len(loaded.state.rows["member"]) == 2
    assert differing(busy) == []
    with busy.database.read() as connection:
        found = ledger.head_and_stamp(connection, BUILD)
    assert found is not None
    assert found[1] == row_tables.stamp()
    upgraded.close()
