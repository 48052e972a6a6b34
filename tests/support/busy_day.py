"""What six people type in who get in each other's way: tasks, a critical bolt group, a lift, notes with photos."""

from __future__ import annotations

import io
import random
from datetime import UTC, datetime, timedelta
from typing import Any

from PIL import Image

from rules.world import group, lift, spec, wrench
from yokemate.planfile.model import Plan, Step

from .pictures import name_of
from .service import command_id
from .small_plan import SMALL, task

BOLTS = (1, 2, 3, 4)
TASKS = ("T1", "T2", "T3")
LEVELS = {1: "12", 2: "24"}  # the passes of the group, N·m


def busy_plan() -> Plan:
    """The small plan, a fourth task that tightens what is countersigned, a fifth that lifts."""
    checked = (datetime.now(UTC) - timedelta(days=40)).date().isoformat()
    tightens = Step(id="a", say="Tighten it.", kind="tighten", group="G1")
    lifts = Step(id="a", say="Lift it on.", kind="lift")
    tasks = [
        *SMALL.tasks,
        task("T4").model_copy(update={"steps": [tightens]}),
        task("T5").model_copy(update={"steps": [lifts], "lift": "L1", "must_people": 2, "hazards": ["lift"]}),
    ]
    busy = {
        "tasks": tasks,
        "specs": [spec(passes_percent=[50, 100], tolerance={"minus": "1", "plus": "1"})],
        "groups": [group("G1", len(BOLTS), critical=True)],
        "tools": [wrench("W1", checked_on=checked)],
        "lifts": [lift("L1")],
    }
    return Plan.model_validate({**SMALL.model_dump(), **busy})


def snapshot(chance: random.Random) -> bytes:
    """A small photo, no two alike."""
    out = io.BytesIO()
    Image.frombytes("RGB", (24, 18), chance.randbytes(24 * 18 * 3)).save(out, "JPEG")
    return out.getvalue()


def ask(chance: random.Random, name: str, number: int, photo: bytes) -> dict[str, Any]:
    """One command. Everybody begins with a note that carries the photo, and a reading."""
    about = chance.choice(TASKS)
    note = {"about_kind": "task", "about": about, "text": f"{name} {number}"}
    pass_no = chance.choice((1, 2))
    reading = {
        "group": "G1", "task": "T4", "pass_no": pass_no, "wrench": "W1", "set_value": LEVELS[pass_no], "unit": "n_m",
        "faces": "clean", "threads": "clean_dry", "bolts": [{"n": chance.choice(BOLTS)}],
    }  # fmt: skip
    shown = note | {"photo": name_of(photo)}
    began: list[tuple[str, dict[str, Any]]] = [("note.add", shown), ("torque.read", reading)]
    kind, body = (
        began[number]
        if number < len(began)
        else chance.choice(
            [
                ("note.add", note),
                ("note.add", shown),
                ("task.take", {"task": about}),
                ("task.tick", {"task": about, "steps": ["a"]}),
                ("task.untick", {"task": about, "step": "a"}),
                ("task.give_back", {"task": about, "reason": "time"}),
                ("task.take", {"task": "T4"}),
                ("torque.read", reading),
                ("torque.read", reading),
                ("torque.stop_here", {"group": "G1"}),
                ("lift.answer", {"lift": "L1", "will_come": chance.random() < 0.7}),
                ("lift.take_place", {"lift": "L1", "place": chance.choice(("front", "rear"))}),
                ("lift.leave_place", {"lift": "L1"}),
                ("lift.ready", {"lift": "L1"}),
            ]
        )
    )
    return {"id": command_id(), "kind": kind, "body": body}


def altered(body: dict[str, Any]) -> dict[str, Any]:
    """Another body of the same kind, as well-formed."""
    if "text" in body:
        return {**body, "text": "something else"}
    if "task" in body and "group" not in body:
        return {**body, "task": "T2" if body["task"] == "T1" else "T1"}
    about = "group" if "group" in body else "lift"
    return {**body, about: f"{body[about]}x"}
