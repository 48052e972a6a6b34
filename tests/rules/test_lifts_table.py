"""Every (state, command) pair of a lift: it has its effect, is refused, or is only kept (R18, R19)."""

from __future__ import annotations

from typing import Any, get_args

import pytest

from rules.lift_yard import CREW, Yard
from yokemate.rules.frame import COMMANDS
from yokemate.rules.refusals import Refused
from yokemate.rules.rows.lifts import Lift, LiftState

STATES = ("drafted", "called", "crewed", "in_place", "lifting", "held", "landed", "stood_down")
BEFORE, UP = {"called", "crewed", "in_place"}, {"lifting", "held"}
NOT_YET = {"drafted", "stood_down"}
EFFECT: dict[str, set[str]] = {  # from the words of R18 to R22, not from the code
    "lift.weigh": BEFORE | NOT_YET,  # R20: never under a load that is up, nor one that has landed
    "lift.rearrange": NOT_YET,  # before it is called, for everybody is asked for the places as they were called (R21)
    "lift.call": NOT_YET,
    "lift.answer": BEFORE,
    "lift.take_place": BEFORE
    | {"held"},  # R19: from held it goes on after a fresh roll call, maybe with somebody else
    "lift.leave_place": BEFORE | {"held"},
    "lift.ready": BEFORE | {"held"},
    "lift.roll": {"crewed", "in_place", "held"},  # R18: each place filled; R19: afresh from held
    "lift.clear_floor": {"crewed", "in_place", "held"},
    "lift.lift": BEFORE,  # R19: no way round held; what still lacks is said by name, whichever of these it stands at
    "lift.stop": BEFORE | UP,  # R19
    "lift.lower": {"held"},  # R19: from held, lower or go on
    "lift.go_on": {"held"},
    "lift.set_down": UP,  # R22
    "lift.sign_landed": UP,  # once it was set down
    "lift.stand_down": BEFORE,  # R19: before lifting
    "lift.report_by_voice": BEFORE
    | NOT_YET,  # R18; what went by voice is reported anew: `test_lifts_by_voice`
}

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
    "lift.leave_place": "aled", "lift.ready": "aled", "lift.sign_landed": "aled", "lift.stand_down": "ines",
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


def test_the_table_names_every_lift_command_and_every_state() -> None:
    """Else a pair would be judged by nobody."""
    assert set(EFFECT) == {kind for kind in COMMANDS if kind.startswith("lift.")}
    assert set(STATES) == set(get_args(LiftState))


LACKS = {  # the state would do, and something else is missing in this plain case: that is named
    ("called", "lift.ready"): "no_place", ("called", "lift.lift"): "place_empty",
    ("crewed", "lift.lift"): "not_ready_person", ("crewed", "lift.roll"): "not_ready_person",
    ("held", "lift.go_on"): "roll_missing",
    ("lifting", "lift.sign_landed"): "not_in_state", ("held", "lift.sign_landed"): "not_in_state",  # nobody set it down
}  # fmt: skip
SAID_AGAIN = {  # as it is already: no place to leave, no roll call to empty, the place is theirs, they have answered
    ("called", "lift.leave_place"), ("called", "lift.stop"), ("crewed", "lift.stop"),
    *((state, "lift.take_place") for state in ("crewed", "in_place", "held")),
    *((state, "lift.answer") for state in ("crewed", "in_place")),
    ("in_place", "lift.clear_floor"), ("in_place", "lift.roll"),
}  # fmt: skip


@pytest.mark.parametrize("kind", sorted(EFFECT))
@pytest.mark.parametrize("state", STATES)
def test_every_pair(state: LiftState, kind: str) -> None:
    """R4: asks outside the table are refused as *not in state*, reports are kept; both leave the lift as it was."""
    yard = yard_in(state)
    before = yard.lift()
    try:
        yard.act(WHO.get(kind, "desmond"), kind.removeprefix("lift."), **FIELDS.get(kind, {}))
        code = None
    except Refused as refused:
        code = refused.code
    changed = unstopped(yard.lift()) != unstopped(before)
    if state not in EFFECT[kind]:
        assert code == (None if COMMANDS[kind].act == "report" else "not_in_state")
        assert not changed
    else:
        assert code == LACKS.get((state, kind))
        assert changed == (code is None and (state, kind) not in SAID_AGAIN)


def unstopped(lift: Lift) -> Lift:
    """But for who pressed STOP last: that is kept in any state (R19)."""
    return lift.model_copy(update={"stopped": None})
