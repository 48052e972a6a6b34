"""How a change is decided and told. This file knows no subject: subjects register themselves here.

Theory of operation. A *command* (a frozen model, `commands/`) asks or reports. The function registered for it
with `@decides` looks at the `Draft` of one build's rows and either raises `Refused` (nothing changed) or calls
`tell(kind, **data)` once per *entry*. Telling runs the function registered with `@applies` for that entry kind
at once on the draft, so the rest of the decision sees what it has told. When the ledger is replayed the very same
functions run on the very same data; they never look at a clock, chance, or `calc`, and never refuse.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, ClassVar, Literal, TypeVar, cast, get_args

from pydantic import BaseModel, ConfigDict

from yokemate.rules.hours import Hours
from yokemate.rules.refusals import Refused

Role = Literal["lead", "builder", "helper", "viewer"]
Act = Literal["ask", "report"]
Sent = Literal["kept", "now", "stop"]
ROLES: tuple[Role, ...] = get_args(Role)


class Row(BaseModel):
    """One row of a build's state. Frozen; changed by replacing it. `id` is unique within its kind."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    KIND: ClassVar[str]
    id: str


class RowPart(BaseModel):
    """A piece of a row. Frozen, closed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Command(BaseModel):
    """What somebody asks or reports, without who, when and on which device (that is the `Ctx`)."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    SPEC: ClassVar[CommandSpec]


@dataclass(frozen=True)
class CommandSpec:
    """One line of the registry of commands; REST routes, web types, role matrix and tests come from it."""

    kind: str
    path: str  # REST path below /api/builds/{build}; {fields} name fields of the command
    act: Act
    sent: Sent
    who: frozenset[Role]
    deputy: bool  # a deputy for the day may do it whatever their role
    says: str  # one sentence
    refusals: tuple[str, ...]
    pin: bool  # needs the person's PIN beside the command
    needs_seen: bool  # plan edits and signatures: `seen` required
    model: type[Command]


@dataclass(frozen=True)
class Facts:
    """What stands outside the ledger and is never written down; filled in by `handle`."""

    pin_ok: bool | None = None  # None: no PIN came with it
    pin_short: bool = False  # the PIN that came is too easy to guess for a lead (R29)
    suits: Mapping[tuple[str, str], bool] = field(default_factory=dict)  # (person, place id) -> suits
    figure_unsaid: frozenset[tuple[str, str]] = frozenset()  # unsuited only because they said no figure
    own_kg: Fraction | None = (
        None  # what the viewer alone bears at most, for what is shown to them alone (R21)
    )
    phones_alive: frozenset[str] = frozenset()  # person ids whose phone answered a beat within 6 s
    voice_only: bool = False
    over_open_network: bool = False
    hours: Mapping[str, Hours] = field(default_factory=dict)  # person -> when they can come
    offer: Mapping[str, Any] | None = None  # the plan of the days that the command names


@dataclass(frozen=True)
class Ctx:
    """Who, on which device, when. Times are integer milliseconds since 1970, UTC."""

    id: str  # the command's id: UUIDv7 made on the phone; new rows take their ids from it
    who: str  # person id
    device: str
    now_ms: int  # the server's clock
    device_ms: int
    typed_by: str | None = None  # set when somebody typed it for `who` (R29)
    seen: int | None = None  # head number the person was looking at
    facts: Facts = Facts()


@dataclass(frozen=True)
class Entry:
    """One fact of the ledger. `data` is JSON with no float in it (R1, R2, R16)."""

    kind: str
    data: Mapping[str, Any]
    by: str
    device: str
    device_ms: int
    at_ms: int
    version: int = 1
    command: str = ""
    typed_by: str | None = None


R = TypeVar("R", bound=Row)
C = TypeVar("C", bound=Command)


