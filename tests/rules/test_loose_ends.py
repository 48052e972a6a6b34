"""Loose ends: R23, and the views by gate and by zone."""

from __future__ import annotations

from typing import Any

import pytest

from rules import world as w
from rules.torque_shop import Shop, task_row
from rules.world import World
from yokemate.planfile.model import Step, Zone
from yokemate.rules.frame import Row
from yokemate.rules.rows import Build, LooseEnd, Proposal
from yokemate.rules.rows.tasks import Tick


def end(id: str = "E1", **more: Any) -> LooseEnd:
    fields = {"what": "Clamp off the top hose", "kind": "loosened", "gate": "crank"} | more
    return LooseEnd(id=id, opened_by="aled", opened_ms=1, **fields)


def planned(state: str = "open", ticks: tuple[str, ...] = (), **more: Any) -> list[Row]:
    """E1 is put back by step s2 of T6."""
    steps = (Step(id="s1", say="Look"), Step(id="s2", say="Clamp on", kind="put_back", puts_back=["X1"]))
    marks = {step: Tick(by="aled", at_ms=1) for step in ticks}
    return [
        end(plan_id="X1", restores_task="T6", restores_step="s2", zone="bay"),
        task_row("T6", 6, *steps, state=state, ticks=marks, **more),
    ]


@pytest.mark.parametrize("who", ["kofi", "priya", "aled", "ines"])
def test_r23_anybody_of_the_crew_opens_one_in_two_taps(who: str) -> None:
    """Minors too: kind and send, nothing else. It holds the first crank gate."""
    shop = Shop()
    shop.do(who, "loose.report", kind="dropped")
    made = shop.ends(kind="dropped")[0]
    assert (made.gate, made.opened_by, made.what) == ("crank", who, "Something dropped")


def test_r30_a_viewer_opens_none() -> None:
    Shop().refused("viewer", "vera", "loose.report", kind="dropped")


def test_r23_it_belongs_to_another_gate_where_that_is_said() -> None:
    shop = Shop()
    shop.do("aled", "loose.report", kind="left_in", gate="roll", task="T1", what_text="p-1", photo="a" * 64)
    made = shop.ends(kind="left_in")[0]
    assert (made.gate, made.task, made.zone, made.note, made.photo) == ("roll", "T1", "bay", "p-1", "a" * 64)


def test_r32_unknown_gate_task_or_zone_is_named() -> None:
    shop = Shop()
    assert shop.refused("unknown", "aled", "loose.report", kind="other", gate="x")["what"] == "gate"
    assert shop.refused("unknown", "aled", "loose.report", kind="other", task="x")["what"] == "task"
    assert shop.refused("unknown", "aled", "loose.report", kind="other", zone="x")["what"] == "zone"


@pytest.mark.parametrize(
    ("step", "kind"),
    [("loosen", "loosened"), ("unplug", "unplugged"), ("open", "opened"), ("prop", "propped")],
)
def test_r23_what_a_step_leaves_loose_is_put_back_by_the_matching_step(step: str, kind: str) -> None:
    """R23: loosening, unplugging, opening, propping open one each, named as what was done; the put-back closes it."""
    off = Step(id="off", say="Off", kind=step, opens=["O1"])
    back = Step(id="back", say="Back on", kind="put_back", puts_back=["O1"])
    gates = [w.gate(standing=[{"task_closed": "T1"}])]
    world = World(w.plan(w.task("T1", off, back), loose_ends=[w.loose_end("O1", "other")], gates=gates))
    world.do("bram", "task.take", task="T1")
    world.do("bram", "task.tick", task="T1", steps=["off"])
    (end_,) = world.all(LooseEnd)
    assert (end_.kind, end_.gate, end_.closed) == (kind, "crank", None)
    world.do("bram", "task.tick", task="T1", steps=["back"])
    assert world.all(LooseEnd)[0].closed_how == "put_back"


def test_r23_made_good_by_hand_where_no_step_does_it() -> None:
    shop = Shop(end())
    shop.do("kofi", "loose.make_good", loose_end="E1", photo="b" * 64)
    made = shop.state.get(LooseEnd, "E1")
    assert made.closed is not None
    assert (made.closed.by, made.closed_how, made.closed_photo) == ("kofi", "made_good", "b" * 64)
    shop.refused("already_closed", "aled", "loose.make_good", loose_end="E1")


