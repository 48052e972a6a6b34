"""Deviations, snags, notes, photos, kept evidence."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import StrictBool

from yokemate.rules.commands.fields import Digest, Id, PhotoId, Text
from yokemate.rules.frame import CREW, LEAD, Command, command


@command("deviation.propose", "/tasks/{task}/deviations", act="report")
class ProposeDeviation(Command):
    """Done differently: manual says, we did, why (R9)."""

    task: Id
    step: Id | None = None
    group: Id | None = None
    leave_out: StrictBool = False  # the step is left out altogether
    manual_says_text: Text
    we_did_text: Text
    why_text: Text
    answer_text: Text | None = None  # the maker's or an engineer's answer
    photo: PhotoId | None = None


@command(
    "deviation.accept", "/deviations/{deviation}/accept", who=LEAD, deputy=True, needs_seen=True,
    refusals=("did_the_work", "answer_missing", "somebody_else", "already_closed"),
)  # fmt: skip
class AcceptDeviation(Command):
    """Accept a deviation: somebody who did not do it; two on critical work, with the maker's answer (R9)."""

    deviation: Id
    answer_text: Text | None = None


@command("snag.report", "/snags", act="report", who=CREW)
class ReportSnag(Command):
    """Something found wrong, to be put right."""

    task: Id | None = None
    group: Id | None = None
    what_text: Text
    photo: PhotoId | None = None


@command("snag.put_right", "/snags/{snag}/put-right", refusals=("already_closed",))
class PutSnagRight(Command):
    """A snag was put right."""

    snag: Id


@command("note.add", "/notes", act="report", who=CREW)
class AddNote(Command):
    """Words, a photo or both on a task, group, lift, loose end or gate."""

    about_kind: Literal["task", "group", "lift", "loose_end", "gate"]
    about: Id
    text: Text | None = None
    photo: PhotoId | None = None


@command("note.withdraw", "/payloads/{payload}/withdraw", sent="now", who=LEAD, refusals=("already_closed",))
class WithdrawPayload(Command):
    """Withdraw the body of a note, reason or photo; the entry and its digest stay (R1)."""

    payload: Digest
    reason: Literal["somebody_in_it", "private", "wrong_one", "other"]


@command("evidence.keep", "/evidence", act="report", who=CREW)
class KeepEvidence(Command):
    """What was typed offline with refused asks is kept as one bundle (R4). Made by `handle`, not by people."""

    task: Id | None = None
    code: Id
    asks: list[dict[str, Any]]
    joins: Id | None = None  # the bundle of an earlier exchange that these are the rest of
