"""What no person would send: every operation of the REST document, with bodies drawn from the document itself.

A demo in the middle of its build stands behind it, and ids are often real ones, so that what is drawn gets as far as the
rules. The draws are the same in every run; `-m long` draws more and other ones.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
import schemathesis
from httpx2 import Response
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from schemathesis import GenerationMode
from schemathesis.core import NotSet

from support.phones import Garage, Phone, demo_garage
from yokemate import demo
from yokemate.rules.refusals import REFUSALS
from yokemate.store.verify import differences, verify

ENDLESS = {"events"}  # a stream ends when its reader goes; tests/api/test_live.py has it
FEW, MANY = 4, 60  # draws of each operation; of wrong ones half as many
PARTS = 12  # so that two processes share them evenly


class Fuzzed:
    """The demo, and the ids that are in it by the names that fields have."""

    def __init__(self, garage: Garage) -> None:
        self.garage = garage
        self.document: dict[str, Any] = garage.app.openapi()
        drawn = schemathesis.openapi.from_dict(self.document).get_all_operations()
        named = {(one := made.ok()).definition.raw["operationId"]: one for made in drawn}
        self.operations = {name: one for name, one in named.items() if name not in ENDLESS}
        self.crew = {one.id: one for one in demo.crew().people}
        self.lead = self.crew["ines"]
        state = garage.service.handler.states.current(demo.BUILD)
        assert state is not None
        self.ids = {kind: sorted(rows) for kind, rows in state.state.rows.items()}
        others = sorted(one.person for one in self.crew.values() if one is not self.lead)
        self.ids |= {"person": others, "wrench": self.ids["torque_wrench"], "build": [demo.BUILD]}

    def phone(self) -> Phone:
        """The lead, on a phone that nothing was done to yet."""
        phone = self.garage.phone()
        phone.post("/api/demo/pick", {"person": self.lead.person}, status=200)
        return phone

    def real(self, name: str, value: Any, chance: Random) -> Any:
        """Mostly a real id where the field's name says of what."""
        if isinstance(value, dict):
            return {inner: self.real(inner, one, chance) for inner, one in value.items()}
        if isinstance(value, str) and name == "pin" and chance.random() < 0.5:
            return self.lead.said["pin"]
        known = self.ids.get(name)
        if known and isinstance(value, str) and chance.random() < (0.95 if name == "build" else 0.8):
            return chance.choice(known)
        if name == "helped" and isinstance(value, list):
            return [self.real("person", one, chance) for one in value]
        if name in ("for_person", "seen") and value is not None and chance.random() < 0.8:
            return (
                None
                if name == "for_person"
                else self.garage.service.handler.states.current(demo.BUILD).head.number
            )
        return value

    def send(self, phone: Phone, operation: Any, case: Any, chance: Random) -> Response:
        path = operation.path
        for name, value in (case.path_parameters or {}).items():
            path = path.replace("{" + name + "}", str(self.real(name, value, chance)))
        headers = {
            name: str(value).encode("latin-1", "replace") for name, value in (case.headers or {}).items()
        }
        body: dict[str, Any] = {}
        if case.media_type is not None:
            headers["Content-Type"] = case.media_type.encode()
            sent = self.real("", case.body, chance)
            if not isinstance(sent, NotSet):
                body["content"] = sent if isinstance(sent, bytes) else json.dumps(sent).encode()
        return phone.http.request(operation.method, path, params=case.query, headers=headers, **body)


@pytest.fixture(scope="module")
def fuzzed(demo_played: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Fuzzed]:
    """R1, R2: whatever got through, in the end the chain holds, replay gives the same rows, and the lead is the lead."""
    garage = demo_garage(demo_played, tmp_path_factory.mktemp("fuzz"))
    made = Fuzzed(garage)
    yield made
    with garage.service.database.read() as connection:
        assert verify(connection, demo.BUILD).holds
        assert differences(connection, demo.BUILD) == []
    assert made.phone().get("/api/me")["builds"][0]["role"] == "lead"
    garage.close()


def holds(operation: Any, answer: Response, shapes: Any) -> None:
    """What is answered is what the document says; an error is a problem of the closed list with a way on."""
    assert answer.status_code < 500, answer.text
    documented = operation.definition.raw["responses"]
    assert str(answer.status_code) in documented, (answer.status_code, answer.text)
    if answer.status_code >= 400:
        assert answer.headers["content-type"] == "application/problem+json"
        problem = answer.json()
        assert REFUSALS[problem["code"]].status == problem["status"] == answer.status_code
        assert problem["detail"]
        assert problem["way_on"]
    elif answer.headers.get("content-type") == "application/json":
        said = documented[str(answer.status_code)]["content"]["application/json"]["schema"]
        Draft202012Validator({**said, "components": shapes}).validate(answer.json())


def drawn(mode: GenerationMode, count: int, fuzzed: Fuzzed, operation: Any, *, same: bool) -> None:
    phone = fuzzed.phone()

    @given(case=operation.as_strategy(generation_mode=mode), chance=st.randoms(use_true_random=False))
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        derandomize=same,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def run(case: Any, chance: Random) -> None:
        holds(operation, fuzzed.send(phone, operation, case, chance), fuzzed.document["components"])

    run()


def wrongly(operation: Any) -> bool:
    """Whether anything but an id in its path can be wrong."""
    raw = operation.definition.raw
    return "requestBody" in raw or any(one["in"] == "query" for one in raw.get("parameters", ()))


def faults(fuzzed: Fuzzed, part: int, count: int, *, same: bool) -> dict[str, str]:
    """What went wrong, by operation, in one part of them."""
    found = {}
    for name in sorted(fuzzed.operations)[part::PARTS]:
        operation = fuzzed.operations[name]
        modes = [GenerationMode.POSITIVE, *([GenerationMode.NEGATIVE] if wrongly(operation) else [])]
        for mode in modes:
            try:
                drawn(
                    mode,
                    count if mode is GenerationMode.POSITIVE else count // 2,
                    fuzzed,
                    operation,
                    same=same,
                )
            except AssertionError as error:
                found[f"{name} ({mode.value})"] = str(error)
    return found


@pytest.mark.parametrize("part", range(PARTS))
def test_r32_whatever_is_sent_is_answered_as_documented(part: int, fuzzed: Fuzzed) -> None:
    """R32: bodies that fit the document, and bodies that do not: never a fault of the service."""
    assert len(fuzzed.operations) > 100
    assert faults(fuzzed, part, FEW, same=True) == {}


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
def test_r32_much_is_sent(part: int, fuzzed: Fuzzed) -> None:
    """R32: the same with many more draws, other ones in each run."""
    assert faults(fuzzed, part, MANY, same=False) == {}
