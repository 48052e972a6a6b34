"""Gates and the second of two people: R23, R25, R26 (marks), and the two-people rule."""

from __future__ import annotations

from typing import Any

import pytest

from rules.torque_shop import NOON, Shop, group_row, member, task_row
from yokemate.planfile.model import After, GatePlan, Lag, Standing, Step
from yokemate.rules.frame import Row
from yokemate.rules.rows import Build, Gate, LooseEnd, Proposal
from yokemate.rules.rows.crew import Pair
from yokemate.rules.standing import standing, wants_to_open

PLAIN = Step(id="s1", say="Do it")


def gate(id: str = "crank", order: int = 1, *conditions: Standing, **more: Any) -> Gate:
    fields = {"kind": "first_crank", "name": f"Gate {id}", "on_the_day": ["Gearbox out of gear"]} | more
    return Gate(id=id, order=order, plan=GatePlan(id=id, standing=list(conditions), **fields))


def end(id: str = "E1", gate: str | None = "crank", **more: Any) -> LooseEnd:
    return LooseEnd(
        id=id, what="Hose capped", kind="opened", gate=gate, opened_by="aled", opened_ms=1, **more
    )


def done(id: str, order: int, state: str = "closed", **more: Any) -> Any:
    return task_row(
        id,
        order,
        PLAIN,
        state=state,
        done_at_ms=NOON,
        closed_at_ms=NOON if state == "closed" else None,
        **more,
    )


class Hall(Shop):
    """The shop with the gate `crank` as given and T1 finished; its group G1 is in nobody's way."""

    def __init__(self, *rows: Row) -> None:
        super().__init__(group_row(critical=False, countersign=False), done("T1", 1), *rows)

    def keys(self, id: str = "crank") -> list[str]:
        return [want.key for want in wants_to_open(self.state, self.state.get(Gate, id), self.now_ms)]

    def gate(self, id: str = "crank") -> Gate:
        return self.state.get(Gate, id)

    def propose(self, who: str = "ines", gate: str = "crank", **more: Any) -> str:
        confirmed = {"confirmed": ["Gearbox out of gear"]} | more
        self.do(who, "gate.propose", gate=gate, **confirmed)
        return f"c{self.count}.proposal"

    def open(self, gate: str = "crank") -> None:
        self.do("sofia", "two.second", proposal=self.propose(gate=gate))


def test_r25_two_people_open_a_gate() -> None:
    hall = Hall(gate())
    hall.open()
    assert (hall.gate().state, hall.gate().opened_by) == ("open", ["ines", "sofia"])
    assert hall.state.get(Proposal, f"c{hall.count - 1}.proposal").state == "seconded"


def test_r25_the_first_is_lead_or_deputy() -> None:
    hall = Hall(gate(), member("sofia", role="helper", deputy_until_ms=NOON * 2))
    hall.refused("role", "aled", "gate.propose", gate="crank", confirmed=["Gearbox out of gear"])
    hall.propose("sofia")


def test_r25_the_second_is_somebody_else() -> None:
    hall = Hall(gate())
    proposal = hall.propose()
    hall.refused("somebody_else", "ines", "two.second", proposal=proposal)
    assert hall.gate().state == "shut"


def test_r25_the_second_may_countersign_and_is_grown_up() -> None:
    hall = Hall(gate())
    proposal = hall.propose()
    hall.refused("may_not_countersign", "priya", "two.second", proposal=proposal)
    hall.refused("minor_cannot", "kofi", "two.second", proposal=proposal)
    hall.refused("viewer", "vera", "two.second", proposal=proposal)
    hall.do("bram", "two.second", proposal=proposal)


def test_r25_the_second_has_ten_minutes() -> None:
    hall = Hall(gate())
    proposal = hall.propose()
    asked = hall.now_ms
    hall.now_ms = asked + 600_000 - 60_000
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=proposal)
    hall.now_ms = asked + 599_999 - 60_000
    hall.do("sofia", "two.second", proposal=proposal)


def test_r25_every_condition_of_the_day_is_said() -> None:
    hall = Hall(gate(on_the_day=["Gearbox out of gear", "Wheels chocked"]))
    params = hall.refused(
        "on_the_day_missing", "ines", "gate.propose", gate="crank", confirmed=["Gearbox out of gear"]
    )
    assert params["missing"] == ["Wheels chocked"]


