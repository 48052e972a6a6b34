"""The demo: an invented crew and car, loaded through the same path as everything else.

`demo_fixtures/` holds three files:

- `crew.yaml`: `build` (name, units, time_zone), `plan` (the plan's file), `options`, and `people`: each with
  `id`, `name`, `role`, `second` (one line about them), `pin`, and as wanted `skills`, `minor`,
  `may_countersign`, `icon`, `guideline_kg`, `limit_kg`, `hours` (a weekday and from-until).
  `days`: the weekday of the story so far, how many hours everybody stays today, and in how many days which gate is
  wanted; then a plan is taken.
- the plan file.
- `stretch.yaml`: a list of commands, each with `at` (its minute on its build day, by the garage's clock, and 1440 for each
  build day before that; the last command is now, and its day today), `who`, `do` (kind of command) and the command's
  fields. The build days before today are the last ones of the weekday `days.story_on`. Beside them: `as` names the command for later,
  `for_person` says for whom it was typed. In a field `@bram` is a person's id, `$name` the id of the command
  named so (`$name.visit`: of a row it made), `!in 90` the moment 90 minutes after `at`, `!readings G01` the
  digest of a group's readings as they stand, and `!undo T304` or `!undo G01` the digest of what undoing it
  brings back.
"""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from ruamel.yaml import YAML

from yokemate.handle import Actor, Answer, Envelope
from yokemate.handle.names import plain
from yokemate.routes.plan import load_plan, read_plan
from yokemate.routes.problems import render
from yokemate.routes.service import DemoPerson, Service
from yokemate.rules.decide.undo import preview_group, preview_task
from yokemate.rules.frame import COMMANDS, State
from yokemate.rules.hours import Hours, local_day, moment, zone_of
from yokemate.rules.rows import Build, Group, Task
from yokemate.rules.undo_list import list_digest
from yokemate.store import hours, ledger, people
from yokemate.store.people import Key, Private

BUILD = "demo"
MINUTE_MS = 60_000
DAY_MIN = 1440
APART_DAYS = 2  # the last build day before today is so long ago at least: what cures over night has cured
WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
GIVEN = ("skills", "minor", "may_countersign")  # what an invite gives beside the role


@dataclass(frozen=True)
class Invented:
    """One of the invented crew as the fixture says."""

    id: str
    said: dict[str, Any]

    @property
    def person(self) -> str:
        """Opaque, and the same in every demo."""
        return f"person-{hashlib.sha256(f'demo {self.id}'.encode()).hexdigest()[:16]}"

    def shown(self) -> DemoPerson:
        said = self.said
        return DemoPerson(self.person, said["name"], said["role"], said.get("second", ""), str(said["pin"]))


@dataclass(frozen=True)
class Crew:
    folder: Path
    build: dict[str, Any]
    plan: str
    options: dict[str, str]
    people: list[Invented]
    days: dict[str, Any]


@dataclass(frozen=True)
class Loaded:
    """What the demo holds."""

    name: str
    tasks: int
    entries: int


def folder() -> Path:
    """Where the fixtures are: beside the package's sources, or inside the installed package."""
    package = Path(__file__).parent
    for candidate in (package / "_demo_fixtures", package.parents[1] / "demo_fixtures"):
        if (candidate / "crew.yaml").is_file():
            return candidate
    raise FileNotFoundError(
        "the demo's files are missing from this installation of yokemate: install it again"
    )


def _yaml(path: Path) -> Any:
    return YAML(typ="safe").load(path.read_text(encoding="utf-8"))


def crew(where: Path | None = None) -> Crew:
    where = where or folder()
    said = _yaml(where / "crew.yaml")
    invented = [Invented(one["id"], one) for one in said["people"]]
    if len({plain(one.said["name"]) for one in invented}) < len(invented):
        raise ValueError("two of the demo's people have the same name")
    return Crew(
        where, said["build"], said["plan"], said.get("options") or {}, invented, said.get("days") or {}
    )


def load(at: Service, said: Crew) -> Loaded:
    """Make the demo build, unless this database holds one already. ValueError names the step that failed."""
    with at.database.read() as connection:
        there = BUILD in ledger.builds(connection)
    if not there:
        stretch = _yaml(said.folder / "stretch.yaml") or []
        _Player(at, said, _Calendar(said, [step["at"] for step in stretch], at.now_ms())).play(stretch)
    loaded = at.handler.states.current(BUILD)
    assert loaded is not None
    return Loaded(said.build["name"], sum(1 for _ in loaded.state.all(Task)), loaded.head.number)