class State:
    """The rows of one build at one head number. Treat as immutable: changes go through a `Draft`."""

    def __init__(self, rows: dict[str, dict[str, Row]] | None = None, head: int = 0) -> None:
        self.rows: dict[str, dict[str, Row]] = rows or {}
        self.head = head

    def find(self, kind: type[R], id: str) -> R | None:
        return cast("R | None", self.rows.get(kind.KIND, {}).get(id))

    def get(self, kind: type[R], id: str) -> R:
        """The row, or `Refused('unknown')` that names the kind and id (R32)."""
        row = self.find(kind, id)
        if row is None:
            raise Refused("unknown", what=kind.KIND, id=id)
        return row

    def all(self, kind: type[R]) -> Iterator[R]:
        return cast("Iterator[R]", iter(self.rows.get(kind.KIND, {}).values()))


class Draft(State):
    """A state being changed: an overlay on `base`, which stays as it was. Collects entries and changed rows."""

    def __init__(self, base: State) -> None:
        super().__init__(dict(base.rows), base.head)
        self._own: set[str] = set()
        self.changed: dict[tuple[str, str], Row | None] = {}

    def _table(self, kind: str) -> dict[str, Row]:
        if kind not in self._own:
            self.rows[kind] = dict(self.rows.get(kind, {}))
            self._own.add(kind)
        return self.rows[kind]

    def put(self, row: Row) -> None:
        self._table(row.KIND)[row.id] = row
        self.changed[(row.KIND, row.id)] = row

    def change(self, kind: type[R], id: str, **fields: Any) -> R:
        """Replace fields of one row and return it. Unknown field names are programming errors."""
        old = self.rows[kind.KIND][id]
        unknown = fields.keys() - type(old).model_fields.keys()
        if unknown:
            raise AttributeError(f"{kind.KIND} has no field {sorted(unknown)}")
        new = cast("R", old.model_copy(update=fields))
        self.put(new)
        return new

    def drop(self, kind: type[Row], id: str) -> None:
        """Take a row out (it stays in the store with `gone_at`, so phones learn of it)."""
        if self._table(kind.KIND).pop(id, None) is not None:
            self.changed[(kind.KIND, id)] = None

    def done(self, head: int) -> State:
        return State(self.rows, head)


@dataclass(frozen=True)
class At:
    """What an applying function may know of an entry beside its data."""

    by: str
    device: str
    device_ms: int
    at_ms: int
    command: str
    typed_by: str | None


class Deciding(Draft):
    """A draft with the context of one command: `tell` writes an entry and applies it at once."""

    def __init__(self, base: State, ctx: Ctx) -> None:
        super().__init__(base)
        self.ctx = ctx
        self.entries: list[Entry] = []

    @property
    def who(self) -> str:
        return self.ctx.who

    @property
    def now_ms(self) -> int:
        return self.ctx.now_ms

    def tell(self, kind: str, /, **data: Any) -> None:
        ctx = self.ctx
        entry = Entry(
            kind=kind, data=data, by=ctx.who, device=ctx.device, device_ms=ctx.device_ms, at_ms=ctx.now_ms,
            version=ENTRY_VERSIONS.get(kind, 1), command=ctx.id, typed_by=ctx.typed_by,
        )  # fmt: skip
        self.entries.append(entry)
        apply_entry(self, entry)

    def new_id(self, part: str = "") -> str:
        """An id for a new row: the command's own id, so that deciding needs no chance."""
        return f"{self.ctx.id}.{part}" if part else self.ctx.id


Decide = Callable[[Deciding, Any], None]
Apply = Callable[..., None]

COMMANDS: dict[str, CommandSpec] = {}
_DECIDES: dict[str, Decide] = {}
_APPLIES: dict[str, Apply] = {}
_SETTLES: list[Callable[[Deciding], None]] = []
_UPCASTS: dict[tuple[str, int], Callable[[dict[str, Any]], dict[str, Any]]] = {}
ENTRY_VERSIONS: dict[str, int] = {}

