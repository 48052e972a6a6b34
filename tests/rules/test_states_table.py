"""Every (state, command) pair of bolt groups, gates, loose ends and tags: asks outside the table are refused and change
nothing, reports are kept in any state (R4). Tasks: `test_tasks_table`; lifts: `test_lifts_table`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from rules.test_gates_two_people import Hall, end, gate
from rules.torque_shop import Shop
from yokemate.rules.frame import COMMANDS

LOOKED = [{"n": n, "found": "holds", "how": "torque_wrench_again"} for n in (1, 2, 3)]
GROUP: dict[str, tuple[str, dict[str, Any]]] = {  # kind: by whom, with which fields
    "torque.read": ("aled", {"pass_no": 1, "wrench": "W1", "set_value": "12", "unit": "n_m", "bolts": [{"n": 1}]}),
    "torque.run_in": ("aled", {"bolts": [1], "how": "run_in"}),
    "torque.new_fastener": ("aled", {"bolts": [1]}),
    "torque.stop_here": ("aled", {}),
    "torque.ask_check": ("aled", {}),
    "torque.report_loosened": ("kofi", {"bolts": [1]}),
    "torque.undo": ("aled", {"reason": "damaged"}),
    "torque.note_check": ("sofia", {"bolts": LOOKED}),
    "torque.send_back": ("sofia", {"bolts": [1], "reason": "other"}),
}  # fmt: skip
ABOUT_OTHERS = {"torque.correct", "torque.countersign"}  # of a reading, of a check
GROUP_STATES = ("untouched", "run_in", "snug", "started", "final", "undone")
REFUSED = {
    **{("torque.undo", state): "nothing_to_undo" for state in ("untouched", "undone")},
    **{("torque.note_check", state): "nothing_to_check" for state in GROUP_STATES if state != "final"},
    **{("torque.send_back", state): "nothing_to_check" for state in GROUP_STATES if state != "final"},
}
LOOSENS = {"torque.run_in", "torque.report_loosened", "torque.undo", "torque.send_back"}  # R14, R26
LEAVES = {"torque.stop_here", "torque.ask_check", "torque.note_check"}


def shop_in(state: str) -> Shop:
    shop = Shop()
    if state in ("run_in", "snug"):
        shop.do("aled", "torque.run_in", group="G1", bolts=[1, 2, 3], how=state)
    elif state == "started":
        shop.read(1, 2, 3, pass_no=1)
    elif state in ("final", "undone"):
        shop.make_final()
    if state == "undone":
        shop.do("kofi", "torque.undo", group="G1", reason="damaged", list_digest=shown(shop))
    assert shop.group().state == state
    return shop


def shown(shop: Shop) -> str:
    digest: str = shop.view("undo", "aled", group="G1").list_digest
    return digest


def test_the_table_names_every_command_of_bolt_groups() -> None:
    assert {kind for kind in COMMANDS if kind.startswith("torque.")} == set(GROUP) | ABOUT_OTHERS


@pytest.mark.parametrize("kind", sorted(GROUP))
@pytest.mark.parametrize("state", GROUP_STATES)
def test_every_pair_of_a_bolt_group(state: str, kind: str) -> None:
    shop = shop_in(state)
    who, fields = GROUP[kind]
    if kind == "torque.undo":
        fields = fields | {"list_digest": shown(shop)}
    elif kind == "torque.note_check":
        fields = fields | {"readings_digest": shop.group().readings_digest}
    if (code := REFUSED.get((kind, state))) is not None:
        shop.refused(code, who, kind, group="G1", **fields)
        return
    shop.do(who, kind, group="G1", **fields)
    if kind in LEAVES:
        assert shop.group().state == state
    elif kind in LOOSENS:
        assert shop.group().state != "final"


def proposed(hall: Hall, who: str, kind: str, **fields: Any) -> Hall:
    hall.do(who, kind, **fields)
    return hall


def opened(how: str) -> Hall:
    """A gate that is shut, with somebody asked to second it; or open, by those two."""
    hall = Hall(gate())
    hall.propose()
    if how == "open":
        hall.do("sofia", "two.second", proposal="c1.proposal")
    return hall


def loose(how: str) -> Hall:
    hall = proposed(Hall(end()), "bram", "loose.propose_another_way", loose_end="E1", reason_text="p-1")
    if how == "closed":
        hall.do("aled", "loose.make_good", loose_end="E1")
    return hall


def tagged(how: str) -> Hall:
    hall = proposed(Hall(), "aled", "hazard.hang_tag", what="battery")
    hall.do("bram", "hazard.propose_lift_tag", tag="c1.tag", reason_text="p-1")
    if how == "lifted":
        hall.do("aled", "hazard.lift_tag", tag="c1.tag")
    return hall


Pair = tuple[Callable[[str], Hall], str, str, str, dict[str, Any], str | None]
ON_THE_DAY = {"gate": "crank", "confirmed": ["Gearbox out of gear"]}
PAIRS: list[Pair] = [
    (opened, "shut", "ines", "gate.propose", ON_THE_DAY, None),
    (opened, "open", "ines", "gate.propose", ON_THE_DAY, "gate_open"),
    (opened, "shut", "sofia", "two.second", {"proposal": "c1.proposal"}, None),
    (opened, "open", "bram", "two.second", {"proposal": "c1.proposal"}, "proposal_lapsed"),
    (opened, "shut", "ines", "two.withdraw", {"proposal": "c1.proposal"}, None),
    (opened, "open", "ines", "two.withdraw", {"proposal": "c1.proposal"}, "proposal_lapsed"),
    *((opened, state, "ines", "gate.want", {"gate": "crank", "on": "2026-12-05"}, None) for state in ("shut", "open")),
    *((opened, state, "kofi", "engine.say", {"running": True}, None) for state in ("shut", "open")),
    (loose, "open", "aled", "loose.make_good", {"loose_end": "E1"}, None),
    (loose, "closed", "aled", "loose.make_good", {"loose_end": "E1"}, "already_closed"),
    (loose, "open", "sofia", "loose.propose_another_way", {"loose_end": "E1", "reason_text": "p-2"}, None),
    (loose, "closed", "sofia", "loose.propose_another_way", {"loose_end": "E1", "reason_text": "p-2"}, "already_closed"),
    (loose, "open", "sofia", "two.second", {"proposal": "c1.proposal"}, None),
    (loose, "closed", "sofia", "two.second", {"proposal": "c1.proposal"}, "proposal_lapsed"),
    (tagged, "hangs", "aled", "hazard.lift_tag", {"tag": "c1.tag"}, None),
    (tagged, "lifted", "aled", "hazard.lift_tag", {"tag": "c1.tag"}, "already_closed"),
    (tagged, "hangs", "sofia", "hazard.propose_lift_tag", {"tag": "c1.tag", "reason_text": "p-2"}, None),
    (tagged, "lifted", "sofia", "hazard.propose_lift_tag", {"tag": "c1.tag", "reason_text": "p-2"}, "already_closed"),
    (tagged, "hangs", "sofia", "two.second", {"proposal": "c2.proposal"}, None),
    (tagged, "lifted", "sofia", "two.second", {"proposal": "c2.proposal"}, "proposal_lapsed"),
]  # fmt: skip


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair[1]}-{pair[3]}-{pair[2]}")
def test_every_pair_of_gates_loose_ends_and_tags(pair: Pair) -> None:
    make, state, who, kind, fields, code = pair
    hall = make(state)
    if code is None:
        hall.do(who, kind, **fields)
    else:
        hall.refused(code, who, kind, **fields)
