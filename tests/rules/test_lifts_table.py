"""Every (state, command) pair of a lift: it has its effect, is refused, or is only kept (R18, R19)."""

from __future__ import annotations

from typing import Any

import pytest

from rules.lift_yard import CREW, Yard
from yokemate.rules.frame import COMMANDS
from yokemate.rules.refusals import Refused
from yokemate.rules.rows.lifts import LiftState
from yokemate.rules.transitions_lifts import EFFECT, STATES, has_effect

FIELDS: dict[str, dict[str, Any]] = {
    "lift.weigh": {"mass_kg": "84", "cg_x_mm": "800", "cg_y_mm": "0", "how_known_text": "scales"},
    "lift.rearrange": {"way": "as_planned"},
    "lift.call": {"when_ms": 9_999_999_999_999},
    "lift.answer": {"will_come": True},
    "lift.take_place": {"place": "fl"},
    "lift.roll": {"place": "fl"},
    "lift.clear_floor": {"children_out": True, "nobody_beneath": True},
    "lift.report_by_voice": {"places": CREW, "lifted_ms": 1, "set_down_ms": 2},
}
WHO = {
    "lift.weigh": "ines", "lift.rearrange": "ines", "lift.call": "ines", "lift.answer": "aled", "lift.take_place": "aled",
    "lift.leave_place": "aled", "lift.ready": "aled", "lift.sign_landed": "aled",
}  # fmt: skip


def yard_in(state: LiftState) -> Yard:
    yard = Yard()
    if state in ("called", "crewed", "in_place", "lifting"):
        getattr(yard, state)()
    elif state == "held":
        yard.lifting().act("bram", "stop")
    elif state == "stood_down":
        yard.crewed().act("ines", "stand_down")
    elif state == "landed":
        yard.lifting().act("desmond", "set_down")
        yard.act("aled", "sign_landed")
    assert yard.lift().state == state
    return yard


def test_the_table_names_every_lift_command() -> None:
    assert set(EFFECT) == {kind for kind in COMMANDS if kind.startswith("lift.")}


@pytest.mark.parametrize("kind", sorted(EFFECT))
@pytest.mark.parametrize("state", STATES)
def test_every_pair(state: LiftState, kind: str) -> None:
    """Asks outside the table are refused as *not in state*; reports are kept and leave the lift as it was."""
    yard = yard_in(state)
    before = yard.lift()
    try:
        yard.act(WHO.get(kind, "desmond"), kind.removeprefix("lift."), **FIELDS.get(kind, {}))
        code = None
    except Refused as refused:
        code = refused.code
    after = yard.lift().model_copy(update={"stopped": before.stopped})
    if COMMANDS[kind].act == "report":
        assert code is None
        assert has_effect(before, kind) or after == before
    elif not has_effect(before, kind):
        assert code == "not_in_state"
        assert after == before
    else:
        assert code != "not_in_state" or (state, kind) in WAITS


# In the table, yet something else is missing in this plain case: said in words of the state.
WAITS = {("lifting", "lift.sign_landed"), ("held", "lift.sign_landed")}
