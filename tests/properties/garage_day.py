"""A small build for tests that do things in any order: six tasks, a critical bolt group, a lift, a gate."""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

from properties.witness import Witness
from rules.world import World, gate, group, lift, loose_end, plan, spec, task, wrench
from yokemate.planfile.model import Plan, Standing, Step
from yokemate.rules.frame import Deciding
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Check, Group

GROUP = "G1"
BOLTS = (1, 2, 3)


def day_plan(torque: str = "24") -> Plan:
    """T1 tightens what is countersigned, T2 ends at a hold point, T3 lifts, T5 waits for the gate."""
    return plan(
        task("T1", Step(id="s1", say="Free the hose", kind="loosen", opens=["O1"]),
             Step(id="s2", say="Tighten", kind="tighten", group=GROUP), better_people=3),
        task("T2", Step(id="s1", say="Hose back on", kind="put_back", puts_back=["O1"]), "Look it over",
             after=["T1"], hold_point=True),
        task("T3", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, hazards=["lift"]),
        task("T4", Step(id="s1", say="Props out", kind="put_back", puts_back=["P1"]), after=["T3"]),
        task("T5", "Turn it over", hazards=["cranking"], minors="no"),
        task("T6", "Grease beneath", hazards=["under_car"], minors="watch", buddy=True),
        specs=[spec(torque=torque, passes_percent=[50, 100], tolerance={"minus": "1", "plus": "1"})],
        groups=[group(GROUP, len(BOLTS), critical=True)],
        tools=[wrench("W1")],
        lifts=[lift("L1", mass_kg="20", propped=["P1"])],
        loose_ends=[loose_end("O1"), loose_end("P1", kind="propped", gate="drive")],
        gates=[gate(standing=[Standing(task_closed="T1"), Standing(task_closed="T2"),
                              Standing(critical_groups_signed=True)],
                    on_the_day=["Out of gear"], guards=["T5"]),
               gate("drive", "first_drive",
                    standing=[Standing(gate_open="crank"), Standing(task_closed="T4")])],
    )  # fmt: skip


DAY_PLAN, HEAVIER_TARGET = day_plan(), day_plan("26")


@cache
def _morning() -> World:
    return World(DAY_PLAN)


class Day:
    """The world of one run, and a witness of all that was accepted in it."""

    def __init__(self) -> None:
        self.world = copy.copy(_morning())  # states are never changed in place
        self.world.entries = list(self.world.entries)
        self.witness = Witness()
        self.get, self.all = self.world.get, self.world.all

    def attempt(self, who: str, kind: str, /, **fields: Any) -> Deciding | None:
        """Do it if it may be done. The world asserts that a refusal changed nothing (R4)."""
        before = self.world.state
        try:
            done = self.world.do(who, kind, **fields)
        except Refused as refused:
            said = [
                words.format(**refused.params) for words in (refused.refusal.says, refused.refusal.way_on)
            ]
            done = None
        if done is None:
            assert self.world.state is before and all(said)
            return None
        self.witness.saw(done.entries, before, self.world.state)
        return done

    def report(self, who: str, kind: str, /, late_ms: int = 0, **fields: Any) -> Deciding | None:
        """Something that happened a while ago on a phone without connection; a report is never refused."""
        done = self.attempt(who, kind, device_ms=self.world.now_ms + 1000 - late_ms, **fields)
        assert done is not None, f"the report {kind} was refused"
        return done

    def read(
        self, who: str, bolts: list[int], *, pass_no: int = 2, late_ms: int = 0, value: str | None = None,
        helped: str | None = None,
    ) -> None:  # fmt: skip
        target = self.get(Group, GROUP).spec.target.torque
        level = target if pass_no == 2 else str(int(target) // 2)
        self.report(
            who, "torque.read", late_ms, group=GROUP, pass_no=pass_no, wrench="W1", set_value=level, unit="n_m",
            helped=[helped] if helped else [], bolts=[{"n": n, "reading": value} for n in bolts],
            **({"faces": "clean", "threads": "clean_dry"} if pass_no == 1 else {}),
        )  # fmt: skip

    def check(self, who: str, moved: int = 0) -> None:
        row = self.get(Group, GROUP)
        found = [
            {"n": n, "found": "moved" if n == moved else "holds", "how": "torque_wrench_again"} for n in BOLTS
        ]
        self.attempt(who, "torque.note_check", group=GROUP, readings_digest=row.readings_digest, bolts=found)

    def countersign(self, who: str, whose: str) -> None:
        """With the newest check of `whose`."""
        checks = [c for c in self.all(Check) if c.by == whose]
        if checks:
            digests = {GROUP: self.get(Group, GROUP).readings_digest}
            self.attempt(who, "torque.countersign", checks=[checks[-1].id], readings_digests=digests)

    def undo(self, who: str, what: str, about: str) -> None:
        """What a phone does: looks at the list, then confirms exactly that list."""
        shown = self.world.view("ines", "undo", **{what: about})
        done = self.attempt(
            who, "task.undo" if what == "task" else "torque.undo", reason="damaged", list_digest=shown.list_digest,
            **{what: about},
        )  # fmt: skip
        assert done is not None or who == "vera" or not shown.may_undo, "the list that was shown did not hold"