class _Calendar:
    """When each command of the stretch was: on build days, in their hours, the last one now."""

    def __init__(self, said: Crew, ats: list[float], now_ms: int) -> None:
        zone = zone_of(said.build["time_zone"])
        self._zone, self._now_ms, self._last = zone, now_ms, max(ats, default=0)
        self._days = int(self._last // DAY_MIN)
        latest = local_day(now_ms, zone) - timedelta(days=APART_DAYS)
        back = (latest.weekday() - WEEK.index(said.days.get("story_on", "sat"))) % 7
        self._last_day = latest - timedelta(days=back)
        self.first_ms = self.ms(min(ats, default=0))
        self.today_ms = self.ms(min((at for at in ats if at // DAY_MIN == self._days), default=0))

    def ms(self, at: float) -> int:
        day, minute = divmod(at, DAY_MIN)
        if day == self._days:
            return self._now_ms - int((self._last - at) * MINUTE_MS)
        on = self._last_day - timedelta(weeks=self._days - 1 - int(day))
        return moment(on, int(minute), self._zone) + int(minute % 1 * MINUTE_MS)


class _Player:
    """Plays the fixture into a service whose clock it holds meanwhile."""

    def __init__(self, at: Service, said: Crew, calendar: _Calendar) -> None:
        self._at = at
        self._said = said
        self._calendar = calendar
        self._now_ms = calendar.first_ms
        self._by_id = {one.id: one for one in said.people}
        self._keys: dict[str, Key] = {}
        self._named: dict[str, str] = {}
        self._count = 0
        self._who = ""

    def play(self, stretch: list[dict[str, Any]]) -> None:
        handler = self._at.handler
        clock, handler.clock = handler.clock, lambda: self._now_ms
        try:
            self._gather()
            for number, step in enumerate(stretch, start=1):
                self._now_ms = self._calendar.ms(step["at"])
                self._step(number, dict(step))
            if self._said.days:
                self._days()
        finally:
            handler.clock = clock

    def _gather(self) -> None:
        """The build, its crew, each by an invite of the lead's, and the plan."""
        at, now_ms = self._at, self._now_ms
        plan = read_plan(
            (self._said.folder / self._said.plan).read_text(encoding="utf-8"), self._said.options
        )
        hashed = {one.id: at.handler.pins.hashed(str(one.said["pin"])) for one in self._said.people}
        with at.database.write() as connection:
            for one in self._said.people:
                self._keys[one.id] = people.new_key()
                limit = one.said.get("limit_kg")
                private = Private(None if limit is None else str(limit), one.said.get("guideline_kg"))
                people.add(
                    connection,
                    one.person,
                    one.said["name"],
                    now_ms,
                    pin_hash=hashed[one.id],
                    icon=one.said.get("icon"),
                    private=private,
                )
                people.enrol(connection, self._keys[one.id], one.person, now_ms, "Demo")
        lead = next(one for one in self._said.people if one.said["role"] == "lead")
        self._done(
            "the build", self._send(lead, "build.make", self._said.build | {"demo": True}, first=self._found)
        )
        # Whoever makes a build joins by no invite, so what an invite would have given is said afterwards.
        change: dict[str, Any] = {"person": lead.person}
        change |= {name: lead.said[name] for name in GIVEN if name in lead.said}
        self._done("the lead", self._send(lead, "crew.change_member", change, seen=self._state().head))
        for one in self._said.people:
            if one is not lead:
                invite: dict[str, Any] = {"invite": f"invite-{one.person}", "role": one.said["role"]}
                invite |= {name: one.said[name] for name in GIVEN if name in one.said}
                self._done(f"inviting {one.id}", self._send(lead, "crew.invite", invite))
                self._done(f"{one.id} joining", self._send(one, "crew.join", {"invite": invite["invite"]}))
        seen = self._state().head
        actor = Actor(lead.person, self._keys[lead.id].device, True)
        self._done("the plan", load_plan(at, BUILD, actor, plan, self._said.options, seen=seen))

    def _days(self) -> None:
        """Hours, wanted dates, and a plan of the days that the lead takes."""
        at, state = self._at, self._state()
        zone = zone_of(state.get(Build, "build").time_zone)
        today = local_day(self._now_ms, zone)
        with at.database.write() as connection:
            for one in self._said.people:
                if one.said.get("hours"):
                    said = self._hours(one.said["hours"], zone)
                    hours.keep(connection, BUILD, one.person, said, one.person, self._now_ms)
        lead = next(one for one in self._said.people if one.said["role"] == "lead")
        for gate, days in self._said.days.get("wanted", {}).items():
            on = (today + timedelta(days=days)).isoformat()
            self._done(f"wanting {gate}", self._send(lead, "gate.want", {"gate": gate, "on": on}))
        with at.database.read() as connection:
            said_hours = hours.of_build(connection, BUILD)
        found = at.planner.plan(BUILD, self._state(), said_hours, self._now_ms)
        self._done("the plan of the days", self._send(lead, "days.take", {"offer": found.best.id}))

    def _hours(self, said: dict[str, str], zone: ZoneInfo) -> Hours:
        weekly = []
        for day, span in said.items():
            begins, _, ends = span.partition("-")
            weekly.append({"weekday": WEEK.index(day), "begins": begins, "ends": ends})
        now = datetime.fromtimestamp(self._now_ms / 1000, zone)
        came = datetime.fromtimestamp(self._calendar.today_ms / 1000, zone)
        until = min(24, now.hour + int(self._said.days["today_hours"]))
        today = {
            "on": now.date().isoformat(),
            "comes": True,
            "begins": f"{came.hour:02}:00" if came.date() == now.date() else "00:00",
            "ends": "24:00" if until == 24 else f"{until:02}:00",
        }
        return Hours.model_validate({"weekly": weekly, "exceptions": [today]})

    def _found(self, connection: people.Connection) -> None:
        ledger.found_build(connection, BUILD, self._now_ms)

    def _state(self) -> State:
        loaded = self._at.handler.states.current(BUILD)
        assert loaded is not None
        return loaded.state

    def _step(self, number: int, step: dict[str, Any]) -> None:
        who, kind = self._by_id[step.pop("who")], step.pop("do")
        del step["at"]
        self._who = who.person
        name, for_person = step.pop("as", None), step.pop("for_person", None)
        about = f"step {number} ({who.id}: {kind})"
        try:
            fields = {field: self._meant(value) for field, value in step.items()}
            spec = COMMANDS[kind]
        except KeyError as unknown:
            raise ValueError(f"demo, {about}: {unknown} is not known") from None
        seen = self._state().head if spec.needs_seen else None
        other = self._by_id[for_person.removeprefix("@")] if for_person else None
        pin = str((other or who).said["pin"]) if spec.pin or other else None
        answer = self._send(who, kind, fields, seen=seen, pin=pin, for_person=other.person if other else None)
        self._done(about, answer)
        if name:
            self._named[name] = answer.id

    def _send(
        self,
        who: Invented,
        kind: str,
        fields: dict[str, Any],
        *,
        pin: str | None = None,
        first: Callable[[people.Connection], None] | None = None,
        **around: Any,
    ) -> Answer:
        self._count += 1
        id = str(uuid.uuid5(uuid.NAMESPACE_URL, f"urn:yokemate:demo:{self._count}"))
        envelope = Envelope(id=id, kind=kind, body=fields, device_ms=self._now_ms, **around)
        return self._at.handler.handle(
            BUILD, Actor(who.person, self._keys[who.id].device, True), envelope, pin, first=first
        )

    def _done(self, about: str, answer: Answer) -> None:
        if answer.code:
            problem = render(self._at, answer.code, answer.params, build=BUILD)
            raise ValueError(f"demo, {about}: {problem.detail} {problem.way_on}")

    def _meant(self, value: Any) -> Any:
        if isinstance(value, dict):
            return {self._meant(name): self._meant(inner) for name, inner in value.items()}
        if isinstance(value, list):
            return [self._meant(inner) for inner in value]
        if not isinstance(value, str) or not value:
            return value
        if value[0] == "@":
            return self._by_id[value[1:]].person
        if value[0] == "$":
            name, dot, rest = value[1:].partition(".")
            return self._named[name] + dot + rest
        if value[0] == "!":
            return self._worked_out(*value[1:].split())
        return value

    def _worked_out(self, what: str, about: str) -> Any:
        if what == "in":
            return self._now_ms + int(float(about) * MINUTE_MS)
        if what == "readings":
            return self._state().get(Group, about).readings_digest
        if what == "undo":
            preview = preview_task if self._state().find(Task, about) else preview_group
            return list_digest(preview(self._state(), self._who, self._now_ms, about))
        raise KeyError(f"!{what}")
