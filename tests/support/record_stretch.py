"""Plays the demo crew through the first stages and writes demo_fixtures/stretch.yaml. Run by hand after a change of
the plan: `python tests/support/record_stretch.py` (with `api` and `tests` on the path).

It works by the rules alone, on a clock of its own, and leaves the build at an interesting middle: a lift called, a
check waiting, loose ends open, somebody stuck, somebody under the car. Work is done on build days, in the hours in
which everybody can come; what would not be done before the day is over waits for the next one.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

ROOT = Path(__file__).parents[2]
MINUTE_MS = 60_000
DAY_MS = 86_400_000
DAY_MIN = 1440
# The story's hours: Saturdays on which all adults of the crew are there (see their hours in crew.yaml).
BEGINS_MIN, ENDS_MIN = 10 * 60, 16 * 60
AROUND_MIN = 30  # a lift that is called and answered, checks and their PINs
YAML_WORDS = ("yes", "no", "true", "false", "null", "on", "off")
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]

from rules.world import START_MS, World  # noqa: E402
from yokemate.planfile.model import Step  # noqa: E402
from yokemate.planfile.read import read  # noqa: E402
from yokemate.rules.availability import availability  # noqa: E402
from yokemate.rules.refusals import Refused  # noqa: E402
from yokemate.rules.rows import Check, Group, Lift, LooseEnd, Member, Part, Task  # noqa: E402
from yokemate.rules.taking import skilled  # noqa: E402
from yokemate.rules.tightening import group_due  # noqa: E402

YAML_SAFE = YAML(typ="safe")
CREW = {one["id"]: one for one in YAML_SAFE.load((ROOT / "demo_fixtures/crew.yaml").read_text())["people"]}
ADULTS = ["bram", "sofia", "aled", "desmond", "ines", "priya", "lucia"]
SECONDS = ["desmond", "sofia", "aled", "bram", "ines"]


class Recorder(World):
    """A world that writes down what was asked of it, with people and made rows by name."""

    def __init__(self) -> None:
        self.steps: list[dict[str, Any]] = []
        self.begun = False
        self.names = 0
        self.day = -1
        self.midnight_ms = START_MS - START_MS % DAY_MS  # of the current build day
        given = {
            id: {key: one[key] for key in ("role", "skills", "minor", "may_countersign") if key in one}
            for id, one in CREW.items()
            if id != "ines"
        }
        super().__init__(crew=given, signed_in=False)

    def do(self, person: str, kind: str, /, *, for_person: str | None = None, **fields: Any) -> Any:
        if not self.begun:
            return super().do(person, kind, **fields)
        self.names += 1
        name = f"k{self.names}"
        who = for_person or person
        answer = super().do(who, kind, id=name, typed_by=person if for_person else None, **fields)
        at = self.day * DAY_MIN + self.minute
        line = {"at": round(at, 2), "who": person, "do": kind, "as": name}
        if for_person:
            line["for_person"] = f"@{for_person}"
        self.steps.append(line | {field: self._named(value, field) for field, value in fields.items()})
        return answer

    @property
    def minute(self) -> float:
        """Of the current build day, after its midnight."""
        return (self.now_ms - self.midnight_ms) / MINUTE_MS

    def next_day(self, after_days: int = 7) -> None:
        """Whoever is in signs out, and in again in the morning of the next build day."""
        for person in [member.id for member in self.all(Member) if member.in_since_ms is not None]:
            self.do(person, "crew.sign_out")
        self.day += 1
        self.midnight_ms += after_days * DAY_MS
        self.now_ms = self.midnight_ms + BEGINS_MIN * MINUTE_MS

    def fits(self, task: Task) -> bool:
        return self.minute + task.plan.minutes[1] + AROUND_MIN <= ENDS_MIN

    def _named(self, value: Any, field: str) -> Any:
        if isinstance(value, dict):
            return {self._named(key, ""): self._named(inner, key) for key, inner in value.items()}
        if isinstance(value, list):
            return [self._named(inner, "") for inner in value]
        if isinstance(value, str):
            if value in CREW:
                return f"@{value}"
            if re.fullmatch(r"k\d+(\..+)?", value):
                return f"${value}"
            if re.fullmatch(r"[0-9a-f]{64}", value):
                group = next(g.id for g in self.state.all(Group) if g.readings_digest == value)
                return f"!readings {group}"
        if field == "when_ms":
            return f"!in {round((value - self.now_ms) / 60_000)}"
        return value


def everybody_in(world: Recorder, people: list[str]) -> None:
    for person in people:
        if world.get(Member, person).in_since_ms is None:
            world.do(person, "crew.sign_in")


def leader(world: Recorder, task: Task) -> str:
    able = skilled(world.state, task.plan.lead_skill) if task.plan.lead_skill else ADULTS
    order = [p for p in ADULTS if p in able]
    return order[task.order % len(order)] if order else able[0]


def take(world: Recorder, id: str, holder: str | None = None) -> tuple[str, list[str]]:
    task = world.get(Task, id)
    everybody_in(world, ADULTS)
    holder = holder or leader(world, task)
    for use in task.plan.uses:
        part = world.state.find(Part, use.part)
        if part is not None and part.plan.single_use and part.in_stock < use.count:
            world.do(holder, "task.have_part", task=id, part=use.part, have=True)
    try:
        world.do(holder, "task.take", task=id)
    except Refused as refused:
        raise SystemExit(f"{holder} takes {id}: {refused.code} {refused.params}") from None
    wanted = max(task.plan.must_people, 2 if task.plan.buddy else 1, min(2, task.plan.better_people))
    mates = [p for p in ("priya", "bram", "sofia", "aled", "lucia", "desmond", "ines") if p != holder][
        : wanted - 1
    ]
    for mate in mates:
        world.do(mate, "task.join", task=id)
    return holder, mates


def turn(
    world: Recorder, holder: str, mates: list[str], task: str, group_id: str, *, bolts: int | None = None
) -> None:
    """Every pass of a group with a torque wrench that is fit; `bolts`: stop the final pass there."""
    group = world.get(Group, group_id)
    view = world.view(holder, "torque", group=group_id)
    wrench = next(w for w in view.wrenches if w.fit and w.passes[-1].mark_inside)
    for done in wrench.passes:
        common = {
            "group": group_id, "task": task, "pass_no": done.pass_no, "wrench": wrench.wrench,
            "set_value": done.nearest_mark or done.target, "unit": wrench.unit, "helped": mates,
        }  # fmt: skip
        if group.plan.critical and done.pass_no == 1:
            common |= {"faces": "clean", "threads": "clean_dry"}
        if done.pass_no < group.passes:
            world.do(holder, "torque.read", **common, bolts=[{"n": b.n} for b in group.bolts])
            continue
        order = group.order if bolts is None else group.order[:bolts]
        for n in order:
            world.do(holder, "torque.read", **common, bolts=[{"n": n}])


def step(world: Recorder, holder: str, mates: list[str], task: Task, one: Step) -> None:
    if one.id in world.get(Task, task.id).ticks:
        return
    if one.kind in ("run_in", "snug") and one.group:
        every = [b.n for b in world.get(Group, one.group).bolts]
        world.do(
            holder, "torque.run_in", group=one.group, task=task.id, bolts=every, how=one.kind, helped=mates
        )
    if one.kind == "tighten" and one.group and world.get(Group, one.group).state != "final":
        turn(world, holder, mates, task.id, one.group)
    if one.kind == "measure" and one.measure:
        value = one.measure.nominal or one.measure.low or one.measure.high or "1"
        world.do(holder, "task.measure", task=task.id, step=one.id, value=value, unit=one.measure.unit)
        return
    if one.kind == "confirm_side":
        world.do(
            holder, "task.confirm_side", task=task.id, step=one.id, side=one.side or task.plan.side or "left"
        )
        return
    if one.kind == "hold":
        sign(world, task.id, one.id)
        return
    if one.kind == "lift" and task.plan.lift:
        lift_by_voice(world, task.plan.lift, [holder, *mates])
    world.do(holder, "task.tick", task=task.id, steps=[one.id])


def sign(world: Recorder, task: str, at: str) -> None:
    row = world.get(Task, task)
    second = next(p for p in SECONDS if p not in {*row.worked, row.holder})
    world.do(second, "task.sign_hold", task=task, step=at)


def lift_by_voice(world: Recorder, lift_id: str, on_it: list[str]) -> None:
    lift = world.get(Lift, lift_id)
    people = [*on_it, *(p for p in ADULTS if p not in on_it)]
    callers = [p for p in people if "lift_lead" in CREW[p]["skills"]]
    wanted = [s.id for s in lift.plan.supports if s.kind == "lifter"]
    wanted += [f"guide-{n}" for n in range(1, lift.plan.guides + 1)]
    wanted += ["lookout"] if lift.plan.lookout else []
    caller = callers[0]
    places = dict(zip(wanted, [p for p in people if p != caller and p != "kofi"], strict=False))
    if lift.plan.caller:
        places["caller"] = caller
    world.do("ines", "lift.call", lift=lift_id, when_ms=world.now_ms + 600_000)
    world.now_ms += 900_000
    world.do(
        caller,
        "lift.report_by_voice",
        lift=lift_id,
        places=places,
        lifted_ms=world.now_ms - 300_000,
        set_down_ms=world.now_ms - 60_000,
    )
    world.steps[-1]["lifted_ms"], world.steps[-1]["set_down_ms"] = "!in -5", "!in -1"
    other = next(p for place, p in places.items() if place != "caller" and p != caller)
    world.do(other, "lift.sign_landed", lift=lift_id)


def doer(world: Recorder, task: str) -> str:
    signed = world.get(Task, task).signed
    assert signed is not None
    return signed.by


def countersign(world: Recorder, task: str) -> None:
    for due in group_due(world.state, world.get(Task, task)):
        group = world.get(Group, due.group)
        world.do(doer(world, task), "torque.ask_check", group=due.group)
        view = world.view("ines", "torque", group=due.group)
        second = next(p for p in SECONDS if p in [w.person for w in view.who_may_check])
        how = group.plan.check_methods[0]
        world.do(
            second, "torque.note_check", group=due.group, readings_digest=group.readings_digest,
            bolts=[{"n": b.n, "found": "holds", "how": how} for b in group.bolts],
        )  # fmt: skip
        check = next(c for c in world.state.all(Check) if c.group == due.group and c.state == "pin_due")
        world.do(
            second,
            "torque.countersign",
            checks=[check.id],
            readings_digests={due.group: group.readings_digest},
        )


def finish(world: Recorder, id: str, *, check: bool = True) -> None:
    holder, mates = take(world, id)
    task = world.get(Task, id)
    for one in task.plan.steps:
        world.now_ms += int(task.plan.minutes[1] * 60_000 / len(task.plan.steps))
        step(world, holder, mates, task, one)
    world.do(holder, "task.sign_off", task=id)
    if check:
        countersign(world, id)
        if task.plan.hold_point and "end" not in world.get(Task, id).holds:
            sign(world, id, "end")
        assert world.get(Task, id).state == "closed", f"{id} is {world.get(Task, id).state}"


def to_finish(world: Recorder, wanted: set[str]) -> list[str]:
    """The wanted tasks and all they build on, in the plan's order."""
    tasks = {t.id: t for t in world.state.all(Task)}
    need: set[str] = set()

    def add(id: str) -> None:
        if id in need or tasks[id].state == "left_out":
            return
        need.add(id)
        for after in tasks[id].plan.after:
            add(after.task)

    for id in wanted:
        add(id)
    return [t.id for t in sorted(tasks.values(), key=lambda t: t.order) if t.id in need]


