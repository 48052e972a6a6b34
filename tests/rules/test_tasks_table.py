"""Every (state, command) pair of a task, each with what comes of it: asks outside the table are refused, reports are
kept in any state, and neither changes the task (R4, R5, R6, R10). The table is written from the rules, not from the code.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Measure, Step
from yokemate.rules.frame import COMMANDS
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Task

STATES = ("open", "taken", "stuck", "done", "closed", "left_out")
HEATER = {"id": "heater", "say": "Heater", "default": "yes",
          "choices": [{"id": "yes", "say": "Yes"}, {"id": "no", "say": "No"}]}  # fmt: skip
STEPS = (
    Step(id="s1", say="Bracket on", kind="confirm_side", side="left"),
    Step(id="s2", say="Gap", kind="measure", measure=Measure(say="gap", unit="mm", low="1", high="2")),
    Step(id="s3", say="Clip it"),
)
BY: dict[str, tuple[str, dict[str, Any]]] = {  # by whom, with which fields; Bram has it, Aled is on it with him
    "task.take": ("sofia", {}),
    "task.take_over": ("ines", {}),
    "task.join": ("priya", {}),
    "task.leave": ("aled", {}),
    "task.want_help": ("bram", {}),
    "task.tick": ("bram", {"steps": ["s3"]}),
    "task.untick": ("bram", {"step": "s3"}),
    "task.confirm_side": ("bram", {"step": "s1", "side": "left"}),
    "task.go_on": ("bram", {}),
    "task.pass_on": ("bram", {"to_person": "priya"}),
    "task.sign_off": ("bram", {}),
    "task.sign_hold": ("sofia", {"step": "end"}),
    "plan.release_task": ("ines", {"reason_text": "x"}),
    "task.measure": ("bram", {"step": "s2", "value": "1.5", "unit": "mm"}),
    "task.have_part": ("bram", {"part": "P1", "have": False}),
    "task.stuck": ("bram", {"reason": "cold"}),
    "task.give_back": ("bram", {"reason": "time"}),
    "task.go_home": ("bram", {}),
}  # fmt: skip
REPORTS = {"task.measure", "task.have_part", "task.stuck", "task.give_back", "task.go_home"}
ELSEWHERE = {"task.undo"}  # of a list that was shown: `test_undo_work`
NOT_IN_STATE, NOT_ON_IT = "not_in_state", "not_on_it"
REFUSED: dict[str, dict[str, str]] = {  # kind -> state -> why; every other pair is let through
    "task.take": {"taken": "taken_by", "stuck": "taken_by", "done": NOT_IN_STATE, "closed": NOT_IN_STATE,
                  "left_out": "left_out"},  # R5, R6
    "task.take_over": dict.fromkeys(("open", "done", "closed", "left_out"), NOT_IN_STATE),  # R10
    "task.join": dict.fromkeys(("open", "done", "closed", "left_out"), "not_taken"),  # R6
    "task.leave": dict.fromkeys(("open", "left_out"), NOT_ON_IT),  # who has left before it was signed says so late
    "task.want_help": dict.fromkeys(("open", "done", "closed", "left_out"), NOT_ON_IT),
    **{kind: {"stuck": "is_stuck", **dict.fromkeys(("open", "done", "closed", "left_out"), NOT_IN_STATE)}
       for kind in ("task.tick", "task.untick", "task.confirm_side", "task.sign_off")},  # R9: signed work is undone (R26)
    "task.go_on": {"taken": "not_stuck", **dict.fromkeys(("open", "done", "closed", "left_out"), NOT_ON_IT)},
    "task.pass_on": dict.fromkeys(("open", "done", "closed", "left_out"), NOT_IN_STATE),
    "task.sign_hold": dict.fromkeys(("open", "taken", "stuck", "closed", "left_out"), NOT_IN_STATE),  # R5: after the work
    "plan.release_task": dict.fromkeys(("taken", "stuck", "done", "closed", "left_out"), NOT_IN_STATE),
}  # fmt: skip
CHANGES = {  # where a report has its effect on the task; else it is kept beside it
    *((state, "task.have_part") for state in STATES),  # R5: the answer to "have you got it?"
    *((state, kind) for state in ("taken", "stuck") for kind in REPORTS),
}  # fmt: skip


def in_state(world: World, state: str, kind: str) -> None:
    """T1 in a state, with all its steps done but where the command is about doing them."""
    if state == "left_out":
        world.do("ines", "plan.choose", options={"heater": "no"})
    if state in ("taken", "stuck", "done", "closed"):
        world.do("bram", "task.take", task="T1")
        world.do("aled", "task.join", task="T1")
        if kind != "task.confirm_side":
            world.do("bram", "task.confirm_side", task="T1", step="s1", side="left")
        world.do("bram", "task.measure", task="T1", step="s2", value="1.5", unit="mm")
        if kind != "task.tick" or state in ("done", "closed"):
            world.do("bram", "task.tick", task="T1", steps=["s3"])
    if state in ("done", "closed"):
        world.do("bram", "task.confirm_side", task="T1", step="s1", side="left")
        world.do("bram", "task.sign_off", task="T1")
    if state == "closed":
        world.do("sofia", "task.sign_hold", task="T1", step="end")
    if state == "stuck":
        world.do("bram", "task.stuck", task="T1", reason="no_part")
    row = world.get(Task, "T1")
    assert (row.state, row.stuck is not None) == (("taken", True) if state == "stuck" else (state, False))


def test_the_table_names_every_command_of_tasks() -> None:
    """Else a pair would be judged by nobody."""
    kinds = {kind: spec.act for kind, spec in COMMANDS.items() if kind.startswith("task.")}
    assert set(kinds) == {kind for kind in BY if kind.startswith("task.")} | ELSEWHERE
    assert {kind for kind, act in kinds.items() if act == "report"} == REPORTS | ELSEWHERE


@pytest.mark.parametrize("kind", sorted(BY))
@pytest.mark.parametrize("state", STATES)
def test_every_pair_of_a_task(new_world: Callable[..., World], state: str, kind: str) -> None:
    """R4, R5: the World checks that a refusal changed nothing; what is let through does what it says."""
    world = new_world(
        w.plan(
            w.task("T1", *STEPS, hold_point=True, when={"heater": "yes"}, better_people=3),
            options=[HEATER], parts=[{"id": "P1", "name": "Clip", "source": "kit", "count": 3}],
        )
    )  # fmt: skip
    in_state(world, state, kind)
    before = world.get(Task, "T1")
    who, fields = BY[kind]
    code = None
    try:
        world.do(who, kind, task="T1", **fields)
    except Refused as refused:
        code = refused.code
    after = world.get(Task, "T1")
    assert code == REFUSED.get(kind, {}).get(state)
    if kind in REPORTS:
        assert (after != before) == ((state, kind) in CHANGES), "kept beside the task"
    else:
        assert (after != before) == (code is None), "what is let through does something"
