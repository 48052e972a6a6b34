"""One exchange of a phone: an outcome for all that waited, and the changed rows that it may see."""

from __future__ import annotations

import gzip
import json
from typing import Annotated, Any

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from yokemate.handle import Answer
from yokemate.handle.batch import Batch
from yokemate.handle.shapes import EXACT, CommandId
from yokemate.routes.doors import Inside, again, inside
from yokemate.routes.problems import Outcome, outcome_of
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.sees import sees
from yokemate.routes.service import Service, service
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Evidence, Member
from yokemate.store import ledger, receipts, row_tables

router = APIRouter(prefix="/api/builds/{build}", tags=["sync"])
AT_ONCE = 200
WORTH_PACKING = 1400  # what fits one packet goes as it is


class Head(BaseModel):
    """Where a build's ledger stands: number of its last entry and that entry's digest."""

    number: int = Field(ge=0, le=EXACT)
    digest: str = Field(max_length=64)


class Exchange(BaseModel):
    """`cursor`: the head this phone has (null: nothing yet). `knew`: with no cursor, the last head it heard of before its
    rows went, as when it was put out and let in again. `commands`: what waited, in order.

    What a newer app says beside these is left aside: it must never hold up what waits.
    """

    model_config = ConfigDict(extra="ignore")
    cursor: Head | None = None
    knew: Head | None = None
    commands: Annotated[list[Any], Field(max_length=AT_ONCE)] = []


class RowChange(BaseModel):
    """A row as it is now; `body` null: it is gone."""

    kind: str
    id: str
    changed_at: int
    body: dict[str, Any] | None


class Exchanged(BaseModel):
    """`reset`: forget the mirror and take these rows instead. `forked`: this service does not know that head
    (a restored backup): offer again what it had acknowledged. Then nothing was judged, and there are no outcomes: what
    was handed over may build on what is missing here."""

    head: Head
    now_ms: int  # the service's clock: a phone's own may be wrong
    forked: bool
    reset: bool
    outcomes: list[Outcome]
    rows: list[RowChange]


@router.post(
    "/sync", operation_id="sync", responses={200: {"model": Exchanged}, **listed(*INSIDE, "bad_input")}
)
def sync(request: Request, build: str, exchange: Exchange) -> Response:
    """Hand over what waited, fetch what changed. Each command is judged alone: a bad one holds up nothing."""
    here = inside(request, build)
    at = service(request)
    cursor = exchange.cursor or Head(number=0, digest="")
    heard_of = exchange.cursor or exchange.knew or cursor
    answers: list[Answer] = []
    with at.database.read() as connection:
        forked = ledger.forked(connection, build, heard_of.number, heard_of.digest)
    if exchange.commands and not forked:
        answers = Batch(at.handler, build, here.actor).run(exchange.commands)
        here = again(here, at)
    outcomes = [outcome_of(at, one, here.actor.person, build, here.loaded.head.number) for one in answers]
    return _sent(request, _exchanged(at, here, cursor, heard_of, outcomes), bare=not outcomes)


def _sent(request: Request, body: bytes, *, bare: bool) -> Response:
    """A phone's first exchange brings half a megabyte of rows, a tenth of that packed. Where there are outcomes it goes as it
    is: one can rest on a private limit, and a length could tell (R21)."""
    headers = {}
    if bare and len(body) >= WORTH_PACKING and "gzip" in request.headers.get("accept-encoding", ""):
        body = gzip.compress(body, compresslevel=1, mtime=0)
        headers["Content-Encoding"] = "gzip"
    return Response(body, media_type="application/json", headers=headers)


def _exchanged(at: Service, here: Inside, cursor: Head, heard_of: Head, outcomes: list[Outcome]) -> bytes:
    """Rows go out as the text they are stored as; nothing is parsed and written again."""
    with at.database.read(steady=True) as connection:
        found = ledger.head_and_stamp(connection, here.build)
        assert found is not None
        head = found[0]
        forked = ledger.forked(connection, here.build, heard_of.number, heard_of.digest)
        after = 0 if forked else cursor.number
        lines = list(row_tables.changed_since(connection, here.build, after)) if head.number > after else []
        mine = any(one.kind == Member.KIND and one.id == here.member.id for one in lines)
        reset = after == 0 or mine  # what I may see can have changed with my role
        if reset and after:
            lines = list(row_tables.changed_since(connection, here.build, 0))
    now_ms = at.now_ms()
    rows = [
        f'{{"kind":{json.dumps(one.kind)},"id":{json.dumps(one.id)},"changed_at":{one.changed_at},'
        f'"body":{one.body or "null"}}}'
        for one in lines
        if not (reset and one.body is None) and sees(here.member, one.kind, now_ms, _by(one))
    ]
    said = ",".join(one.model_dump_json() for one in outcomes)
    return (
        f'{{"head":{{"number":{head.number},"digest":"{head.digest}"}},"now_ms":{now_ms},"forked":{json.dumps(forked)},'
        f'"reset":{json.dumps(reset)},"outcomes":[{said}],"rows":[{",".join(rows)}]}}'
    ).encode()


def _by(line: row_tables.Line) -> str | None:
    if line.kind != Evidence.KIND or line.body is None:
        return None
    by = json.loads(line.body)["by"]
    return by if isinstance(by, str) else None


@router.get(
    "/outcomes/{command}",
    operation_id="outcome",
    responses={200: {"model": Outcome}, **listed(*INSIDE, "never_seen")},
)
def outcome(request: Request, build: str, command: CommandId) -> Response:
    """What became of a command of this device whose answer was lost."""
    here = inside(request, build)
    at = service(request)
    with at.database.read() as connection:
        found = receipts.find(connection, build, here.actor.device, command)
    if found is None:
        raise Refused("never_seen")
    answer = Answer.from_kept(found.outcome)
    said = outcome_of(at, answer, here.actor.person, build)
    return Response(said.model_dump_json(), media_type="application/json")