def main() -> None:
    world = Recorder()
    plan = read((ROOT / "demo_fixtures/quillback-two.plan.yaml").read_text()).plan
    options = YAML_SAFE.load((ROOT / "demo_fixtures/crew.yaml").read_text())["options"]
    try:
        world.do("ines", "plan.load", plan=plan, options=options)
    except Refused as refused:
        raise SystemExit(f"the plan: {refused.params}") from None
    world.begun = True
    world.next_day()
    for wrench in (
        "W1",
        "W3",
        "W4",
        "W5",
    ):  # in the demo every certificate of the plan may have run out long ago
        world.do("bram", "wrench.check", wrench=wrench, kind="certificate", good=True, checked_ms=world.now_ms,
                 until_ms=world.now_ms + 300 * DAY_MS)  # fmt: skip
        world.steps[-1] |= {"checked_ms": "!in 0", "until_ms": "!in 432000"}
    world.do(
        "ines",
        "emergency.write",
        address_text="Unit 4, Oldmill Yard, Weir Lane. Blue gate, through to the back; the door with the lamp",
        first_aid_text="Priya. The box hangs left of the door, the eye wash beside it",
        extinguishers_text="CO2 at the bench, foam at the door. Fuel: foam. Battery: neither, everybody out",
    )
    order = to_finish(world, {"T303", "T402", "T404", "T503", "T504", "T1005", "T901"})
    left = list(order)
    while left:
        tasks = [world.get(Task, id) for id in left]
        able = [task for task in tasks if _only_parts(world, task) and world.fits(task)]
        if able:
            finish(world, able[0].id)
            left.remove(able[0].id)
        elif world.minute > BEGINS_MIN + 1:
            world.next_day()
        else:
            raise SystemExit(f"nothing can be done on a whole day: {left}")
    today(world)
    world.check_ledger()
    text = [
        "# Recorded by tests/support/record_stretch.py: one command a line; `at` is minutes after midnight, 1440 more for each",
        "# build day before it. The last line is now.",
    ]
    used = {name for one in world.steps for name in re.findall(r"\$(k\d+)", str(one))}
    out = YAML()
    out.default_flow_style = True
    out.width = 100_000
    lines = []
    for one in world.steps:
        if one["as"] not in used:
            del one["as"]
        lines.append("- " + _flow(one))
    (ROOT / "demo_fixtures/stretch.yaml").write_text("\n".join([*text, *lines]) + "\n")
    print(
        f"{len(lines)} commands, {len(world.entries)} entries, {sum(t.state == 'closed' for t in world.state.all(Task))} tasks closed"
    )
    print("open loose ends:", [e.what for e in world.state.all(LooseEnd) if e.closed is None])


