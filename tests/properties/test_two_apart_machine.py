"""Two phones that work apart and hand over in any order, often twice, answers lost on the way: both end with the same
build, and no rule is broken. Over HTTP, against the service itself.
"""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, rule

from properties.garage_day import BOLTS, DAY_PLAN, GROUP
from support.far_phones import FarPhone, Unreachable
from support.phones import PIN, Garage, Phone
from support.service import command_id
from yokemate.planfile.write import write
from yokemate.rules.frame import COMMANDS
from yokemate.store.engine import Database
from yokemate.store.migrate import migrate
from yokemate.store.verify import differences, verify

APART = ("bram", "aled")
BARE = {"task.take", "task.join", "task.sign_off", "task.go_on"}  # a refused one says nothing to keep
apart, tasks = st.sampled_from(APART), st.sampled_from(["T1", "T2", "T3", "T6"])
bolts = st.lists(st.sampled_from(BOLTS), min_size=1, max_size=3, unique=True)
minutes = st.integers(0, 30)


@dataclass
class Morning:
    """A database with the crew in and the plan loaded, and what each phone keeps."""

    file: Path
    build: str
    people: dict[str, str]
    cookies: dict[str, dict[str, str]]


@cache
def morning() -> Morning:
    folder = Path(tempfile.mkdtemp(prefix="yokemate-apart-"))
    url = f"sqlite:///{folder / 'morning.sqlite3'}"
    database = Database(url)
    migrate(database)
    database.close()
    garage = Garage(url)
    ines = garage.first("ines")
    for name in APART:
        garage.joined(name, "builder")
    code = ines.invite("builder", may_countersign=True)["code"]
    sofia = garage.phones["sofia"] = garage.phone()
    sofia.post("/api/join", {"code": code, "name": "Sofia", "pin": PIN}, 200)
    # The torque wrench's check is in date by the clock of these tests (24 November 2025).
    plan = write(DAY_PLAN).replace("2026-05-01", "2025-11-01")
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": plan, "options": {}}, 200)
    for phone in garage.phones.values():
        assert phone.act("/sign-in", 200)["status"] == "accepted"
    people = {name: phone.person for name, phone in garage.phones.items()}
    cookies = {name: dict(phone.http.cookies) for name, phone in garage.phones.items()}
    garage.close()
    return Morning(folder / "morning.sqlite3", garage.build, people, cookies)


