"""A small garage for the tests of torque, checks and the tool store: rows put there by hand, commands run for
real.

After every accepted command: the entries hold no float and are JSON, replaying them on the first rows gives
the same
rows (R2), and every row reads back from its own JSON. A refusal must be one that its command lists.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import pytest
from pydantic import BaseModel

import yokemate.rules.apply
import yokemate.rules.decide
import yokemate.rules.views  # noqa: F401
from yokemate.planfile.model import (
    BoltGroupPlan,
    FastenerPlan,
    GatePlan,
    LooseEndPlan,
    Step,
    Target,
    TaskPlan,
    Tolerance,
    TorqueSpec,
    TorqueWrenchPlan,
)
from yokemate.rules.frame import COMMANDS, Ctx, Deciding, Draft, Entry, Facts, Row, State, apply_entry, run
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import (
    ROWS,
    Build,
    Check,
    Countersign,
    Gate,
    Group,
    LooseEnd,
    Member,
    Reading,
    Task,
    TorqueWrench,
)
from yokemate.rules.rows.stores import WrenchCheck
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.views.frame import VIEWS, Viewer

DAY = 86_400_000
NOON = 1_764_072_000_000  # some noon, UTC
FOUND = {"faces": "clean", "threads": "clean_dry"}  # on the first pass of a critical group
IMPLIED = {
    "bad_input",
    "unknown",
    "not_a_member",
    "role",
    "viewer",
    "pin_needed",
    "pin_wrong",
    "seen_needed",
    "guest_over",
}


def spec(
    torque: str = "24", unit: str = "n_m", passes: tuple[int, ...] = (50, 100), **target: Any
) -> TorqueSpec:
    return TorqueSpec(
        id="J02",
        thread="M8x1.25",
        lubrication="dry zinc",
        source="kit's manual",
        target=Target(torque=torque, unit=unit, **target),
        passes_percent=list(passes),  # type: ignore[arg-type]
    )


def group_row(
    id: str = "G1", count: int = 3, *, tolerance: tuple[str, str] = ("1", "1"), **plan: Any
) -> Group:
    """A group of `count` bolts, 24 N·m -1 +1, two passes, critical unless said otherwise."""
    made = plan.pop("made_to", None) or spec()
    order = plan.pop("order", list(range(1, count + 1)))
    default = plan.pop("tolerance_is_default", False)
    return Group(
        id=id,
        plan=BoltGroupPlan(
            id=id,
            name=f"Group {id}",
            spec="J02",
            seen_from="gearbox",
            up="top",
            order=order,
            **{"critical": True, "countersign": True, "check_methods": ["torque_wrench_again", "watched"]}
            | plan,
            fasteners=[FastenerPlan(n=n, x=str(10 * n), y="0") for n in range(1, count + 1)],
        ),
        spec=made.model_copy(
            update={"tolerance": None if default else Tolerance(minus=tolerance[0], plus=tolerance[1])}
        ),
        tolerance=tolerance,
        tolerance_is_default=default,
        order=order,
        passes=made.passes,
        bolts=[Bolt(n=n) for n in range(1, count + 1)],
    )


def wrench_row(id: str = "W1", lowest: str = "5", highest: str = "50", **more: Any) -> TorqueWrench:
    plan = {"unit": "n_m", "lowest": lowest, "highest": highest, "step": "0.5", "arm_mm": "400"}
    fields = {k: more.pop(k) for k in list(more) if k in TorqueWrenchPlan.model_fields}
    checks = more.pop("checks", [check_row()])
    return TorqueWrench(
        id=id, name=id, plan=TorqueWrenchPlan.model_validate(plan | fields), checks=checks, **more
    )


def check_row(at: int = NOON - 30 * DAY, until: int = NOON + 300 * DAY, good: bool = True) -> WrenchCheck:
    return WrenchCheck(kind="certificate", at_ms=at, until_ms=until, good=good, by="ines")


def task_row(id: str, order: int, *steps: Step, **more: Any) -> Task:
    plan = TaskPlan(id=id, title=f"Task {id}", stage="S", zone="bay", minutes=(1, 2, 3), steps=list(steps))
    return Task(id=id, plan=plan, order=order, **more)


def member(id: str, **more: Any) -> Member:
    return Member(id=id, **{"role": "builder", "may_countersign": True} | more)


class Shop:
    """Ines leads; Aled holds T1, which tightens G1, Bram has joined; Sofia is fresh; Kofi is sixteen."""

    def __init__(self, *rows: Row) -> None:
        base: list[Row] = [
            Build(
                id="build",
                name="Quillback",
                units="metric",
                made_by="ines",
                loose_ends=[
                    LooseEndPlan(id="O1", what="Bolts of G1 run in", kind="run_in", gate="crank"),
                ],
            ),
            member("ines", role="lead"),
            member("aled"),
            member("bram"),
            member("sofia"),
            member("kofi", minor="with_adult"),
            member("priya", may_countersign=False),
            member("vera", role="viewer"),
            Gate(id="roll", plan=GatePlan(id="roll", name="Rolling", kind="rolling"), order=0),
            Gate(id="crank", plan=GatePlan(id="crank", name="First crank", kind="first_crank"), order=1),
            group_row(),
            wrench_row(),
            task_row("T0", 0, Step(id="s1", say="Run in", kind="run_in", group="G1")),
            task_row(
                "T1",
                1,
                Step(id="s1", say="Tighten", kind="tighten", group="G1"),
                state="taken",
                holder="aled",
                worked=["aled", "bram"],
            ),
        ]
        table: dict[str, dict[str, Row]] = {kind: {} for kind in ROWS}
        for row in [*base, *rows]:
            table[row.KIND][row.id] = row
        self.first = State(table)
        self.state = self.first
        self.entries: list[Entry] = []
        self.now_ms = NOON
        self.count = 0

    def do(
        self,
        who: str,
        kind: str,
        /,
        *,
        pin: bool | None = None,
        at: int | None = None,
        facts: Mapping[str, Any] | None = None,
        typed_by: str | None = None,
        **fields: Any,
    ) -> list[Entry]:
        """Run one command, a minute after the last. `at`: the phone's clock when it was done there."""
        self.count += 1
        self.now_ms += 60_000
        spec_ = COMMANDS[kind]
        ctx = Ctx(
            id=f"c{self.count}",
            who=who,
            device=f"phone-{who}",
            now_ms=self.now_ms,
            device_ms=self.now_ms if at is None else at,
            typed_by=typed_by,
            seen=self.state.head,
            facts=Facts(pin_ok=pin, **(facts or {})),
        )
        try:
            deciding = run(self.state, spec_.model.model_validate(fields), ctx)
        except Refused as refused:
            _well_told(refused, {*spec_.refusals, *IMPLIED}, kind)
            raise
        self._hold(deciding)
        return deciding.entries

    def _hold(self, deciding: Deciding) -> None:
        assert deciding.entries, "an accepted command leaves a mark"
        for entry in deciding.entries:
            assert not _floats(entry.data), entry
        self.entries += [
            Entry(**{**vars(e), "data": json.loads(json.dumps(e.data))}) for e in deciding.entries
        ]
        self.state = deciding.done(self.state.head + len(deciding.entries))
        again = Draft(self.first)
        for entry in self.entries:
            apply_entry(again, entry)
        for kind, rows in self.state.rows.items():
            assert again.rows[kind] == rows
            for row in rows.values():
                assert type(row).model_validate_json(row.model_dump_json()) == row

    def refused(self, code: str, who: str, kind: str, /, **fields: Any) -> dict[str, Any]:
        """The command is refused with this code, and nothing changed (R4)."""
        before = self.state
        with pytest.raises(Refused) as caught:
            self.do(who, kind, **fields)
        assert caught.value.code == code
        assert self.state is before
        return caught.value.params

    def read(
        self,
        *bolts: int | tuple[int, str],
        who: str = "aled",
        group: str = "G1",
        pass_no: int = 2,
        **more: Any,
    ) -> list[Reading]:
        """Readings of some bolts: a number clicked at the set value, or (number, value).

        In the first pass faces and threads are said as they should be, unless `faces` and `threads` say otherwise.
        """
        at, typed_by = more.pop("at", None), more.pop("typed_by", None)
        brought = [{"n": b} if isinstance(b, int) else {"n": b[0], "reading": b[1]} for b in bolts]
        fields = {"wrench": "W1", "set_value": "24" if pass_no == 2 else "12", "unit": "n_m"}
        fields |= (FOUND if pass_no == 1 else {}) | more
        self.do(
            who,
            "torque.read",
            at=at,
            typed_by=typed_by,
            group=group,
            pass_no=pass_no,
            bolts=brought,
            **fields,
        )
        return [self.reading(f"c{self.count}.b{b['n']}") for b in brought]

    def make_final(self, group: str = "G1", who: str = "aled", **more: Any) -> str:
        """Both passes, one press per bolt in the last; answers the digest."""
        row = self.group(group)
        for pass_no in range(1, row.passes):
            self.read(*[b.n for b in row.bolts], who=who, group=group, pass_no=pass_no)
        for bolt in row.bolts:
            self.read(bolt.n, who=who, group=group, pass_no=row.passes, **{"set_value": "24"} | more)
        return self.group(group).readings_digest

    def look(self, who: str = "sofia", group: str = "G1", moved: tuple[int, ...] = (), **more: Any) -> Check:
        row = self.group(group)
        fields = {"readings_digest": row.readings_digest, "bolts": looked(row, moved)} | more
        self.do(who, "torque.note_check", group=group, **fields)
        return self.state.get(Check, f"c{self.count}")

    def sign(self, *checks: Check, who: str = "sofia", **more: Any) -> list[Countersign]:
        digests = {c.group: self.group(c.group).readings_digest for c in checks}
        fields = {"checks": [c.id for c in checks], "readings_digests": digests} | more
        self.do(who, "torque.countersign", pin=True, **fields)
        return [self.state.get(Countersign, f"c{self.count}.{c.group}") for c in checks]

    def countersigned(self, group: str = "G1") -> Countersign:
        self.make_final(group)
        return self.sign(self.look(group=group))[0]

    def group(self, id: str = "G1") -> Group:
        return self.state.get(Group, id)

    def bolt(self, n: int, group: str = "G1") -> Bolt:
        return next(b for b in self.group(group).bolts if b.n == n)

    def reading(self, id: str) -> Reading:
        return self.state.get(Reading, id)

    def ends(self, **where: Any) -> list[LooseEnd]:
        return [e for e in self.state.all(LooseEnd) if all(getattr(e, k) == v for k, v in where.items())]

    def view(self, name: str, who: str = "sofia", **params: Any) -> Any:
        """A prepared answer, as it stands after a round trip through JSON."""
        spec_ = VIEWS[name]
        viewer = Viewer(who, self.state.get(Member, who).role, self.now_ms)
        answer: BaseModel = spec_.fn(self.state, viewer, spec_.params.model_validate(params))
        assert spec_.answer.model_validate_json(answer.model_dump_json()) == answer
        return answer

    def kinds(self, since: int = 0) -> list[str]:
        return [entry.kind for entry in self.entries[since:]]


def looked(
    group: Group, moved: tuple[int, ...] = (), how: str = "torque_wrench_again"
) -> list[dict[str, Any]]:
    return [{"n": b.n, "found": "moved" if b.n in moved else "holds", "how": how} for b in group.bolts]


def _well_told(refused: Refused, listed: set[str], kind: str) -> None:
    """The code is one that the command lists, and its words have all that they need."""
    assert refused.code in listed, f"{refused.code} is not listed for {kind}"
    assert refused.refusal.says.format(**refused.params)
    refused.refusal.way_on.format(**refused.params)


def _floats(value: Any) -> bool:
    if isinstance(value, Mapping):
        return any(_floats(v) for v in value.values())
    if isinstance(value, list | tuple):
        return any(_floats(v) for v in value)
    return isinstance(value, float)
