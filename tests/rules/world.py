"""A build, its crew and a clock for tests of the rules: do things as somebody, look at the rows, replay it all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

import yokemate.rules.all  # noqa: F401  (fills the registries)
from yokemate.planfile.model import (
    After,
    BoltGroupPlan,
    FastenerPlan,
    GatePlan,
    LiftPlan,
    LooseEndPlan,
    Manual,
    Plan,
    Stage,
    Step,
    TaskPlan,
    TorqueSpec,
    Zone,
)  # fmt: skip
from yokemate.rules.frame import COMMANDS, Ctx, Deciding, Entry, Facts, Row, State, replay, run
from yokemate.rules.refusals import Refused
from yokemate.rules.views.frame import VIEWS, View, Viewer

IMPLICIT = {
    "unknown",
    "bad_input",
    "not_a_member",
    "role",
    "viewer",
    "guest_over",
    "seen_needed",
    "pin_needed",
    "pin_wrong",
}
START_MS = 1_780_000_000_000
MINUTE = 60_000
HOUR = 60 * MINUTE
R = TypeVar("R", bound=Row)

CREW: dict[str, dict[str, Any]] = {
    "bram": {"role": "builder", "skills": ["mechanical", "brakes", "lift_lead"], "may_countersign": True},
    "sofia": {"role": "builder", "skills": ["electrical"], "may_countersign": True},
    "aled": {"role": "helper", "may_countersign": True},
    "priya": {"role": "helper"},
    "kofi": {"role": "helper", "minor": "with_adult"},
    "vera": {"role": "viewer"},
}


class World:
    """One build. `do` runs a command and keeps its entries; the fixture checks R1, R2 at the end."""

    def __init__(
        self, plan: Plan | None = None, *, crew: Mapping[str, dict[str, Any]] = CREW, signed_in: bool = True
    ) -> None:
        self.state = State()
        self.entries: list[Entry] = []
        self.now_ms = START_MS
        self.facts = Facts()
        self.last: Deciding | None = None
        self._count = 0
        self.do("ines", "build.make", name="Quillback Two")
        for person, gives in crew.items():
            self.do("ines", "crew.invite", invite=f"invite-{person}", **gives)
            self.do(person, "crew.join", invite=f"invite-{person}")
        if signed_in:
            for person in ["ines", *crew]:
                self.do(person, "crew.sign_in")
        if plan is not None:
            self.load(plan)

    def load(self, plan: Plan, **options: str) -> Deciding:
        return self.do("ines", "plan.load", plan=plan, options=options)

    def do(
        self, person: str, kind: str, /, *, pin: bool | None = None, seen: int | None = None, typed_by: str | None = None,
        facts: Facts | None = None, on_device: str | None = None, device_ms: int | None = None, id: str | None = None, **fields: Any,
    ) -> Deciding:  # fmt: skip
        """Run one command; `seen` and the PIN are right unless said otherwise. Raises Refused."""
        spec = COMMANDS[kind]
        self._count += 1
        self.now_ms += 1000
        base = facts or self.facts
        right = True if pin is None and (spec.pin or typed_by) else pin
        ctx = Ctx(
            id=id or f"c{self._count}", who=person, device=on_device or f"phone-{typed_by or person}", now_ms=self.now_ms,
            device_ms=self.now_ms if device_ms is None else device_ms, typed_by=typed_by,
            seen=self.state.head if seen is None else seen,
            facts=replace(base, pin_ok=right, phones_alive=base.phones_alive or frozenset(["ines", *CREW])),
        )  # fmt: skip
        cmd = spec.model.model_validate(fields)
        before = _json(self.state)
        try:
            decided = run(self.state, cmd, ctx)
        except Refused as refused:
            assert _json(self.state) == before, "R4: a refused ask changed something"
            listed = refused.code in spec.refusals or refused.code in IMPLICIT
            assert listed, f"{kind} answered {refused.code}, which its registry line does not list"
            raise
        self.entries += decided.entries
        self.state = decided.done(self.state.head + len(decided.entries))
        self.last = decided
        return decided

    def refused(self, person: str, kind: str, code: str, /, **fields: Any) -> Refused:
        """The command must be refused with this code."""
        try:
            self.do(person, kind, **fields)
        except Refused as refused:
            assert refused.code == code, f"refused with {refused.code} {refused.params}, not {code}"
            return refused
        raise AssertionError(f"{kind} by {person} was not refused; {code} was due")

    def view(self, person: str, name: str, /, **params: Any) -> Any:
        from yokemate.rules.rows import Member

        spec = VIEWS[name]
        role = self.state.get(Member, person).role
        answer = spec.fn(
            self.state, Viewer(person, role, self.now_ms, self.facts), spec.params.model_validate(params)
        )
        assert isinstance(answer, View)
        return spec.answer.model_validate_json(answer.model_dump_json())

    def get(self, kind: type[R], id: str) -> R:
        return self.state.get(kind, id)

    def all(self, kind: type[R]) -> list[R]:
        return list(self.state.all(kind))

    def later(self, *, minutes: int = 0, hours: int = 0) -> None:
        self.now_ms += minutes * MINUTE + hours * HOUR

    def told(self) -> list[str]:
        """Kinds of the entries of the last accepted command."""
        assert self.last is not None
        return [entry.kind for entry in self.last.entries]

    def check_ledger(self) -> None:
        """R1, R2, R16: replay gives equal rows, rows survive JSON, no entry holds a float."""
        for entry in self.entries:
            _no_float(entry.kind, entry.data)
        again = replay(iter(self.entries))
        assert _json(again) == _json(self.state)
        assert again.head == self.state.head
        for table in self.state.rows.values():
            for row in table.values():
                assert type(row).model_validate_json(row.model_dump_json()) == row


def _json(state: State) -> dict[str, dict[str, str]]:
    return {
        kind: {id: row.model_dump_json() for id, row in sorted(rows.items())}
        for kind, rows in state.rows.items()
        if rows
    }


def _no_float(where: str, value: Any) -> None:
    assert not isinstance(value, float), f"a float in {where}"
    if isinstance(value, Mapping):
        for key, item in value.items():
            assert isinstance(key, str), f"a key that is no text in {where}"
            _no_float(f"{where}.{key}", item)
    elif isinstance(value, list | tuple):
        for item in value:
            _no_float(where, item)
    else:
        assert value is None or isinstance(value, str | int | bool), f"{type(value)} in {where}"


def task(id: str, *steps: Step | str, after: list[str | After] | None = None, **more: Any) -> TaskPlan:
    """A small task: steps given as words are plain ones s1, s2, ..."""
    made = [
        s if isinstance(s, Step) else Step(id=f"s{i}", say=s)
        for i, s in enumerate(steps or ("Do it",), start=1)
    ]
    given = {"title": f"Task {id}", "stage": "S1", "zone": "frame", "minutes": (10, 20, 40), **more}
    befores = [a if isinstance(a, After) else After(task=a) for a in after or []]
    return TaskPlan(id=id, steps=made, after=befores, **given)


def group(
    id: str = "G1", count: int = 4, *, spec: str = "J02", critical: bool = False, **more: Any
) -> BoltGroupPlan:
    """A ring of bolts. A critical one is countersigned."""
    ring = [("0", "80"), ("80", "0"), ("0", "-80"), ("-80", "0"), ("40", "40"), ("-40", "-40")]
    fasteners = [
        FastenerPlan(n=n, x=ring[(n - 1) % 6][0], y=ring[(n - 1) % 6][1]) for n in range(1, count + 1)
    ]
    fields: dict[str, Any] = {
        "name": f"Group {id}", "seen_from": "front", "up": "top", "critical": critical, "countersign": critical,
        "check_methods": ["watched", "torque_wrench_again"] if critical else [], **more,
    }  # fmt: skip
    return BoltGroupPlan(id=id, spec=spec, fasteners=fasteners, **fields)


def spec(id: str = "J02", torque: str = "24", **more: Any) -> TorqueSpec:
    fields = {
        "thread": "M8x1.25",
        "lubrication": "dry zinc",
        "target": {"torque": torque, "unit": "n_m"},
        "source": "manual",
        **more,
    }
    return TorqueSpec.model_validate({"id": id, **fields})


def wrench(
    id: str = "W1",
    lowest: str = "5",
    highest: str = "100",
    checked_on: str | None = "2026-05-01",
    **more: Any,
) -> dict[str, Any]:
    """A tool of the plan that is a torque wrench, checked shortly before the tests' clock (28 May 2026)."""
    plan = {
        "unit": "n_m",
        "lowest": lowest,
        "highest": highest,
        "step": "1",
        "checked_on": checked_on,
        **more,
    }
    return {"id": id, "name": f"Torque wrench {id}", "torque_wrench": plan}