def _only_parts(world: Recorder, task: Task) -> bool:
    """Ready, or waiting for a part that whoever takes it has in the hand."""
    return all(wait.kind == "part" for wait in availability(world.state, task, world.now_ms).waits)


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_flow(k)}: {_flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(v) for v in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        bare = re.fullmatch(r"[A-Za-z][\w.-]*", value) and value not in YAML_WORDS
        return value if bare else "'" + value.replace("'", "''") + "'"
    return str(value)


def today(world: Recorder) -> None:
    """Today: everybody is in and something is going on in every corner. At least two days after the last Saturday."""
    world.next_day(2)
    everybody_in(world, [*ADULTS, "kofi"])
    world.do("ines", "crew.visitor_in", what="visitor")

    def attempt(*args: Any, **fields: Any) -> None:
        try:
            world.do(*args, **fields)
        except Refused as refused:
            raise SystemExit(f"{args} {fields}: {refused.code} {refused.params}") from None

    finish(world, "T403", check=False)  # its check waits
    for due in group_due(world.state, world.get(Task, "T403")):
        attempt(doer(world, "T403"), "torque.ask_check", group=due.group)
    attempt("ines", "lift.call", lift="L4", when_ms=world.now_ms + 150 * 60_000)
    for person in ("bram", "sofia", "aled"):
        attempt(person, "lift.answer", lift="L4", will_come=True)
    attempt("lucia", "lift.answer", lift="L4", will_come=False)
    holder, _ = take(world, "T801", "aled")
    first = world.get(Task, "T801").plan.steps[0]
    step(world, holder, [], world.get(Task, "T801"), first)
    attempt(holder, "task.stuck", task="T801", reason="no_tool")
    holder, _ = take(world, "T601", "desmond")
    attempt("bram", "hazard.under")
    attempt("priya", "loose.report", kind="dropped", zone="frame_bay")
    world.now_ms += 5 * 60_000
    attempt("ines", "crew.sign_in")


if __name__ == "__main__":
    main()
