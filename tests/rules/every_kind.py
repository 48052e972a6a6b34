"""A build day on which every kind of entry is told once at least. Run this file to record it as a new sample:

    python -m rules.every_kind NAME      (in tests/, with the project installed; the digest is put behind the name)

A sample is never written anew: it stands for ledgers that people have. When the shape of an entry changes, its
version is raised, the old shape gets an upcast, and the day is recorded once more under another name.
"""

from __future__ import annotations

import hashlib
import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

from rules.world import CREW, MINUTE, World, gate, group, lift, loose_end, plan, spec, task, wrench
from yokemate.planfile.model import Measure, Plan, Standing, Step
from yokemate.rules.frame import Entry, Facts, State
from yokemate.rules.hours import Hours
from yokemate.rules.rows import Group, Reading

SAMPLES = Path(__file__).parent / "samples"
WORDS = "0" * 63
ALWAYS = Hours.model_validate(
    {"weekly": [{"weekday": day, "begins": "00:00", "ends": "24:00"} for day in range(7)]}
)


def day_plan() -> Plan:
    return plan(
        task("T1", Step(id="s1", say="Free the hose", kind="loosen", opens=["O1"]),
             Step(id="s2", say="Tighten", kind="tighten", group="G1"), better_people=3),
        task("T2", Step(id="s1", say="Hose back on", kind="put_back", puts_back=["O1"]),
             Step(id="s2", say="Gap", kind="measure", measure=Measure(say="Gap", unit="mm", low="2", high="3")),
             Step(id="s3", say="Left?", kind="confirm_side", side="left"),
             Step(id="s4", say="Take the bracket off", kind="harvest", part="D1"),
             after=["T1"], hold_point=True, uses=[{"part": "N1"}]),
        task("T3", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", must_people=2, hazards=["lift"]),
        task("T4", "Trim it", after=["T3"]),
        task("T5", Step(id="s1", say="Hubs", kind="tighten", group="G2")),
        task("T6", "Cable gearbox", when={"gearbox": "cable"}),
        task("T7", "Cover on", Step(id="s2", say="Looked at", kind="hold"), after=["T2"]),
        task("T8", Step(id="s1", say="Pulley bolts", kind="tighten", group="G3")),
        specs=[spec(passes_percent=[50, 100], tolerance={"minus": "1", "plus": "1"}),
               spec("J03", passes_percent=[100]),
               spec("J04", target={"kind": "torque_angle", "torque": "24", "unit": "n_m", "angles_deg": ["60", "30"]})],
        groups=[group("G1", 3, critical=True), group("G2", 2, spec="J03", single_use=True),
                group("G3", 2, spec="J04", retighten=False)],
        tools=[wrench("W1"), {"id": "stands", "name": "Axle stands", "count": 4}],
        parts=[{"id": "N1", "name": "Grommet", "source": "new", "single_use": True}, {"id": "D1", "name": "Bracket", "source": "donor"}],
        lifts=[lift("L1", mass_kg="20"), lift("L2", mass_kg="20")], loose_ends=[loose_end("O1")],
        options=[{"id": "gearbox", "say": "Gearbox", "default": "cable",
                  "choices": [{"id": "cable", "say": "Cable"}, {"id": "rod", "say": "Rod"}]}],
        gates=[gate(standing=[Standing(task_closed="T1"), Standing(task_closed="T2")])],
    )  # fmt: skip


class EveryKind(World):
    """Plays the day when made."""

    def __init__(self) -> None:
        super().__init__(day_plan())
        for act in (self.people, self.stores, self.torque, self.gates, self.undoing, self.handing_over, self.lifts,
                    self.lifted_in_vain, self.papers):  # fmt: skip
            act()

    def people(self) -> None:
        self.do("ines", "crew.name_deputy", person="bram", until_ms=self.now_ms + 60 * MINUTE)
        self.do("ines", "crew.change_member", person="priya", skills=["brakes"])
        self.do("ines", "crew.shut_out", person="priya", device="phone-lost")
        self.do("ines", "crew.recover_lead", person="ines", on_device="machine")
        self.do("priya", "crew.renew_pin", person="priya", on_device="machine")
        self.do("vera", "crew.sign_out")
        self.do("ines", "crew.leave", person="vera")
        visit = self.do("ines", "crew.visitor_in", what="child").new_id("visit")
        self.do("ines", "crew.visitor_out", visit=visit)
        self.do("ines", "build.change", units="both", time_zone="Europe/London")
        self.do("ines", "emergency.write", address_text=WORDS + "2", first_aid_text=WORDS + "3")
        self.do("ines", "plan.choose", options={"gearbox": "rod"})
        self.do("ines", "plan.release_task", task="T4", reason_text=WORDS + "1")

    def stores(self) -> None:
        made = {"unit": "n_m", "lowest": "5", "highest": "50", "step": "1"}
        self.do("bram", "wrench.enter", wrench="W9", name="Small", plan=made)
        day_ms = 24 * 60 * MINUTE
        self.do("bram", "wrench.check", wrench="W9", kind="house_check", checked_ms=self.now_ms, good=True,
                until_ms=self.now_ms + 30 * day_ms)  # fmt: skip
        self.do("bram", "wrench.house_check", wrench="W9", mass="5", arm="400", reading="21",
                own_mass="1.2", own_arm="160")  # fmt: skip
        self.do("bram", "wrench.dropped", wrench="W9")
        self.do("bram", "wrench.retire", wrench="W9")
        self.do("bram", "tool.borrow", tool="stands", count=2)
        self.do("bram", "tool.return", tool="stands", count=2)
        self.do("bram", "hazard.under")
        self.do("bram", "hazard.out")
        tag = self.do("bram", "hazard.hang_tag", what="battery")
        self.do("bram", "hazard.lift_tag", tag=next(iter(tag.entries)).data["tag"])
        self.do("ines", "part.expect", part="N1", on="2026-06-20")
        self.do("ines", "gate.want", gate="crank", on="2026-06-27")
        block = {"task": "T4", "check": False, "from_ms": self.now_ms, "to_ms": self.now_ms + 30 * MINUTE,
                 "team": ["bram"], "joiners": ["kofi"], "company": ["sofia"]}  # fmt: skip
        offer = {"blocks": [block], "unplaced": ["T7"], "gates": {"crank": self.now_ms}, "finish_ms": self.now_ms,
                 "chain": ["T4"], "by": "list/1",
                 "odds": [{"gate": "crank", "p50_ms": self.now_ms, "p80_ms": self.now_ms}]}  # fmt: skip
        self.do("ines", "days.take", offer="o1", facts=Facts(offer=offer, hours=dict.fromkeys(CREW, ALWAYS)))

    def read(self, *bolts: int, pass_no: int = 2) -> None:
        for n in bolts:
            level = "24" if pass_no == 2 else "12"
            faces, threads = ("clean", "clean_dry") if pass_no == 1 else (None, None)
            self.do("aled", "torque.read", group="G1", pass_no=pass_no, wrench="W1", set_value=level, unit="n_m",
                    bolts=[{"n": n}], faces=faces, threads=threads)  # fmt: skip

    def check(self, who: str) -> str:
        found = [{"n": n, "found": "holds", "how": "watched"} for n in (1, 2, 3)]
        digest = self.get(Group, "G1").readings_digest
        return self.do(who, "torque.note_check", group="G1", readings_digest=digest, bolts=found).new_id()

    def torque(self) -> None:
        self.do("aled", "task.take", task="T1")
        self.do("priya", "task.join", task="T1")
        self.do("aled", "task.want_help", task="T1")
        self.do("priya", "task.leave", task="T1")
        self.do("aled", "task.tick", task="T1", steps=["s1"])
        self.do("aled", "task.untick", task="T1", step="s1")
        self.do("aled", "task.tick", task="T1", steps=["s1"])
        self.do("aled", "torque.run_in", group="G1", bolts=[1, 2, 3], how="run_in")
        self.read(1, 2, 3, pass_no=1)
        self.read(1, 2)
        self.do("aled", "torque.stop_here", group="G1")
        self.do("aled", "torque.stop_here", group="G1")
        self.later(minutes=1)
        self.read(1, 2, 3)
        self.do("aled", "torque.ask_check", group="G1")
        self.check("sofia")
        self.do("sofia", "torque.send_back", group="G1", bolts=[2], reason="not_clear")
        self.read(2)
        self.check("sofia")
        standing = next(r for r in self.all(Reading) if r.counts and r.pass_no == 2)
        self.do("aled", "torque.correct", reading=standing.id, value="24.5")
        self.check("ines")
        check = self.check("sofia")
        digests = {"G1": self.get(Group, "G1").readings_digest}
        self.do("sofia", "torque.countersign", checks=[check], readings_digests=digests)
        self.do("aled", "task.sign_off", task="T1")
        self.do("bram", "torque.new_fastener", group="G2", bolts=[1])
        self.do("bram", "torque.read", group="G3", pass_no=1, wrench="W1", set_value="24", unit="n_m",
                bolts=[{"n": 1}, {"n": 2}])  # fmt: skip
        for pass_no, angle in ((2, "60"), (3, "30")):
            turned = [{"n": n, "angle_deg": angle} for n in (1, 2)]
            self.do("bram", "torque.read", group="G3", pass_no=pass_no, bolts=turned)
        last = self.get(Group, "G3").bolts[0].passes["3"]
        self.do("bram", "torque.correct", reading=last, angle_deg="31")

    def gates(self) -> None:
        self.do("bram", "task.take", task="T2")
        self.do("bram", "task.have_part", task="T2", part="N1", have=True)
        self.do("bram", "task.tick", task="T2", steps=["s1"])
        self.do("bram", "task.measure", task="T2", step="s2", value="2,5", unit="mm")
        self.do("bram", "task.confirm_side", task="T2", step="s3", side="left")
        self.do("bram", "task.tick", task="T2", steps=["s4"])
        self.do("bram", "task.sign_off", task="T2")
        self.do("sofia", "task.sign_hold", task="T2", step="end")
        proposal = self.do("ines", "gate.propose", gate="crank", confirmed=[]).new_id("proposal")
        self.do("ines", "two.withdraw", proposal=proposal)
        proposal = self.do("ines", "gate.propose", gate="crank", confirmed=[]).new_id("proposal")
        self.do("sofia", "two.second", proposal=proposal)
        self.do("aled", "engine.say", running=True)
        end = self.do("kofi", "loose.report", kind="dropped").new_id("loose")
        self.do("aled", "loose.propose_another_way", loose_end=end, reason_text=WORDS + "2")
        self.do("aled", "loose.make_good", loose_end=end)
        words: dict[str, Any] = {
            "manual_says_text": WORDS + "3",
            "we_did_text": WORDS + "4",
            "why_text": WORDS + "5",
        }
        deviation = self.do("bram", "deviation.propose", task="T2", step="s3", **words).new_id("deviation")
        self.do("ines", "deviation.accept", deviation=deviation)

    def undoing(self) -> None:
        self.do("priya", "task.take", task="T7")
        shown = self.view("aled", "undo", task="T2")
        self.do("aled", "task.undo", task="T2", reason="damaged", list_digest=shown.list_digest)
        shown = self.view("aled", "undo", group="G1")
        self.do("aled", "torque.undo", group="G1", reason="damaged", note_text=WORDS + "6",
                list_digest=shown.list_digest)  # fmt: skip
        self.do("ines", "plan.clear_mark", task="T7", reason_text=WORDS + "7")

    def handing_over(self) -> None:
        self.do("priya", "task.stuck", task="T7", reason="cold")
        self.do("priya", "task.go_on", task="T7")
        self.do("ines", "task.take_over", task="T7", reason="time")
        self.do("ines", "task.pass_on", task="T7", to_person="priya")
        self.do("priya", "task.tick", task="T7", steps=["s1"])
        self.do("sofia", "task.sign_hold", task="T7", step="s2")
        self.do("priya", "task.untick", task="T7", step="s1")
        self.do("priya", "task.give_back", task="T7", reason="time")
        self.do("priya", "task.stuck", task="T7", reason="cold", note_text=WORDS + "8")

    def lifts(self) -> None:
        self.do(
            "bram", "lift.weigh", lift="L1", mass_kg="40", cg_x_mm="500", cg_y_mm="0", how_known_text="scales"
        )
        self.do("ines", "lift.rearrange", lift="L1", way="crane:front:0:0", rated_kg="500")
        self.do("ines", "lift.rearrange", lift="L1", way="as_planned")
        self.do(
            "bram", "lift.weigh", lift="L1", mass_kg="21", cg_x_mm="500", cg_y_mm="0", how_known_text="scales"
        )
        self.do("ines", "lift.call", lift="L1", when_ms=self.now_ms)
        self.do("ines", "lift.answer", lift="L1", will_come=True)
        self.do("priya", "lift.take_place", lift="L1", place="front")
        self.do("priya", "lift.leave_place", lift="L1")
        for who, place in (("aled", "front"), ("sofia", "rear"), ("bram", "caller")):
            self.do(who, "lift.take_place", lift="L1", place=place)
            self.do(who, "lift.ready", lift="L1")
        self.roll()
        self.do("bram", "lift.lift", lift="L1")
        self.do("ines", "lift.stop", lift="L1")
        self.do("bram", "lift.lower", lift="L1")
        self.roll()
        self.do("bram", "lift.go_on", lift="L1")
        self.do("bram", "lift.set_down", lift="L1", elsewhere_text=WORDS + "9")
        self.do("aled", "lift.sign_landed", lift="L1")
        self.do("ines", "lift.call", lift="L2", when_ms=self.now_ms)
        self.do("ines", "lift.stand_down", lift="L2")
        self.do("bram", "lift.report_by_voice", lift="L2", places={"front": "aled", "rear": "sofia", "caller": "bram"},
                lifted_ms=self.now_ms - 5 * MINUTE, set_down_ms=self.now_ms - MINUTE)  # fmt: skip

    def lifted_in_vain(self) -> None:
        """The task of a lift that has landed, done and undone."""
        self.do("bram", "task.take", task="T3")
        self.do("ines", "task.join", task="T3")
        self.do("bram", "task.tick", task="T3", steps=["s1"])
        self.do("bram", "task.sign_off", task="T3")
        shown = self.view("bram", "undo", task="T3")
        self.do("bram", "task.undo", task="T3", reason="damaged", list_digest=shown.list_digest)

    def roll(self) -> None:
        for place in ("front", "rear"):
            self.do("bram", "lift.roll", lift="L1", place=place)
        self.do("bram", "lift.clear_floor", lift="L1", children_out=True, nobody_beneath=True)

    def papers(self) -> None:
        snag = self.do("aled", "snag.report", task="T1", what_text=WORDS + "a").new_id("snag")
        self.do("aled", "snag.put_right", snag=snag)
        self.do("aled", "note.add", about_kind="task", about="T1", text=WORDS + "b")
        self.do("ines", "note.withdraw", payload=WORDS + "b", reason="other")
        self.do(
            "aled",
            "evidence.keep",
            task="T1",
            code="taken_by",
            asks=[{"kind": "task.take", "body": {"task": "T1"}}],
        )


def kept(state: State) -> dict[str, dict[str, Any]]:
    """What a ledger led to, in a form that outlives new fields of rows: each row's own word for how it stands."""
    return {
        kind: {id: getattr(row, "state", None) for id, row in sorted(rows.items())}
        for kind, rows in sorted(state.rows.items())
        if rows
    }


def sample_of(world: World) -> dict[str, Any]:
    return {"entries": [asdict(entry) for entry in world.entries], "leads_to": kept(world.state)}


def entries_of(sample: dict[str, Any]) -> list[Entry]:
    return [Entry(**said) for said in sample["entries"]]


def written(world: World) -> str:
    """The sample's text: one entry a line."""
    made = sample_of(world)
    lines = ",\n".join(json.dumps(entry, sort_keys=True) for entry in made["entries"])
    return f'{{"entries": [\n{lines}\n],\n"leads_to": {json.dumps(made["leads_to"], sort_keys=True)}}}\n'


def digest_of(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:12]


if __name__ == "__main__":
    said = written(EveryKind())
    (SAMPLES / f"{sys.argv[1]}-{digest_of(said)}.json").write_text(said, encoding="utf-8")
