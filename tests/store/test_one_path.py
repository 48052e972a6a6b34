"""The one path of every change, on both engines."""

from __future__ import annotations

from typing import Any

import pytest

from support.service import BUILD, Service
from yokemate.handle import Answer, OtherBody
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Visit
from yokemate.store import ledger, receipts


def entries(service: Service) -> list[ledger.Stored]:
    with service.database.read() as connection:
        return list(ledger.entries(connection, BUILD))


def test_asked_twice_done_once(service: Service) -> None:
    """R3: the same command id from the same device gets the first answer and writes nothing more."""
    envelope = service.envelope("crew.sign_in")

    first = service.handler.handle(BUILD, service.phones["ines"], envelope)
    service.clock.wait(5)
    again = service.handler.handle(BUILD, service.phones["ines"], envelope)

    assert again == first
    assert [one.entry().kind for one in entries(service)] == ["build.made", "crew.signed_in"]


def test_same_id_with_another_body_is_an_error(service: Service) -> None:
    """R3: the same id with another body is an error and changes nothing."""
    sent = service.envelope("crew.visitor_in", what="child", name_text="Tom")
    service.handler.handle(BUILD, service.phones["ines"], sent)
    other = service.envelope("crew.visitor_in", what="visitor", id=sent.id)

    with pytest.raises(OtherBody):
        service.handler.handle(BUILD, service.phones["ines"], other)

    assert len(entries(service)) == 2


def test_a_refusal_leaves_its_receipt_and_nothing_else(service: Service) -> None:
    """R4: a refused ask changes nothing; its answer is kept and given again."""
    envelope = service.envelope("crew.invite", invite="i1", role="helper")

    answer = service.handler.handle(BUILD, service.phones["bram"], envelope)
    again = service.handler.handle(BUILD, service.phones["bram"], envelope)

    assert (answer.status, answer.code) == ("refused", "not_a_member")
    assert again == answer
    assert len(entries(service)) == 1


def test_numbers_have_no_gaps_and_each_entry_holds_the_digest_before(service: Service) -> None:
    """R1: numbered without gaps per build, chained by digest."""
    for kind in ("crew.sign_in", "crew.sign_out", "crew.sign_in"):
        service.do("ines", kind)

    kept = entries(service)

    assert [one.number for one in kept] == [1, 2, 3, 4]
    assert [one.prev for one in kept] == ["", *(one.digest for one in kept[:-1])]


def test_free_words_stand_outside_the_ledger(service: Service) -> None:
    """R1: an entry holds the salted digest of free words, never the words."""
    service.do("ines", "crew.visitor_in", what="child", name_text="Tom of the bakery")

    assert not any("Tom" in one.text for one in entries(service))


def test_a_failing_commit_raises_and_a_good_command_afterwards_works(
    service: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    """R4: what could not be committed has not happened, in memory neither."""
    with monkeypatch.context() as broken:
        broken.setattr(receipts, "keep", _no_disk)
        with pytest.raises(OSError, match="disk"):
            service.do("ines", "crew.sign_in")
    answer = service.do("ines", "crew.visitor_in", what="visitor")

    assert answer == Answer(answer.id, "accepted", 2, (2, 2))
    assert [one.entry().kind for one in entries(service)] == ["build.made", "crew.visitor_came"]


@pytest.mark.parametrize("reached", [False, True], ids=["nothing is kept", "kept, and nobody heard"])
def test_r4_a_commit_that_fails_leaves_what_is_read_as_the_ledger_has_it(
    service: Service, monkeypatch: pytest.MonkeyPatch, reached: bool
) -> None:
    """R3, R4: the word *commit* itself fails, or is done and its answer lost, as when the database goes away: nobody is
    poked, what is read next is what is kept, and the same command sent again is done once."""
    dialect, pokes = service.database.engine.dialect, list[int]()
    service.handler.poke = lambda build, now: pokes.append(now.head.number)
    assert head_read(service) == 1
    envelope, committing = service.envelope("crew.visitor_in", what="child"), dialect.do_commit

    def fails(connection: Any) -> None:
        if reached:
            committing(connection)
        raise OSError("the database is gone")

    with monkeypatch.context() as broken:
        broken.setattr(dialect, "do_commit", fails)
        with pytest.raises(OSError, match="gone"):
            service.handler.handle(BUILD, service.phones["ines"], envelope)
    heard, kept, read = list(pokes), len(entries(service)), head_read(service)
    again = service.handler.handle(BUILD, service.phones["ines"], envelope)

    assert (heard, kept, read) == ([], 1 + reached, 1 + reached)
    assert (again.status, again.entries) == ("accepted", (2, 2))
    assert [one.entry().kind for one in entries(service)] == ["build.made", "crew.visitor_came"]


def head_read(service: Service) -> int:
    """The head of the state that screens are read from, which counts what the state itself holds."""
    loaded = service.handler.states.current(BUILD)
    assert loaded is not None
    assert len(list(loaded.state.all(Visit))) == loaded.head.number - 1
    return loaded.head.number


def test_a_build_nobody_made_is_unknown(service: Service) -> None:
    """R32: a command for a build that is not there is refused by name."""
    with pytest.raises(Refused) as refused:
        service.do("ines", "crew.sign_in", build="nowhere")

    assert refused.value.code == "no_such_build"


def _no_disk(*_args: object) -> None:
    raise OSError("disk full")
