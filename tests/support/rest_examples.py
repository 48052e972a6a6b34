"""Examples of the REST document: what was really sent and answered, once for each operation. Run this file to record them anew:

python -m support.rest_examples      (in tests/, with the project installed)

Commands and most views come from the day on which every kind is told (`rules/every_kind.py`), played by the rules alone;
the rest from a garage that somebody begins, over HTTP. Lists in answers are cut to their first two.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from httpx2 import Response

from rules.every_kind import EveryKind, day_plan
from support.phones import PIN, Garage, Phone
from support.pictures import name_of, picture
from support.service import fresh_sqlite, migrated_sqlite
from support.small_plan import SMALL
from yokemate.planfile.write import write
from yokemate.routes import document
from yokemate.routes.commands import OWN_ROUTES, path_fields
from yokemate.routes.problems import Outcome
from yokemate.routes.service import DemoPerson
from yokemate.rules.frame import COMMANDS, Deciding
from yokemate.rules.views.frame import VIEWS

Examples = dict[str, dict[str, Any]]
KEPT = Path(document.__file__).with_name("examples.json")
COMMAND_ID = "0199a7c2-5b1e-7d3a-9c40-3f2e1d0c9b8a"
SAID = "In one's own words"
NO_FIELDS = {"pin", "seen", "typed_by", "facts", "on_device", "device_ms", "id"}  # how the day is played


class Told(EveryKind):
    """The day, with the first accepted command of every kind kept as its own route takes and answers it."""

    def __init__(self) -> None:
        self.found: Examples = {}
        super().__init__()
        self.do("bram", "torque.report_loosened", group="G2", bolts=[1])
        self.do("bram", "task.take", task="T8")
        self.do("bram", "task.go_home", task="T8")
        tag = self.do("bram", "hazard.hang_tag", what="battery")
        self.do("bram", "crew.sign_out")  # only for an owner who is away
        self.do("sofia", "hazard.propose_lift_tag", tag=next(iter(tag.entries)).data["tag"], reason_text=SAID)

    def do(self, person: str, kind: str, /, **said: Any) -> Deciding:
        done = super().do(person, kind, **said)
        spec = COMMANDS[kind]
        operation = kind.replace(".", "_")
        if kind not in OWN_ROUTES and operation not in self.found:
            fields = {
                name: SAID if name.endswith("_text") else value
                for name, value in said.items()
                if name not in {*NO_FIELDS, *path_fields(spec)}
            }
            head = self.state.head
            around: dict[str, Any] = {"seen": head - len(done.entries)} if spec.needs_seen else {}
            around |= {"pin": PIN} if spec.pin else {}
            entries = (head - len(done.entries) + 1, head)
            outcome = Outcome(id=COMMAND_ID, status="accepted", entries=entries, head=head)
            self.found[operation] = {
                "sent": {"id": COMMAND_ID, **around, "body": fields},
                "answer": outcome.model_dump(mode="json"),
            }
        return done

    def views(self) -> Iterator[tuple[str, Any]]:
        about = {
            "torque": {"group": "G1"},
            "undo": {"task": "T2"},
            "task": {"task": "T2"},
            "lift": {"lift": "L2"},
        }
        for name, spec in VIEWS.items():
            if not spec.wants_hours:
                yield f"view_{name}", self.view("ines", name, **about.get(name, {})).model_dump(mode="json")


def operation_of(garage: Garage, method: str, address: str) -> dict[str, Any]:
    """The operation that the document has at this address; one without anything to fill in goes first."""
    path = address.partition("?")[0]
    for template, methods in sorted(garage.app.openapi()["paths"].items(), key=lambda one: one[0].count("{")):
        if method.lower() in methods and re.fullmatch(re.sub(r"{\w+}", "[^/]+", template), path):
            return dict(methods[method.lower()])
    raise LookupError(address)


class Recorded(Phone):
    """A phone whose first accepted request of every operation is kept."""

    found: Examples = {}

    def ask(self, method: str, path: str, body: Any = None, **more: Any) -> Response:
        answer = super().ask(method, path, body, **more)
        assert answer.status_code == 200, (path, answer.text)
        if answer.headers["content-type"] == "application/json":
            operation = operation_of(self.garage, method, path)
            sent = {"sent": body} if "requestBody" in operation and body is not None else {}
            self.found.setdefault(operation["operationId"], {**sent, "answer": answer.json()})
        return answer


class Recording(Garage):
    def phone(self) -> Phone:
        return Recorded(self)


def sitting(garage: Recording) -> None:
    """A garage is begun, over HTTP: first run, invites, hours, a plan, days, a tablet, a photo, feeds; then the demo's doors."""
    ines = garage.first("ines")
    home, people = ines.home, f"{ines.home}/people"
    ines.post("/api/invites/look", {"code": ines.invite("builder", may_countersign=True)["code"]})
    bram = garage.joined("bram", "builder", limit_kg="12", guideline_kg=16)
    bram.post(
        f"{home}/sync", {"cursor": None, "commands": [{"id": COMMAND_ID, "kind": "crew.sign_in", "body": {}}]}
    )
    ines.post("/api/builds", {"build_name": "Quillback Three"})
    ines.post(f"{home}/plan/check", {"text": write(SMALL)})
    ines.post("/api/plan/check", {"text": write(SMALL)})
    ines.post(f"{home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}})
    ines.post(f"{home}/plan", {"seen": ines.head(), "text": write(day_plan()), "options": {}})
    others = [garage.joined(name, "builder") for name in ("sofia", "desmond")]  # two lift, one calls
    for phone in (ines, bram, *others):
        hours = {"weekly": [{"weekday": 5, "begins": "09:00", "ends": "17:00"}]}
        phone.ask("PUT", f"{people}/{phone.person}/hours", hours)
        phone.get(f"{people}/{phone.person}/hours")
    bram.post(f"{home}/beat", {})
    taken = bram.act("/tasks/T8/take")
    bram.get(f"{home}/outcomes/{taken['id']}")
    noted = bram.act("/notes", about_kind="task", about="T8", text=SAID)
    said = ines.get(f"{home}/record?count=500")["entries"]
    ines.get(f"{home}/record/verify")
    note = next(one for one in said if one["number"] == noted["entries"][0])
    bram.get(f"{home}/payloads/{note['data']['text']}")
    offered = ines.post(f"{home}/days/plan", {})
    ines.get(f"{home}/days/plan")
    ines.post(f"{home}/days/plan/end", {})
    ines.act("/days/take", offer=offered["offer"])
    for name in (name for name, spec in VIEWS.items() if spec.wants_hours):
        ines.get(f"{home}{VIEWS[name].path}")
    best = ines.get(f"{home}/days/lifts/L1/times")["offers"][0]
    ines.get(f"{home}/days/lifts/L1/times/{best['from_ms']}")
    ines.post(f"{home}/feeds/crew", {})
    ines.get(f"{home}/feeds/crew")
    ines.post(f"{home}/feeds/crew/end", {})
    photo = picture()
    bram.ask("PUT", f"{home}/photos/{name_of(photo)}", content=photo, headers={"Content-Type": "image/jpeg"})
    ines.get(people)
    ines.get(f"{people}/{bram.person}/devices")
    ines.post(f"{people}/{bram.person}/devices", {})
    for path in (
        "/api/me",
        "/api/me/devices",
        "/api/me/private",
        "/api/health",
        "/api/address",
        "/api/bench",
        "/api/bench/thread",
    ):
        bram.get(path)
    bram.post("/api/me/devices", {})
    bram.post("/api/bench/thread", {"inputs": {"thread": "M10"}})
    bram.ask("PUT", "/api/me/private", {"limit_kg": "12", "guideline_kg": 16})
    bram.ask("PUT", "/api/me/pin", {"old": PIN, "new": "135791"})
    ines.post("/api/tablet", {"share": True})
    ines.get("/api/tablet/people")
    ines.post("/api/tablet/sign-in", {"person": bram.person, "pin": "135791"})
    ines.post("/api/tablet/sign-out", {})
    garage.service.settings = replace(garage.service.settings, mode="demo")
    garage.service.demo_crew = [DemoPerson(bram.person, "Bram", "builder", "Fits and tightens", PIN)]
    visitor = garage.phone()
    visitor.get("/api/demo/crew")
    visitor.post("/api/demo/pick", {"person": bram.person})
    visitor.post("/api/demo/leave", {})


def cut(said: Any) -> Any:
    """Lists cut to their first two, so that an example is read and not scrolled."""
    if isinstance(said, dict):
        return {name: cut(one) for name, one in said.items()}
    return [cut(one) for one in said[:2]] if isinstance(said, list) else said


def recorded() -> Examples:
    day = Told()
    found = {**day.found, **{name: {"answer": answer} for name, answer in day.views()}}
    Recorded.found = {}
    with tempfile.TemporaryDirectory() as folder:
        garage = Recording(fresh_sqlite(migrated_sqlite(Path(folder)), Path(folder)))
        try:
            sitting(garage)
        finally:
            garage.service.planner.close()
            garage.close()
    found = {**Recorded.found, **found}
    return {name: {**one, "answer": cut(one["answer"])} for name, one in sorted(found.items())}


if __name__ == "__main__":
    lines = ",\n".join(
        f"{json.dumps(name)}: {json.dumps(one, ensure_ascii=False)}" for name, one in recorded().items()
    )
    KEPT.write_text(f"{{\n{lines}\n}}\n", encoding="utf-8")
