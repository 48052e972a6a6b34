"""R21 by two worlds: in one Bram has a private limit and meets it, in the other he only declines. Every byte that
others receive is the same; a lead who tries loads, or types for him, learns nothing.

Ids, keys and the clock are the same in both worlds, so that the comparison leaves nothing out.
"""

from __future__ import annotations

import random
import secrets
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rules.world import lift, plan, task
from support.phones import Garage
from support.service import fresh_sqlite
from yokemate.planfile.model import Step
from yokemate.planfile.write import write

OTHERS = ("ines", "kofi", "vera")
PLAN = plan(
    task("T1", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, hazards=["lift"]),
    task("T2", "Sweep the floor"),
    lifts=[lift("L1", mass_kg="20")],
)
VIEWS = ("lifts", "lifts/L1", "queue", "queue?limit=1", "plan", "tasks/T1/view", "loose-ends", "gates", "stores",
         "checks", "people", "record?count=500", "record/verify")  # fmt: skip
MASSES = ("5", "33")  # kg: little, and just within what two carry


PRESSES = (  # as a phone sends them: ids that say its own clock (RFC 9562, version 7), times set right by the service's
    {"id": "0199a7c2-5b1e-7d3a-9c40-3f2e1d0c9b8a", "device_ms": 1_800_000_001_200},
    {"id": "0199a7c2-643c-7b21-a3c8-0b7fd1a90e55", "device_ms": 1_800_000_003_534},
)


def tried(number: int) -> str:
    """The id of a command that only one world has: taken from no common source, so that nothing else shifts."""
    return str(uuid.UUID(int=number, version=4))


class TwinWorld:
    """One of two worlds: the same crew and plan; what is `private` to Bram is all that differs, and what he does about it."""

    def __init__(
        self, url: str, monkeypatch: pytest.MonkeyPatch, private: dict[str, Any], seed: int = 21
    ) -> None:
        chance = random.Random(seed)
        monkeypatch.setattr(secrets, "token_hex", lambda n=32: chance.randbytes(n).hex())
        monkeypatch.setattr(secrets, "token_urlsafe", lambda n=32: chance.randbytes(n).hex())
        monkeypatch.setattr(uuid, "uuid4", lambda: uuid.UUID(bytes=chance.randbytes(16), version=4))
        self.garage = garage = Garage(url)
        self.pokes: list[tuple[int, str]] = []
        garage.service.handler.poke = lambda build, now: self.pokes.append((now.head.number, now.head.digest))
        garage.first("ines")
        garage.joined("bram", "builder", **private)
        garage.joined("kofi", "builder")
        garage.joined("vera", "viewer")
        self.ines, self.bram = garage.phones["ines"], garage.phones["bram"]
        plan_file = {"seen": self.ines.head(), "text": write(PLAN), "options": {}}
        self.ines.post(f"{self.ines.home}/plan", plan_file, 200)
        for name in ("ines", "bram", "kofi"):
            garage.phones[name].act("/sign-in")
        self.cursors: dict[str, Any] = {}
        self.heard: list[tuple[str, str, str, int, dict[str, str], bytes]] = []
        self.told: list[str] = []
        self._tried = 0

    def listen(self, when: str, *names: str) -> None:
        """All that others can receive now, as bytes, with status and headers (ETags too)."""
        for name in names or OTHERS:
            phone = self.garage.phones[name]
            home = phone.home
            for path in VIEWS:
                self._hear(when, name, path, phone.ask("GET", f"{home}/{path}"))
            for cursor in (None, self.cursors.get(name)):
                answer = phone.ask("POST", f"{home}/sync", {"cursor": cursor, "commands": []})
                self._hear(when, name, "sync", answer)
            self.cursors[name] = answer.json()["head"]
        self.heard.append((when, "everybody", "pokes", len(self.pokes), {}, repr(self.pokes).encode()))

    def _hear(self, when: str, name: str, path: str, answer: Any) -> None:
        assert answer.status_code in (200, 403), (path, answer.text)
        self.heard.append((when, name, path, answer.status_code, dict(answer.headers), answer.content))

    def try_places(self) -> None:
        """Bram presses on both places, by his phone's own route and from its outbox; what he is told."""
        for place in ("front", "rear"):
            self._tried += 1
            body = {"id": tried(self._tried), "body": {}}
            self.told.append(self.bram.post(f"{self.bram.home}/lifts/L1/places/{place}", body).get("code"))
        self._tried += 3
        take, ready, no_place = (tried(self._tried - n) for n in range(3))
        outbox = [
            {"id": take, "kind": "lift.take_place", "body": {"lift": "L1", "place": "front"}},
            {"id": ready, "kind": "lift.ready", "body": {"lift": "L1"}, "after": take},
            {"id": no_place, "kind": "lift.ready", "body": {"lift": "L1"}},
        ]
        outcomes = self.bram.sync(*outbox)["outcomes"]
        self.told += [one["problem"]["code"] for one in outcomes if one.get("problem")]

    def decline(self) -> None:
        sent = {
            "id": tried(10_000 + len(self.heard)),
            "kind": "lift.answer",
            "body": {"lift": "L1", "will_come": False},
        }
        assert self.bram.sync(sent)["outcomes"][0]["status"] == "accepted"

    def weigh(self, mass_kg: str) -> None:
        load = {"mass_kg": mass_kg, "cg_x_mm": "500", "cg_y_mm": "0", "how_known_text": "tried"}
        self.ines.act("/lifts/L1/weigh", **load)


