"""Verify and replay: the chain is what was written, and the rows follow from it."""

from __future__ import annotations

import pytest
from sqlalchemy import text

from support.service import BUILD, Service
from yokemate.store import ledger, row_tables, states
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


def test_words_gone_without_an_entry_are_found_out(busy: Service) -> None:
    """R1: words that vanish without an entry are no withdrawal."""
    with busy.database.write() as connection:
        connection.execute(text("UPDATE payloads SET body = NULL, salt = NULL"))

    assert any("no entry withdraws it" in one for one in verified(busy).problems)


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