CREW: frozenset[Role] = frozenset({"lead", "builder", "helper"})
LEAD: frozenset[Role] = frozenset({"lead"})
BUILDERS: frozenset[Role] = frozenset({"lead", "builder"})
EVERYBODY: frozenset[Role] = frozenset(ROLES)


def command(
    kind: str,
    path: str,
    *,
    act: Act = "ask",
    sent: Sent = "kept",
    who: frozenset[Role] = CREW,
    deputy: bool = False,
    refusals: tuple[str, ...] = (),
    pin: bool = False,
    needs_seen: bool = False,
) -> Callable[[type[C]], type[C]]:
    """Register a command model. Its docstring's first line is the sentence shown in the REST document."""

    def register(model: type[C]) -> type[C]:
        says = (model.__doc__ or "").strip().splitlines()[0]
        model.SPEC = CommandSpec(kind, path, act, sent, who, deputy, says, refusals, pin, needs_seen, model)
        if kind in COMMANDS:
            raise RuntimeError(f"command {kind} registered twice")
        COMMANDS[kind] = model.SPEC
        return model

    return register


def decides(model: type[Command]) -> Callable[[Callable[[Deciding, C], None]], Callable[[Deciding, C], None]]:
    def register(fn: Callable[[Deciding, C], None]) -> Callable[[Deciding, C], None]:
        _DECIDES[model.SPEC.kind] = fn
        return fn

    return register


def applies(kind: str, version: int = 1) -> Callable[[Apply], Apply]:
    """Register how an entry changes rows. The function's keyword arguments ARE the entry's data shape."""

    def register(fn: Apply) -> Apply:
        if kind in _APPLIES:
            raise RuntimeError(f"entry {kind} applied twice")
        _APPLIES[kind] = fn
        ENTRY_VERSIONS[kind] = version
        return fn

    return register


def settles(fn: Callable[[Deciding], None]) -> Callable[[Deciding], None]:
    """Register a consequence that follows from rows alone, looked for after every accepted command."""
    _SETTLES.append(fn)
    return fn


def upcasts(kind: str, from_version: int) -> Callable[[Callable[[dict[str, Any]], dict[str, Any]]], Any]:
    def register(fn: Callable[[dict[str, Any]], dict[str, Any]]) -> Any:
        _UPCASTS[(kind, from_version)] = fn
        return fn

    return register


def apply_entry(draft: Draft, entry: Entry) -> None:
    data = dict(entry.data)
    for version in range(entry.version, ENTRY_VERSIONS.get(entry.kind, 1)):
        data = _UPCASTS[(entry.kind, version)](data)
    at = At(entry.by, entry.device, entry.device_ms, entry.at_ms, entry.command, entry.typed_by)
    _APPLIES[entry.kind](draft, at, **data)


def run(state: State, cmd: Command, ctx: Ctx) -> Deciding:
    """Decide one command. Returns the draft with `entries` and `changed`; raises `Refused`.

    Membership, role and PIN are judged here, once, from the registry (R29, R30).
    """
    from yokemate.rules.gatekeeper import may  # late: it reads the rows that subjects define

    deciding = Deciding(state, ctx)
    may(deciding, cmd.SPEC)
    _DECIDES[cmd.SPEC.kind](deciding, cmd)
    settle_all(deciding)
    return deciding


def settle_all(deciding: Deciding) -> None:
    """Tell consequences until nothing more follows. A rule that never rests is a programming error."""
    for _ in range(20):
        before = len(deciding.entries)
        if before:
            for settle in _SETTLES:
                settle(deciding)
        if len(deciding.entries) == before:
            return
    raise RuntimeError("consequences do not come to rest")


def replay(entries: Iterator[Entry]) -> State:
    """The state that follows from a ledger (R2)."""
    draft = Draft(State())
    number = 0
    for number, entry in enumerate(entries, start=1):
        apply_entry(draft, entry)
    return draft.done(number)
