"""A garage with one lift, for the tests of lifts: a shell on a crane and two people, called by a third.

The load is the one of the build day: 84 kg, crane 52, two in front 16 each. Moments about the front line, by
hand: 84 kg 800 mm behind it, the crane 1300 mm: 84 × 800 / 1300 = 51.7 for it, the rest halved in front.
"""

from __future__ import annotations

from typing import Any

from rules.torque_shop import Shop, member, task_row
from yokemate.planfile.model import LiftPlan, LooseEndPlan, Step, Support, Zone
from yokemate.rules.frame import Entry, Row
from yokemate.rules.lift_shares import work_out_shares
from yokemate.rules.rows import Build, Lift

EVERYBODY = ("ines", "aled", "bram", "sofia", "priya", "kofi", "vera", "desmond", "carla")
CREW = {"fl": "aled", "fr": "bram", "guide-1": "priya", "caller": "desmond", "lookout": "sofia"}


def lift_plan(**changes: Any) -> LiftPlan:
    plan: dict[str, Any] = {
        "id": "L1", "title": "Shell on",
        "mass_kg": "84", "cg_x_mm": "800", "cg_y_mm": "0", "cg_plus_minus_mm": "20",
        "supports": [
            Support(id="fl", say="front left", kind="lifter", x_mm="0", y_mm="-500"),
            Support(id="fr", say="front right", kind="lifter", x_mm="0", y_mm="500"),
            Support(id="hook", say="rear", kind="crane", x_mm="1300", y_mm="0", rated_kg="500"),
        ],
        "guides": 1, "lookout": True, "propped": ["P1"], "briefing": ["Gloves on"],
    }  # fmt: skip
    return LiftPlan(**plan | changes)


def lift_row(plan: LiftPlan | None = None, **more: Any) -> Lift:
    plan = plan or lift_plan()
    shares, unfit, by = work_out_shares(plan)
    return Lift(id=plan.id, plan=plan, task="T9", shares=shares, unfit=unfit, shares_by=by, **more)


class Yard(Shop):
    """Ines leads; Desmond calls. Aled and Bram lift, Priya guides, Sofia is lookout. Kofi is sixteen."""

    def __init__(self, *rows: Row, plan: LiftPlan | None = None) -> None:
        # fmt: off
        base = [
            Build(id="build", name="Quillback", units="metric", made_by="ines",
                  zones=[Zone(id="bay", name="Frame bay")],
                  loose_ends=[LooseEndPlan(id="P1", what="Shell on props", kind="propped", gate="roll")]),
            member("desmond"), member("carla", role="helper", may_countersign=False),
            member("priya", role="helper", may_countersign=False), member("aled", role="helper"),
            member("bram", role="helper"),
            task_row("T9", 9, Step(id="s1", say="Lift it on", kind="lift"), state="taken", holder="aled",
                     worked=["aled"]),
            lift_row(plan),
        ]
        # fmt: on
        super().__init__(*base, *rows)

    def lift(self) -> Lift:
        return self.state.get(Lift, "L1")

    def act(self, who: str, kind: str, **fields: Any) -> list[Entry]:
        """Any lift command, with every phone alive unless said otherwise."""
        alive = fields.pop("alive", EVERYBODY)
        suits = fields.pop("suits", {})
        facts = {"phones_alive": frozenset(alive), "suits": suits}
        return self.do(who, f"lift.{kind}", lift="L1", facts=facts, **fields)

    def no(self, code: str, who: str, kind: str, **fields: Any) -> dict[str, Any]:
        alive = fields.pop("alive", EVERYBODY)
        suits = fields.pop("suits", {})
        facts = {"phones_alive": frozenset(alive), "suits": suits}
        return self.refused(code, who, f"lift.{kind}", lift="L1", facts=facts, **fields)

    def called(self) -> Yard:
        self.act("ines", "call", when_ms=self.now_ms + 3_600_000)
        return self

    def crewed(self) -> Yard:
        self.called()
        for place, who in CREW.items():
            self.act(who, "take_place", place=place)
        return self

    def quick(self, who: str, kind: str, **fields: Any) -> None:
        """The same moment: the clock of the garage is put back by the minute that `do` takes."""
        self.act(who, kind, **fields)
        self.now_ms -= 60_000

    def roll(self) -> None:
        for place in ("fl", "fr", "guide-1", "lookout"):
            self.quick("desmond", "roll", place=place)
        self.quick("desmond", "clear_floor", children_out=True, nobody_beneath=True)

    def in_place(self) -> Yard:
        self.crewed()
        for place, who in CREW.items():
            if place != "caller":
                self.act(who, "ready")
        self.roll()
        return self

    def lifting(self) -> Yard:
        self.in_place()
        self.act("desmond", "lift")
        return self