def gate(id: str = "crank", kind: str = "first_crank", **more: Any) -> GatePlan:
    return GatePlan.model_validate({"id": id, "name": f"Gate {id}", "kind": kind, **more})


def loose_end(id: str, kind: str = "loosened", gate: str = "crank", **more: Any) -> LooseEndPlan:
    return LooseEndPlan.model_validate(
        {"id": id, "what": f"Loose end {id}", "kind": kind, "gate": gate, **more}
    )


def lift(id: str = "L1", **more: Any) -> LiftPlan:
    """A load of 30 kg on two lifters, within the published team figure of two (25 + 25: 33.3 kg), centre of gravity in the middle."""
    fields = {
        "title": f"Lift {id}", "mass_kg": "30", "cg_x_mm": "500", "cg_y_mm": "0", "outline_mm": [["0", "-200"], ["1000", "200"]],
        "supports": [
            {"id": "front", "say": "front", "kind": "lifter", "x_mm": "0", "y_mm": "0"},
            {"id": "rear", "say": "rear", "kind": "lifter", "x_mm": "1000", "y_mm": "0"},
        ],
        **more,
    }  # fmt: skip
    return LiftPlan.model_validate({"id": id, **fields})


def plan(*tasks: TaskPlan, **more: Any) -> Plan:
    """A plan of these tasks in one stage and three zones, with whatever else is given."""
    fields: dict[str, Any] = {
        "name": "A small plan", "manual": Manual(title="Manual", revision="3"),
        "stages": [Stage(id="S1", name="Stage one")],
        "zones": [Zone(id="frame", name="Frame bay"), Zone(id="bench", name="Bench"), Zone(id="apron", name="Apron")],
        "skills": [{"id": s, "say": s} for s in ("mechanical", "brakes", "electrical", "lift_lead")],
        **more,
    }  # fmt: skip
    return Plan(tasks=list(tasks) or [task("T1")], **fields)
