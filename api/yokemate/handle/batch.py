"""A phone's outbox: commands in order, each judged alone; what was refused is kept as evidence (R4).

A refused ask and what built on it make one bundle: the same task, group or lift, or named by `after`. So does a report
of what is not there any more (a plan was loaded without the group while somebody tightened it): what has happened
can't be put anywhere, and what was typed stays.

The refusal has its receipt in the transaction that judged it, so that it is never judged again behind what came
after it; the bundle's evidence entry is written at the end of the batch. Should the service stop between, the
phone hands them over again, hears the same refusal, and the evidence is kept then.

What a phone hands over may take several exchanges: more than one holds, or each by itself where they fail together. An ask
that names one of a kept bundle, or was made before its author could know of a refusal about the same thing, joins it.

An ask over which a rule breaks down has no receipt and no bundle: the phone keeps it and hands it over again. So it is
with what an app of another version says and this service does not know. The asks behind such a one in the same batch
that build on it wait too; judged now they would be refused for what it could not do.

A place that is beyond somebody's private limit is refused to them alone: that bundle has receipts and no
evidence, for an entry would tell the crew (R21). Nor has any other refused ask about a place in a lift.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from types import SimpleNamespace
from typing import Any

from pydantic import ValidationError

from yokemate.handle.parse import bad, body_digest, clean, command_of, first_fault, spec_of, swap
from yokemate.handle.path import Handler, Work, refusal
from yokemate.handle.shapes import Actor, Answer, Envelope, OtherBody, RuleFault
from yokemate.rules.commands.notes import KeepEvidence
from yokemate.rules.frame import Command, State
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Evidence, Group, Task
from yokemate.store import payloads, receipts
from yokemate.store.payloads import Kept

PRIVATE = frozenset({"does_not_suit", "figure_unsaid"})  # between the service and whom it is about (R21)
# Nothing is typed with these, and who asks for more about a place than the others saw them have was refused it alone.
OF_A_PLACE = frozenset({"lift.take_place", "lift.ready", "lift.sign_landed"})
NOT_BY_HAND = frozenset({"build.make", "crew.join", "crew.recover_lead", "crew.renew_pin", "evidence.keep"})


@dataclass
class Bundle:
    """One refused ask, or a report that could be put nowhere, and what built on it."""

    task: str | None
    private: bool = False
    joins: str | None = None  # the evidence of an earlier exchange that this is the rest of
    asks: list[tuple[Envelope, Command, Answer]] = field(default_factory=list)


class Batch:
    """One exchange of one device. Not to be used twice."""

    def __init__(self, handler: Handler, build: str, actor: Actor) -> None:
        self._handler = handler
        self._build = build
        self._actor = actor
        self._bundles: dict[tuple[str, bool], Bundle] = {}
        self._by_id: dict[str, Bundle] = {}
        self._broke: set[str] = set()  # what could not be judged, by id and by what it is about

    def run(self, items: Sequence[Any]) -> list[Answer]:
        answers = [self._one(item) for item in items]
        kept = {answer.id: answer for bundle in self._bundles.values() for answer in self._keep(bundle)}
        return [kept.get(answer.id, answer) for answer in answers]

    def _one(self, item: Any) -> Answer:
        named = item.get("id") if isinstance(item, dict) else None
        id = named if isinstance(named, str) and len(named) <= 80 else ""
        try:
            return self._judge(_envelope(item))
        except Refused as refused:
            if refused.code == "other_version":
                self._broke |= {id, self._about_unknown(item) or id}
            return Answer(id, "refused", 0, code=refused.code, params=refused.params)
        except OtherBody:
            return Answer(id, "refused", 0, code="same_id")
        except RuleFault:
            # Kept as a receipt it could never be tried again; raised it would hold up all that waits.
            return Answer(id, "refused", 0, code="fault")

    def _about_unknown(self, item: Any) -> str | None:
        """What a command that is not known here is about, by the names that commands have for it."""
        body = item.get("body")
        if not isinstance(body, dict):
            return None
        with self._handler.writing(self._build) as work:
            state = self._handler.locked(work, self._build).state
        return _about(state, SimpleNamespace(**body))

    def _judge(self, envelope: Envelope) -> Answer:
        if envelope.id in self._by_id:
            raise bad("id", "came twice in one exchange.", "Give each command an id of its own.")
        command = command_of(envelope)
        digest = body_digest(envelope, self._handler.secret)
        with self._handler.database.read() as connection:
            known = self._handler.known(connection, self._build, self._actor, envelope, digest)
        if known is not None and not known.evidence_due:
            return known
        spec = spec_of(envelope.kind)
        if spec.kind in NOT_BY_HAND:
            raise bad("kind", f"{spec.kind} is not sent by a phone.", "Leave it out.")
        if spec.sent == "now":
            raise Refused("now_only")
        if spec.act == "ask" and envelope.after in self._by_id:
            refused = Answer(envelope.id, "refused", 0, code="built_on_refused")
            return self._join(self._by_id[envelope.after], envelope, command, refused)
        with self._handler.writing(self._build) as work:
            loaded = self._handler.locked(work, self._build)
            known = self._handler.known(work.connection, self._build, self._actor, envelope, digest)
            if known is not None and known.evidence_due:
                return self._refused(loaded.state, envelope, command, known)
            if known is not None:
                return known
            about = _about(loaded.state, command)
            if spec.act == "ask" and self._broke & {envelope.after, about}:
                self._broke.add(envelope.id)
                return Answer(envelope.id, "refused", 0, code="behind_fault")
            if spec.act == "ask" and (bundle := self._named_by(loaded.state, envelope)):
                refused = Answer(envelope.id, "refused", 0, code="built_on_refused")
                return self._join(bundle, envelope, command, refused)
            try:
                answer = self._handler.decide(work, self._build, loaded, self._actor, envelope, command)
            except Refused as refused_:
                answer = replace(refusal(envelope.id, loaded, refused_), evidence_due=True)
                self._handler.receipt(work.connection, self._build, self._actor, digest, answer)
                return self._refused(loaded.state, envelope, command, answer)
            except RuleFault:
                if spec.act == "ask":
                    self._broke |= {envelope.id, about or envelope.id}
                raise
            self._handler.receipt(work.connection, self._build, self._actor, digest, answer)
        self._handler.after(self._build, work)
        return answer

    def _refused(self, state: State, envelope: Envelope, command: Command, answer: Answer) -> Answer:
        about = _about(state, command) or envelope.id
        private = (about, True) in self._bundles or answer.code in PRIVATE or envelope.kind in OF_A_PLACE
        bundle = self._bundles.get((about, private))
        if bundle is None:
            joins = None if private else self._not_told_yet(state, envelope, about)
            bundle = self._bundles[about, private] = Bundle(_task(state, command), private, joins)
        return self._join(bundle, envelope, command, answer)

    def _kept_of(self, state: State, envelope: Envelope) -> list[Evidence]:
        who = envelope.for_person or self._actor.person
        return [kept for kept in state.all(Evidence) if kept.by == who]

    def _named_by(self, state: State, envelope: Envelope) -> Bundle | None:
        """The rest of a bundle of an earlier exchange, where this names one that is kept in it."""
        for kept in self._kept_of(state, envelope):
            if envelope.after and any(ask["id"] == envelope.after for ask in kept.asks):
                rest = Bundle(kept.task, joins=kept.id)
                return self._bundles.setdefault((f"evidence {kept.id}", False), rest)
        return None

    def _not_told_yet(self, state: State, envelope: Envelope, about: str) -> str | None:
        """The bundle about the same thing whose refusal was not told yet when this was made, by the phone's clock."""
        made_ms = envelope.device_ms
        if made_ms is None:
            return None
        for kept in self._kept_of(state, envelope):
            things = (_about(state, SimpleNamespace(**ask["body"])) for ask in kept.asks)
            if kept.at_ms > made_ms and about in things:
                return kept.id
        return None

    def _join(self, bundle: Bundle, envelope: Envelope, command: Command, answer: Answer) -> Answer:
        bundle.asks.append((envelope, command, answer))
        self._by_id[envelope.id] = bundle
        return answer

    def _keep(self, bundle: Bundle) -> list[Answer]:
        """Keep a bundle as one entry by whom it was typed for, with the receipts of everything in it.

        A phone that lost the line may have handed over the same again while this was judged: what has an answer
        by now keeps that one (R3), and only the rest is the bundle.
        """
        handler, build, actor = self._handler, self._build, self._actor
        with handler.writing(build) as work:
            loaded = handler.locked(work, build)
            found = {envelope.id: self._found(work, envelope) for envelope, _, _ in bundle.asks}
            before = [one for one in found.values() if isinstance(one, Answer)]
            bundle.asks = [ask for ask in bundle.asks if not isinstance(found[ask[0].id], Answer)]
            if not bundle.asks:
                return before
            first = bundle.asks[0][0]
            words: list[Kept] = []
            asks: list[dict[str, Any]] = []
            for envelope, command, answer in bundle.asks:
                swapped = swap(command)
                words += swapped.payloads
                body = swapped.command.model_dump(mode="json")
                asks.append({"id": envelope.id, "kind": envelope.kind, "code": answer.code, "body": body})
            code = bundle.asks[0][2].code or ""
            keeping = KeepEvidence(task=bundle.task, code=code, asks=asks, joins=bundle.joins)
            about = Envelope(
                id=first.id,
                kind=KeepEvidence.SPEC.kind,
                device_ms=first.device_ms,
                for_person=first.for_person,
            )
            entries = None
            if not bundle.private:
                try:
                    entries = handler.decide(work, build, loaded, actor, about, keeping).entries
                except Refused:
                    pass  # who may change nothing leaves no evidence either
                else:
                    payloads.keep(work.connection, build, words)
            head = (work.loaded or loaded).head.number
            answers = []
            for number, (envelope, _command, answer) in enumerate(bundle.asks):
                answer = replace(answer, head=head, entries=entries, evidence_due=False)
                if entries and (number or bundle.joins):
                    answer = replace(answer, status="kept_as_evidence", notes=[answer.code or ""])
                due = found[envelope.id]
                if isinstance(due, receipts.Found):
                    receipts.settle(work.connection, build, due.device, envelope.id, answer.kept())
                else:
                    digest = body_digest(envelope, handler.secret)
                    handler.receipt(work.connection, build, actor, digest, answer)
                answers.append(answer)
        handler.after(build, work)
        return before + answers

    def _found(self, work: Work, envelope: Envelope) -> Answer | receipts.Found | None:
        """The answer it has by now; or the receipt whose evidence is still due; or neither."""
        digest = body_digest(envelope, self._handler.secret)
        try:
            found = self._handler.found(work.connection, self._build, self._actor, envelope, digest)
        except OtherBody:
            return Answer(envelope.id, "refused", 0, code="same_id")
        if found is None:
            return None
        answer = Answer.from_kept(found.outcome)
        return found if answer.evidence_due else answer


def _envelope(item: Any) -> Envelope:
    clean(item, "command")
    try:
        return Envelope.model_validate(item)
    except ValidationError as error:
        raise first_fault(error) from None


def _about(state: State, command: object) -> str | None:
    """What asks of one bundle have in common."""
    if task := _task(state, command):
        return f"task {task}"
    for name in ("group", "lift", "gate", "deviation", "loose_end", "proposal"):
        if isinstance(named := getattr(command, name, None), str):
            return f"{name} {named}"
    return None


def _task(state: State, command: object) -> str | None:
    named = getattr(command, "task", None)
    if isinstance(named, str):
        return named if state.find(Task, named) else None
    group = getattr(command, "group", None)
    if not isinstance(group, str) or state.find(Group, group) is None:
        return None
    return next((t.id for t in state.all(Task) if any(step.group == group for step in t.plan.steps)), None)