def test_r25_a_proposal_lapses_when_what_it_names_changes() -> None:
    """A loose end opened between the two people takes the first one's word back."""
    hall = Hall(gate())
    proposal = hall.propose()
    hall.do("kofi", "loose.report", kind="dropped")
    assert hall.state.get(Proposal, proposal).state == "lapsed"
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=proposal)


def test_r25_another_list_of_the_day_is_another_question() -> None:
    """Two people: a proposal lapses when what it names changes; the plan has one line more since the first looked."""
    hall = Hall(gate())
    proposal = hall.propose()
    for state in (hall.state, hall.first):
        state.rows["gate"]["crank"] = gate(on_the_day=["Gearbox out of gear", "Extinguisher at hand"])
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=proposal)


def test_r25_the_first_of_two_still_counts_when_the_second_agrees() -> None:
    """Who has left the crew, is lead no more or whose day as deputy is over is no first of two (R25, R30)."""
    hall = Hall(gate(), member("sofia", role="lead"))
    proposal = hall.propose()
    hall.do("sofia", "crew.change_member", person="ines", role="builder")
    hall.refused("proposal_lapsed", "aled", "two.second", proposal=proposal)

    hall = Hall(gate(), member("sofia", role="helper", deputy_until_ms=NOON + 300_000))
    proposal = hall.propose("sofia")
    opening = hall.view("gates", "aled").gates[1].opening
    assert (opening.until_ms, hall.view("gates").valid_until_ms) == (NOON + 300_000, NOON + 300_000)
    hall.now_ms = NOON + 300_000
    assert hall.view("gates", "aled").gates[1].opening is None
    hall.refused("proposal_lapsed", "aled", "two.second", proposal=proposal)


def test_r23_who_left_the_crew_has_put_nothing_right_another_way() -> None:
    hall = Hall(end(), member("aled", role="helper"))
    hall.do("aled", "loose.propose_another_way", loose_end="E1", reason_text="p-1")
    proposal = f"c{hall.count}.proposal"
    hall.do("ines", "crew.leave", person="aled")
    assert hall.state.get(Proposal, proposal).state == "lapsed"
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=proposal)


def test_proposing_again_lapses_the_first_and_one_takes_back_only_ones_own() -> None:
    hall = Hall(gate())
    first = hall.propose()
    again = hall.propose()
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=first)
    hall.refused("only_the_proposer", "sofia", "two.withdraw", proposal=again)
    hall.do("ines", "two.withdraw", proposal=again)
    hall.refused("proposal_lapsed", "sofia", "two.second", proposal=again)
    hall.refused("proposal_lapsed", "ines", "two.withdraw", proposal=again)


def test_two_people_typed_on_anothers_phone_needs_the_pin() -> None:
    hall = Hall(gate())
    proposal = hall.propose()
    hall.refused("pin_needed", "sofia", "two.second", proposal=proposal, typed_by="ines")
    hall.refused("pin_wrong", "sofia", "two.second", proposal=proposal, typed_by="ines", pin=False)
    hall.do("sofia", "two.second", proposal=proposal, typed_by="ines", pin=True)


def test_r25_an_open_gate_is_not_opened_again() -> None:
    hall = Hall(gate())
    hall.open()
    hall.refused("gate_open", "ines", "gate.propose", gate="crank", confirmed=["Gearbox out of gear"])


@pytest.mark.parametrize(
    ("condition", "rows", "wants"),
    [
        (Standing(task_closed="T5"), [done("T5", 5, "done")], ["task_open:T5"]),
        (Standing(task_closed="T5"), [task_row("T5", 5, PLAIN)], ["task_open:T5"]),
        (Standing(task_closed="T5"), [task_row("T5", 5, PLAIN, state="left_out")], []),
        (Standing(task_closed="T5"), [done("T5", 5)], []),
        (Standing(gate_open="roll"), [], ["gate_shut:roll"]),
        (Standing(loose_ends_closed=True), [end()], ["loose_end:E1"]),
        (Standing(loose_ends_closed=True), [end(gate="roll")], ["loose_end:E1"]),
        (Standing(loose_ends_closed=True), [end(closed=Pair(by="aled", at_ms=2), closed_how="put_back")], []),
        (Standing(loose_ends_closed=True), [end(gate="later"), gate("later", 2)], []),
        (Standing(task_closed="T1"), [end()], ["loose_end:E1"]),
    ],
)
def test_r25_standing_conditions(condition: Standing, rows: list[Row], wants: list[str]) -> None:
    """Each kind, true and false. Loose ends of this and of earlier gates hold it, later ones do not (R23)."""
    hall = Hall(gate("crank", 1, condition), *rows)
    assert hall.keys() == wants
    if wants:
        params = hall.refused(
            "gate_wants", "ines", "gate.propose", gate="crank", confirmed=["Gearbox out of gear"]
        )
        assert params["wants"] == wants
    else:
        hall.open()


