"""Receipt, state, decide, append, rows, receipt, commit; then the answer, then the poke."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection

from yokemate.handle.facts import suited
from yokemate.handle.parse import body_digest, command_of, swap
from yokemate.handle.photos import mark_of
from yokemate.handle.shapes import Actor, Answer, Envelope, OtherBody, RuleFault
from yokemate.rules import frame
from yokemate.rules.commands.crew import ShutOut
from yokemate.rules.commands.days import TakeDays
from yokemate.rules.commands.notes import WithdrawPayload
from yokemate.rules.frame import Command, Ctx, Facts
from yokemate.rules.gatekeeper import first_lead
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Reading
from yokemate.settings import Clock
from yokemate.store import hours, ledger, offers, payloads, people, receipts, row_tables
from yokemate.store.engine import Database
from yokemate.store.pins import Pins, Tried
from yokemate.store.states import Loaded, States, Told, tell

LOG = logging.getLogger("yokemate")
Poke = Callable[[str, Loaded], None]
Alive = Callable[[str], frozenset[str]]
Also = Callable[[Connection], None]


@dataclass
class Handler:
    """`poke` is told of a new head after each commit; `alive` says whose phones answered a beat."""

    database: Database
    states: States
    pins: Pins
    secret: bytes = field(repr=False)
    clock: Clock
    poke: Poke = lambda build, loaded: None
    alive: Alive = lambda build: frozenset()

    def handle(
        self,
        build: str,
        actor: Actor,
        envelope: Envelope,
        pin: str | None = None,
        *,
        first: Also | None = None,
        also: Also | None = None,
    ) -> Answer:
        """Do one command. A refusal is an answer and has changed nothing but its receipt (R4).

        `first` runs before anything is read, `also` after acceptance, both in the same transaction; with
        `first` a refusal is raised and leaves no trace. Bad input, `OtherBody` and `RuleFault` are raised.
        """
        command = command_of(envelope)
        digest = body_digest(envelope, self.secret)
        with self.database.read() as connection:
            known = self.known(connection, build, actor, envelope, digest)
        if known is not None:
            return known
        tried = None
        if pin is not None:
            tried = self.pins.try_(envelope.for_person or actor.person, actor.device, pin, self.clock())
        with self.writing(build) as work:
            if first is not None:
                first(work.connection)
            loaded = self.locked(work, build)
            known = self.known(work.connection, build, actor, envelope, digest)
            if known is not None:
                return known
            try:
                answer = self.decide(work, build, loaded, actor, envelope, command, tried)
            except Refused as refused:
                if first is not None:
                    raise
                answer = refusal(envelope.id, loaded, refused)
            else:
                if also is not None:
                    also(work.connection)
            self.receipt(work.connection, build, actor, digest, answer)
        self.after(build, work)
        return answer

    def known(
        self, connection: Connection, build: str, actor: Actor, envelope: Envelope, digest: str
    ) -> Answer | None:
        """The first answer to the same id (R3), also where another phone of the same person brought it."""
        found = self.found(connection, build, actor, envelope, digest)
        return None if found is None else Answer.from_kept(found.outcome)

    def found(
        self, connection: Connection, build: str, actor: Actor, envelope: Envelope, digest: str
    ) -> receipts.Found | None:
        found = receipts.find(connection, build, actor.device, envelope.id)
        if found is None:
            found = receipts.find_of(connection, build, actor.person, envelope.id)
        if found is not None and found.body_digest != digest:
            raise OtherBody
        return found

    @contextmanager
    def writing(self, build: str) -> Iterator[Work]:
        """One transaction. Whatever goes wrong in it, the cached state is dropped and read anew."""
        try:
            with self.database.write(build) as connection:
                yield (work := Work(connection))
        except BaseException:
            self.states.drop(build)
            raise
        work.committed = True

    def locked(self, work: Work, build: str) -> Loaded:
        locked = ledger.lock_head(work.connection, build)
        if locked is None:
            raise Refused("no_such_build", build=build)
        return self.states.under_lock(work.connection, build, *locked)

    def decide(
        self,
        work: Work,
        build: str,
        loaded: Loaded,
        actor: Actor,
        envelope: Envelope,
        command: Command,
        tried: Tried | None = None,
    ) -> Answer:
        """Decide and write. Raises `Refused` before anything is written."""
        now_ms = self.clock()
        who = envelope.for_person or actor.person
        swapped = swap(command)
        lift = getattr(command, "lift", None)
        own = suited(work.connection, loaded.state, lift)
        facts = Facts(
            pin_ok=None if tried is None else tried.is_ == "right",
            pin_short=tried is not None and tried.short,
            suits=own.suits,
            figure_unsaid=own.figure_unsaid,
            phones_alive=self.alive(build) if lift else frozenset(),
            over_open_network=actor.open_network,
            offer=offers.data_of(work.connection, build, command.offer)
            if isinstance(command, TakeDays)
            else None,
            hours=hours.of_build(work.connection, build) if isinstance(command, TakeDays) else {},
        )
        ctx = Ctx(
            id=envelope.id,
            who=who,
            device=actor.device,
            now_ms=now_ms,
            device_ms=now_ms if envelope.device_ms is None else envelope.device_ms,
            typed_by=actor.person if who != actor.person else None,
            seen=envelope.seen,
            facts=facts,
        )
        try:
            decided = frame.run(loaded.state, swapped.command, ctx)
            told = tell(build, loaded, decided.entries)
        except Refused as refused:
            raise _with_tries(refused, tried, loaded) from None
        except Exception as fault:
            LOG.exception("%s broke down; nothing was changed", envelope.kind)
            raise RuleFault(f"{envelope.kind} broke down") from fault
        self._exists_outside(work.connection, build, command)
        if told.stored:
            ledger.append(work.connection, build, loaded.head, told.stored)
            row_tables.upsert(work.connection, build, told.lines)
            payloads.keep(work.connection, build, swapped.payloads)
            self._follow_outside(work.connection, build, command, told, now_ms)
            work.loaded = told.loaded
        span = (told.stored[0].number, told.stored[-1].number) if told.stored else None
        return Answer(envelope.id, "accepted", told.loaded.head.number, span, notes=_notes(told))

    def receipt(self, connection: Connection, build: str, actor: Actor, digest: str, answer: Answer) -> None:
        receipts.keep(connection, build, actor.device, answer.id, digest, answer.kept(), self.clock())

    def after(self, build: str, work: Work) -> None:
        """After the commit: the new state is the one to read, and everybody is poked."""
        if work.committed and work.loaded is not None:
            self.states.put(build, work.loaded)
            self.poke(build, work.loaded)

    def _exists_outside(self, connection: Connection, build: str, command: Command) -> None:
        """What a command names outside the ledger must be there, and belong to whom it says."""
        if isinstance(command, ShutOut):
            if people.owner_of(connection, command.device) != command.person:
                raise Refused("unknown", what="device", id=command.device)
        elif isinstance(command, WithdrawPayload):
            if payloads.find(connection, build, command.payload) is None:
                raise Refused("unknown", what="payload", id=command.payload)

    def _follow_outside(
        self, connection: Connection, build: str, command: Command, told: Told, now_ms: int
    ) -> None:
        """What follows outside the ledger, in the same transaction."""
        if isinstance(command, ShutOut):
            people.change_phone(connection, command.device, shut_out_ms=now_ms)
        elif isinstance(command, WithdrawPayload):
            payloads.withdraw(
                connection,
                build,
                command.payload,
                told.stored[0].number,
                lambda sha256: mark_of(self.secret, build, sha256),
            )


@dataclass
class Work:
    """One transaction of the one path: `loaded` is the state after it, where it changed."""

    connection: Connection
    loaded: Loaded | None = None
    committed: bool = False


def refusal(id: str, loaded: Loaded, refused: Refused) -> Answer:
    return Answer(id, "refused", loaded.head.number, code=refused.code, params=refused.params)


def _with_tries(refused: Refused, tried: Tried | None, loaded: Loaded) -> Refused:
    """How many tries are left, or until when it waits, is known outside the rules."""
    if refused.code != "pin_wrong" or tried is None:
        return refused
    lead = first_lead(loaded.state)
    if tried.is_ == "waits" or tried.left == 0:
        if tried.is_ == "none_set":
            return Refused("pin_not_set", ask_person=lead)
        return Refused("pin_waits", until_ms=tried.until_ms, ask_person=lead)
    return Refused("pin_wrong", left=tried.left)


def _notes(told: Told) -> list[str]:
    """Why a report was kept and does not count, so that the phone can say so at once."""
    changed = {line.id for line in told.lines if line.kind == Reading.KIND and line.body is not None}
    readings = [told.loaded.state.get(Reading, id) for id in sorted(changed)]
    return sorted({r.why_not for r in readings if not r.counts and r.why_not and r.crossed_out_ms is None})


def new(
    database: Database, secret: bytes, clock: Clock, argon2_memory_kib: int = 19 * 1024, **outside: Any
) -> Handler:
    """A handler with its parts. `outside`: `poke` and `alive`."""
    pins = Pins(database, secret, argon2_memory_kib)
    return Handler(database, States(database), pins, secret, clock, **outside)