@pytest.mark.parametrize("state", ["open", "taken"])
def test_r23_only_the_planned_step_makes_it_good(state: str) -> None:
    shop = Shop(*planned(state))
    params = shop.refused("made_good_by_step", "aled", "loose.make_good", loose_end="E1")
    assert params == {"task": "T6", "step": "s2"}


@pytest.mark.parametrize(
    ("state", "ticks"), [("left_out", ()), ("closed", ()), ("done", ("s1", "s2")), ("taken", ("s2",))]
)
def test_r23_where_the_planned_step_is_past_or_gone_it_is_made_good_by_hand(
    state: str, ticks: tuple[str, ...]
) -> None:
    """No step is left to do it: a block without a way out would teach people to lie."""
    shop = Shop(*planned(state, ticks))
    shop.do("aled", "loose.make_good", loose_end="E1")


def test_r23_run_in_is_made_good_by_the_final_pass_alone() -> None:
    """Also when the tightening task was signed before: only *final* counts."""
    shop = Shop()
    shop.do("aled", "torque.run_in", group="G1", bolts=[1, 2, 3], how="run_in")
    made = next(e for e in shop.ends() if e.closed is None)
    shop.refused("made_good_by_step", "aled", "loose.make_good", loose_end=made.id)
    shop.make_final()
    assert shop.state.get(LooseEnd, made.id).closed_how == "final"


def test_r23_put_right_another_way_takes_two_and_a_reason() -> None:
    shop = Shop(*planned())
    shop.do("aled", "loose.propose_another_way", loose_end="E1", reason_text="p-3")
    proposal = f"c{shop.count}.proposal"
    assert shop.state.get(Proposal, proposal).reason == "p-3"
    shop.refused("somebody_else", "aled", "two.second", proposal=proposal)
    shop.refused("minor_cannot", "kofi", "two.second", proposal=proposal)
    assert shop.view("loose_ends", "priya").by_gate[1].ends[0].another_way.by == "aled"
    shop.do("priya", "two.second", proposal=proposal)
    made = shop.state.get(LooseEnd, "E1")
    assert made.closed is not None
    assert (made.closed.by, made.closed_how) == ("priya", "another_way")


def test_r23_another_way_is_no_matter_for_minors() -> None:
    Shop(*planned()).refused(
        "minor_cannot", "kofi", "loose.propose_another_way", loose_end="E1", reason_text="p-3"
    )


def test_two_people_a_proposal_lapses_when_the_loose_end_is_closed_otherwise() -> None:
    shop = Shop(end())
    shop.do("aled", "loose.propose_another_way", loose_end="E1", reason_text="p-3")
    proposal = f"c{shop.count}.proposal"
    shop.do("bram", "loose.make_good", loose_end="E1")
    assert shop.state.get(Proposal, proposal).state == "lapsed"
    shop.refused("proposal_lapsed", "priya", "two.second", proposal=proposal)
    shop.refused("already_closed", "aled", "loose.propose_another_way", loose_end="E1", reason_text="p-3")


def test_loose_ends_stand_by_gate_and_by_zone() -> None:
    build = Build(
        id="build", name="Q", units="metric", made_by="ines", zones=[Zone(id="bay", name="Frame bay")]
    )
    shop = Shop(build, *planned(holder="bram"), end("E2", gate=None))
    seen = shop.view("loose_ends", "kofi")
    assert seen.open == 2
    by_gate = [(part.gate.id if part.gate else None, [e.id for e in part.ends]) for part in seen.by_gate]
    assert by_gate == [("roll", []), ("crank", ["E1"]), (None, ["E2"])]
    assert [(part.name, [e.id for e in part.ends]) for part in seen.by_zone] == [
        ("Frame bay", ["E1"]), ("Somewhere on the car", ["E2"]),
    ]  # fmt: skip
    first = seen.by_gate[1].ends[0]
    assert (first.made_good, first.not_made_good.code, first.restores_holder) == (
        False,
        "made_good_by_step",
        "bram",
    )
    assert seen.by_gate[2].ends[0].made_good