@pytest.mark.parametrize(
    ("group", "task", "wants"),
    [
        (group_row("G5"), {"state": "taken"}, []),
        (group_row("G5"), {"state": "done"}, ["check_missing:G5"]),
        (group_row("G5", countersign=False), {"state": "closed"}, ["check_missing:G5"]),
        (group_row("G5", critical=False), {"state": "closed"}, ["check_missing:G5"]),
        (group_row("G5", critical=False, countersign=False), {"state": "closed"}, []),
        (group_row("G5").model_copy(update={"countersign": "c"}), {"state": "closed"}, []),
        (group_row("G5").model_copy(update={"left_out": True}), {"state": "closed"}, []),
        (group_row("G5").model_copy(update={"round": 1}), {"state": "open"}, ["check_missing:G5"]),
    ],
)
def test_r25_critical_groups_are_signed(group: Row, task: dict[str, Any], wants: list[str]) -> None:
    """Those of tasks done or closed so far, and any that was undone since."""
    tighten = Step(id="s1", say="Tighten", kind="tighten", group="G5")
    hall = Hall(
        gate("crank", 1, Standing(critical_groups_signed=True)), group, task_row("T5", 5, tighten, **task)
    )
    assert hall.keys() == wants


def test_r25_a_lag_must_be_over() -> None:
    """Twelve hours after T5 was done, to the millisecond."""
    cure = Lag(hours="12", why="sealant")
    hall = Hall(gate("crank", 1, Standing(lag_over="T5")), done("T5", 5))
    hall.state.rows["task"]["T6"] = task_row("T6", 6, PLAIN).model_copy(
        update={
            "plan": task_row("T6", 6, PLAIN).plan.model_copy(update={"after": [After(task="T5", lag=cure)]})
        }
    )
    crank = hall.gate()
    assert [w.key for w in standing(hall.state, crank, NOON + 12 * 3_600_000 - 1)] == ["lag:T5"]
    assert standing(hall.state, crank, NOON + 12 * 3_600_000) == []


def test_r25_a_standing_condition_made_false_shuts_the_gate_again() -> None:
    hall = Hall(gate())
    hall.open()
    hall.do("kofi", "loose.report", kind="dropped")
    assert hall.gate().state == "shut"
    assert hall.gate().shut_why == [f"loose_end:c{hall.count}.loose"]
    assert not hall.gate().stop_engine


def test_r25_what_is_said_on_the_day_counts_at_opening_only() -> None:
    """Afterwards nothing of it can be false; the gate stays open through other work."""
    hall = Hall(gate())
    hall.open()
    hall.do("aled", "torque.ask_check", group="G1")
    assert hall.gate().state == "open"


def test_r25_a_later_gate_falls_with_the_one_it_rests_on() -> None:
    later = gate("start", 2, Standing(gate_open="crank"), kind="first_start")
    hall = Hall(gate(), later)
    hall.open()
    hall.open("start")
    hall.do("aled", "loose.report", kind="dropped")
    assert (hall.gate().state, hall.gate("start").state) == ("shut", "shut")


def test_r25_an_earlier_gate_is_not_shut_by_what_belongs_to_a_later_one() -> None:
    hall = Hall(gate(), gate("later", 2, kind="inspection"))
    hall.open()
    hall.do("aled", "loose.report", kind="other", gate="later")
    assert hall.gate().state == "open"