Act = Callable[[TwinWorld], None]


def a_day(world: TwinWorld, bram_tries: Act) -> None:
    """What is common to both worlds; `bram_tries` is what a limit makes different, seen by nobody."""
    world.weigh("40")
    world.listen("above guidance, with what would make it work", "ines")
    crane = world.ines.get(f"{world.ines.home}/lifts/L1")["ways"][0]
    world.ines.act("/lifts/L1/rearrange", way=crane["id"], rated_kg="500")
    world.listen("the crane bears half of it", "ines")
    world.ines.act("/lifts/L1/rearrange", way="as_planned")
    world.weigh("20")
    world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())
    for phone in (world.bram, world.garage.phones["kofi"]):  # places are proposed to who comes
        phone.act("/lifts/L1/answer", will_come=True)
    world.listen("called")
    bram_tries(world)
    world.listen("Bram has tried, or not")
    world.decline()
    world.listen("declined")
    for mass in MASSES:
        world.weigh(mass)
        bram_tries(world)
        world.listen(f"the lead tries {mass} kg", "ines")
        for place in ("front", "rear"):
            typed = {"for_person": world.bram.person, "body": {}}
            answer = world.ines.ask("POST", f"{world.ines.home}/lifts/L1/places/{place}", typed)
            world.heard.append(("typed for Bram", "ines", place, answer.status_code, {}, answer.content))
    world.weigh("200")
    world.listen("so much that it is called off")
    world.weigh("20")
    world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())
    bram_tries(world)
    world.garage.phones["kofi"].act("/lifts/L1/places/front")
    world.decline()
    world.listen("Kofi has a place")


@pytest.fixture
def twin(sqlite_template: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., TwinWorld]:
    def make(name: str, **private: Any) -> TwinWorld:
        (tmp_path / name).mkdir()
        return TwinWorld(fresh_sqlite(sqlite_template, tmp_path / name), monkeypatch, private)

    return make


def nothing(world: TwinWorld) -> None:
    """He sees the load and leaves it at that."""


def tries(world: TwinWorld) -> None:
    world.try_places()


def test_r21_meeting_a_limit_reads_as_declining_to_all_others(twin: Callable[..., TwinWorld]) -> None:
    """R21: limits below every share that is tried, and none at all: not a byte differs for others, nor can the lead
    bracket a limit by trying loads; his own screen differs."""
    worlds, own = [], []
    for limit in ("2", "1.5", None):
        world = twin(f"limit {limit}", **({"limit_kg": limit, "guideline_kg": 25} if limit else {}))
        a_day(world, tries if limit else nothing)
        own.append(world.bram.get(f"{world.bram.home}/lifts/L1")["places"])
        world.garage.close()
        worlds.append(world)

    for other in worlds[:2]:
        for here, there in zip(worlds[2].heard, other.heard, strict=True):
            assert here == there, f"{here[1]} can tell by {here[2]} when {here[0]}"
    assert len(worlds[2].heard) > 150
    assert worlds[0].told[:3] == ["does_not_suit"] * 3 and worlds[2].told == []
    assert own[0] == own[1] != own[2]


def test_r20_who_is_of_the_smaller_figure_or_said_none_is_not_offered_a_lift_for_the_larger(
    twin: Callable[..., TwinWorld],
) -> None:
    """32 kg by two, 16 each: within two thirds of 25 + 25 (33.3 kg), above two thirds of 16 + 16 (21.3), though 16 is
    nobody's too much alone (HSE L23 par. 120). R20: Bram of the 16 kg figure is told so and lifts it not; at 20 kg he may,
    and above guidance, with a reason, his own yes is asked. Who has not said which figure is his is judged as of the
    lower one, and told so. R21: to others it is as if he had not pressed.
    """
    worlds, offered = [], []
    for figure in (16, 25, None):
        world = twin(f"figure {figure}", **({"guideline_kg": figure} if figure else {}))
        world.weigh("32")
        world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())
        world.bram.act("/lifts/L1/answer", will_come=True)
        places = world.bram.get(f"{world.bram.home}/lifts/L1")["places"]
        offered.append([(one["offered"], one["proposed"]) for one in places if one["kind"] == "lifter"])
        if figure != 25:
            world.try_places()
        world.listen("32 kg")
        world.weigh("20")
        world.bram.act("/lifts/L1/places/front")
        world.listen("20 kg")
        world.ines.act("/lifts/L1/stand-down", reason="other")
        world.weigh("36")
        world.ines.act("/lifts/L1/call", when_ms=world.garage.clock(), above_reason_text="short and level")
        body = {"id": tried(50), "body": {}}
        world.told.append(world.bram.post(f"{world.bram.home}/lifts/L1/places/front", body, 409).get("code"))
        world.bram.act("/lifts/L1/places/front", yes_to_my_share=True)
        world.listen("36 kg, above guidance")
        world.garage.close()
        worlds.append(world)

    for other in worlds[1:]:
        for here, there in zip(worlds[0].heard, other.heard, strict=True):
            assert here == there, f"{here[1]} can tell by {here[2]} when {here[0]}"
    assert offered == [[(False, False)] * 2, [(True, True), (True, False)], [(False, False)] * 2]
    assert (worlds[0].told[:3], worlds[2].told[:3]) == (["does_not_suit"] * 3, ["figure_unsaid"] * 3)
    assert [world.told[-1] for world in worlds] == ["yes_wanted"] * 3