class Line:
    """What carries a phone's exchange; `deaf`: the service does it, the phone hears nothing."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.deaf = False

    def post(self, path: str, body: Any) -> tuple[int, Any]:
        answer = self.phone.ask("POST", path, body)
        if self.deaf:
            raise Unreachable
        return answer.status_code, answer.json()


class TwoApart(RuleBasedStateMachine):
    """Bram and Aled have no signal; Sofia, at the door, checks and signs what has arrived."""

    def __init__(self) -> None:
        super().__init__()
        begun = morning()
        self.folder = Path(tempfile.mkdtemp(prefix="yokemate-apart-"))
        shutil.copyfile(begun.file, self.folder / "build.sqlite3")
        self.garage = Garage(f"sqlite:///{self.folder / 'build.sqlite3'}")
        self.garage.build = begun.build
        self.lines: dict[str, Line] = {}
        self.phones: dict[str, FarPhone] = {}
        for name, cookies in begun.cookies.items():
            phone = self.garage.phones[name] = self.garage.phone()
            phone.http.cookies.update(cookies)
            phone.person = begun.people[name]
            self.lines[name] = Line(phone)
        for name in APART:
            door: Any = self.lines[name]
            self.phones[name] = FarPhone(name, begun.build, door, Path(":memory:"))
            assert self.phones[name].exchange()

    def types(
        self, name: str, kind: str, body: dict[str, Any], ago: int = 0, after: str | None = None
    ) -> str:
        """On the phone alone. `ago`: minutes before now, by the phone's clock."""
        self.garage.clock.wait(5)
        envelope = {"id": command_id(), "kind": kind, "body": body}
        envelope["device_ms"] = self.garage.clock() - ago * 60_000
        self.phones[name].type_in(envelope | ({"after": after} if after else {}))
        return str(envelope["id"])

    # --- apart

    @rule(
        name=apart,
        task=tasks,
        ticks=st.booleans(),
        ends=st.sampled_from([None, "sign_off", "go_home", "stuck"]),
    )
    def works_on(self, name: str, task: str, ticks: bool, ends: str | None) -> None:
        """Asked for without a connection, and worked on at once, as the app lets one do."""
        asked = self.types(name, "task.take", {"task": task})
        if ticks:
            self.types(name, "task.tick", {"task": task, "steps": ["s1"]}, after=asked)
        if ends == "sign_off":
            self.types(name, "task.sign_off", {"task": task}, after=asked)
        elif ends is not None:
            self.types(name, f"task.{ends}", {"task": task, "reason": "time"}, after=asked)

    @rule(
        name=apart,
        some=bolts,
        pass_no=st.sampled_from([1, 2, 2]),
        value=st.sampled_from([None, "24", "31"]),
        ago=minutes,
    )
    def reads(self, name: str, some: list[int], pass_no: int, value: str | None, ago: int) -> None:
        self.types(name, "torque.read", reading(some, pass_no, value), ago)

    @rule(name=apart)
    def tightens_all(self, name: str) -> None:
        self.types(name, "torque.read", reading(list(BOLTS), 1, None))
        for n in BOLTS:  # the last pass of a critical group counts one by one
            self.types(name, "torque.read", reading([n], 2, None))
        self.types(name, "torque.ask_check", {"group": GROUP})

    @rule(name=apart, some=bolts, ago=minutes)
    def loosened(self, name: str, some: list[int], ago: int) -> None:
        self.types(name, "torque.report_loosened", {"group": GROUP, "bolts": some}, ago)

    @rule(name=apart, kind=st.sampled_from(["dropped", "left_in"]))
    def drops(self, name: str, kind: str) -> None:
        self.types(name, "loose.report", {"kind": kind, "what_text": "a washer"})

    @rule(name=apart, task=tasks)
    def notes(self, name: str, task: str) -> None:
        self.types(name, "note.add", {"about_kind": "task", "about": task, "text": "see the other side"})

    @rule(name=apart)
    def was_under_the_car(self, name: str) -> None:
        """A row that goes again: nobody's phone keeps a ghost beneath the car (R27, R31)."""
        self.types(name, "hazard.under", {})
        self.hands_over(name, True, 0)
        self.types(name, "hazard.out", {})

    # --- handing over

    @rule(name=apart, heard=st.booleans(), again=st.integers(0, 3))
    def hands_over(self, name: str, heard: bool, again: int) -> None:
        """Whatever was answered before may come once more; what is not heard waits on."""
        line, phone = self.lines[name], self.phones[name]
        line.deaf = not heard
        assert phone.exchange(phone.some_answered(again)) is heard
        line.deaf = False
        assert (phone.faults, phone.differing) == ([], [])

    # --- meanwhile, at the door

    @rule()
    def sofia_checks_and_signs(self) -> None:
        """R13: what stands there now, if all of it does."""
        group = self.rows("group")[GROUP]
        if group["state"] != "final" or group.get("countersign"):
            return
        sofia = self.garage.phones["sofia"]
        found = [{"n": n, "found": "holds", "how": "torque_wrench_again"} for n in BOLTS]
        noted = sofia.act(
            f"/groups/{GROUP}/checks", 200, readings_digest=group["readings_digest"], bolts=found
        )
        assert noted["status"] == "accepted", noted
        check = max(self.rows("check").values(), key=lambda one: int(one["at_ms"]))
        body = {"checks": [check["id"]], "readings_digests": {GROUP: group["readings_digest"]}}
        around = {"pin": PIN, "seen": sofia.head()}
        signed = sofia.act("/countersigns", 200, around=around, **body)
        assert signed["status"] == "accepted", signed

    @rule(name=apart)
    def tightened_and_signed_meanwhile(self, name: str) -> None:
        """The short way to a standing signature, for the other phone to come back to."""
        self.tightens_all(name)
        self.hands_over(name, True, 0)
        self.sofia_checks_and_signs()

    def rows(self, kind: str) -> dict[str, dict[str, Any]]:
        """As the lead sees them: evidence shows to its author and the lead alone."""
        said = self.garage.phones["ines"].sync()
        return {row["id"]: row["body"] for row in said["rows"] if row["kind"] == kind}

    # --- in the evening everybody is back

    def teardown(self) -> None:
        try:
            for _ in range(2):
                for phone in self.phones.values():
                    while phone.waiting():
                        assert phone.exchange()
                    assert phone.exchange()
            self.both_hold_the_same()
            self.nothing_is_lost_or_doubled()
            self.no_signature_stands_for_something_else()
            self.the_record_holds()
        finally:
            self.garage.close()
            for phone in self.phones.values():
                phone.close()
            shutil.rmtree(self.folder, ignore_errors=True)

    def both_hold_the_same(self) -> None:
        """R2: what each may see is what the service has; but for what was typed by one of them alone, it is the same."""
        seen = {name: self.phones[name].mirror() for name in APART}
        for name, mirror in seen.items():
            said = self.garage.phones[name].sync()
            assert mirror == {(row["kind"], row["id"]): row["body"] for row in said["rows"]}
        shared = [
            {key: row for key, row in mirror.items() if key[0] != "evidence"} for mirror in seen.values()
        ]
        assert shared[0] == shared[1]

    def nothing_is_lost_or_doubled(self) -> None:
        """R3, R4: reports are never refused, every reading stands once, what was typed with a refused ask is kept once."""
        mirror = self.phones["bram"].mirror()
        kept = Counter(ask["id"] for row in self.rows("evidence").values() for ask in row["asks"])
        counted: Counter[str] = Counter()
        for name in APART:
            for envelope, outcome in self.phones[name].answered():
                kind, accepted = envelope["kind"], outcome["status"] == "accepted"
                if COMMANDS[kind].act == "report":
                    assert accepted, (envelope, outcome)
                if accepted:
                    counted["reading"] += len(envelope["body"]["bolts"]) if kind == "torque.read" else 0
                    counted["note"] += kind == "note.add"
                elif kind not in BARE:
                    assert kept[envelope["id"]] == 1, (envelope, outcome)
        assert set(kept.values()) <= {1}
        for kind in ("reading", "note"):
            assert counted[kind] == sum(1 for found, _ in mirror if found == kind)

    def no_signature_stands_for_something_else(self) -> None:
        """R13, R14: it rests on the readings that stand now, and Sofia turned none of them."""
        mirror = self.phones["bram"].mirror()
        group = mirror["group", GROUP]
        for (kind, id), row in mirror.items():
            if kind == "countersign" and row["lapsed_ms"] is None:
                assert group["countersign"] == id
                assert row["readings_digest"] == group["readings_digest"] != ""
                assert group["state"] == "final"

    def the_record_holds(self) -> None:
        """R1, R2."""
        with self.garage.service.database.read(steady=True) as connection:
            found = verify(connection, self.garage.build)
            assert found.holds, found.problems
            assert differences(connection, self.garage.build) == []


def reading(some: list[int], pass_no: int, value: str | None) -> dict[str, Any]:
    return {
        "group": GROUP, "pass_no": pass_no, "wrench": "W1", "set_value": "24" if pass_no == 2 else "12", "unit": "n_m",
        "faces": "clean", "threads": "clean_dry", "bolts": [{"n": n, "reading": value} for n in some],
    }  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def no_morning_left() -> Iterator[None]:
    yield
    if morning.cache_info().currsize:
        shutil.rmtree(morning().file.parent, ignore_errors=True)
        morning.cache_clear()


OFTEN = settings(stateful_step_count=16, deadline=None, suppress_health_check=[HealthCheck.too_slow])
TestTwoApart = TwoApart.TestCase
TestTwoApart.settings = settings(OFTEN, max_examples=8)


class Longer(TwoApart):
    """The same, for long."""


TestTwoApartForLong = pytest.mark.long(Longer.TestCase)
TestTwoApartForLong.settings = settings(OFTEN, max_examples=150)