def test_r25_a_gate_that_shuts_while_the_engine_runs_says_stop_the_engine() -> None:
    hall = Hall(gate())
    hall.open()
    hall.refused("viewer", "vera", "engine.say", running=True)
    hall.do("kofi", "engine.say", running=True)
    assert hall.state.get(Build, "build").engine == "running"
    assert not hall.gate().stop_engine
    hall.do("kofi", "loose.report", kind="dropped")
    assert hall.gate().stop_engine
    assert hall.view("gates").gates[1].stop_engine
    hall.do("aled", "engine.say", running=False)
    assert not hall.gate().stop_engine


@pytest.mark.parametrize(
    ("kind", "loud"), [("first_start", True), ("first_drive", True), ("inspection", False)]
)
def test_r25_every_gate_of_a_running_engine_is_loud(kind: str, loud: bool) -> None:
    """First crank, first start, first drive; a gate that no engine runs for only shuts."""
    hall = Hall(gate(), gate("later", 2, kind=kind))
    hall.open()
    hall.open("later")
    hall.do("aled", "engine.say", running=True)
    hall.do("kofi", "loose.report", kind="other", gate="later")
    assert (hall.gate("later").state, hall.gate("later").stop_engine) == ("shut", loud)


@pytest.mark.parametrize("hazard", ["cranking", "engine_running"])
def test_r25_it_may_be_running_while_such_work_is_on(hazard: str) -> None:
    """Nobody said that it runs; a task that makes it run is taken."""
    cranking = task_row("T7", 7, PLAIN, state="taken", holder="bram")
    cranking = cranking.model_copy(update={"plan": cranking.plan.model_copy(update={"hazards": [hazard]})})
    hall = Hall(gate(), cranking)
    hall.open()
    hall.do("kofi", "loose.report", kind="dropped")
    assert hall.gate().stop_engine


def test_r25_an_engine_that_runs_behind_a_shut_gate_is_said_loudly_too() -> None:
    hall = Hall(gate())
    hall.do("aled", "engine.say", running=True)
    assert hall.gate().stop_engine
    hall.do("aled", "engine.say", running=False)
    hall.open()
    hall.do("aled", "engine.say", running=True)
    assert not hall.gate().stop_engine


def test_r26_work_built_on_undone_work_holds_the_next_gate_and_shuts_none() -> None:
    marked = done("T5", 5, built_on_undone=["T1"])
    hall = Hall(gate(), marked)
    assert hall.keys() == ["built_on_undone:T5"]
    hall.refused("gate_wants", "ines", "gate.propose", gate="crank", confirmed=["Gearbox out of gear"])
    opened = Hall(gate().model_copy(update={"state": "open"}), marked)
    opened.do("aled", "torque.ask_check", group="G1")
    assert opened.gate().state == "open"


def test_gates_view_says_who_may_propose_and_second() -> None:
    hall = Hall(gate(), end())
    wanting = hall.view("gates", "ines").gates[1]
    assert ([want.about for want in wanting.wants], wanting.i_may_propose) == (["E1"], False)
    free = Hall(gate())
    assert free.view("gates", "ines").gates[1].i_may_propose
    assert not free.view("gates", "aled").gates[1].i_may_propose
    free.propose()
    seen = {
        who: free.view("gates", who).gates[1].opening for who in ("ines", "sofia", "priya", "kofi", "vera")
    }
    assert {who: o.i_may_second for who, o in seen.items()} == {
        "ines": False, "sofia": True, "priya": False, "kofi": False, "vera": False,
    }  # fmt: skip
    assert free.view("gates").valid_until_ms == free.now_ms + 600_000
    free.now_ms += 600_000
    assert free.view("gates", "sofia").gates[1].opening is None


def test_what_lapses_with_time_lapses_on_the_screen_of_loose_ends_too() -> None:
    """R25: the second has ten minutes, and nobody is asked after that; nor by a guest whose day is over (R23)."""
    hall = Hall(gate(), end(), gate("later", 2), member("gast", guest_until_ms=NOON + 2 * 3_600_000))
    hall.do("gast", "loose.propose_another_way", loose_end="E1", reason_text="A new one fitted")
    seen = hall.view("loose_ends")
    assert seen.by_gate[1].ends[0].another_way is not None
    assert seen.valid_until_ms == NOON + 2 * 3_600_000
    hall.now_ms = NOON + 2 * 3_600_000
    assert hall.view("loose_ends").by_gate[1].ends[0].another_way is None

    free = Hall(gate())
    free.propose()
    assert free.view("loose_ends").valid_until_ms == free.now_ms + 600_000