def test_r20_once_said_the_larger_figure_is_offered_what_it_may_bear(twin: Callable[..., TwinWorld]) -> None:
    """Bram's own screen asks for his figure; with 25 kg said the same place is his to take. A limit of his own below its
    share is no matter of the figure, and reads as that."""
    world = twin("says it")
    world.weigh("32")
    world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())

    def not_offered() -> list[str]:
        places = world.bram.get(f"{world.bram.home}/lifts/L1")["places"]
        return [
            one["not_offered"]["code"] for one in places if one["kind"] == "lifter" and one["not_offered"]
        ]

    assert not_offered() == ["figure_unsaid"] * 2
    world.bram.ask("PUT", "/api/me/private", {"limit_kg": "2", "guideline_kg": None})
    assert not_offered() == ["does_not_suit"] * 2
    world.bram.ask("PUT", "/api/me/private", {"limit_kg": None, "guideline_kg": 25})
    assert not_offered() == []
    world.bram.act("/lifts/L1/places/front")
    world.garage.close()


def test_r20_a_place_that_no_longer_suits_is_free_and_reads_as_left(twin: Callable[..., TwinWorld]) -> None:
    """Bram holds a place and lowers his limit below its share: R20 lets him bear it no more. R21: for all others it is as
    if he had pressed *Leave my place* on his phone, ids and times too. A limit that still suits changes nothing."""

    def held_by_bram(world: TwinWorld) -> list[str]:
        places = world.ines.get(f"{world.ines.home}/lifts/L1")["places"]
        return [one["place"] for one in places if one["person"] == world.bram.person]

    def lowers(world: TwinWorld) -> None:
        kept = {"limit_kg": "24", "guideline_kg": 25}
        assert world.bram.ask("PUT", "/api/me/private", {**kept, "leave_as": [*PRESSES]}).json() == kept
        assert held_by_bram(world) == ["front"]
        world.listen("still suits", "ines")
        world.bram.ask("PUT", "/api/me/private", {**kept, "limit_kg": "2", "leave_as": [*PRESSES]})

    def leaves(world: TwinWorld) -> None:
        world.listen("still suits", "ines")
        world.bram.sync({**PRESSES[1], "kind": "lift.leave_place", "body": {"lift": "L1"}})

    def lowers_without_a_phone(world: TwinWorld) -> None:
        world.listen("still suits", "ines")
        world.bram.ask("PUT", "/api/me/private", {"limit_kg": "2", "guideline_kg": 25})

    def leaves_without_a_phone(world: TwinWorld) -> None:
        world.listen("still suits", "ines")
        world.bram.act("/lifts/L1/leave-place")

    worlds = []
    for frees in (lowers, leaves, lowers_without_a_phone, leaves_without_a_phone):
        world = twin(frees.__name__)
        world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())
        world.bram.act("/lifts/L1/answer", will_come=True)
        world.bram.act("/lifts/L1/places/front")
        assert held_by_bram(world) == ["front"]
        frees(world)
        world.listen("given up")
        assert held_by_bram(world) == []
        world.garage.close()
        worlds.append(world)

    for one, other in (worlds[:2], worlds[2:]):
        for here, there in zip(one.heard, other.heard, strict=True):
            assert here == there, f"{here[1]} can tell by {here[2]} when {here[0]}"


def test_r21_the_comparison_sees_what_is_to_be_seen(twin: Callable[..., TwinWorld]) -> None:
    """A world in which he takes a place differs for everybody: the comparison is not blind."""
    worlds = []
    for name in ("takes", "does not"):
        world = twin(name)
        world.ines.act("/lifts/L1/call", when_ms=world.garage.clock())
        if name == "takes":
            world.bram.post(f"{world.bram.home}/lifts/L1/places/front", {"id": tried(1), "body": {}}, 200)
        world.listen("looked")
        world.garage.close()
        worlds.append(world)

    differs = {(a[1], a[2]) for a, b in zip(*(w.heard for w in worlds), strict=True) if a != b}
    assert {(name, "lifts/L1") for name in OTHERS} <= differs
    assert {(name, "sync") for name in OTHERS} <= differs
