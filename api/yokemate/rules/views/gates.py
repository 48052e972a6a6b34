"""The gates in the order of the build: open or shut, what each wants, who is asked to second it (R25)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from yokemate.rules.decide.proposals import ends_ms, stands, waiting
from yokemate.rules.frame import State
from yokemate.rules.gatekeeper import is_deputy
from yokemate.rules.rows import Build, Gate, Member
from yokemate.rules.standing import gates_in_order, wants_to_open
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view


class GateWant(ViewPart):
    """One condition that is not true: kind, what it is about, and what its line shows."""

    kind: str
    about: str
    params: dict[str, Any]


class Opening(ViewPart):
    """A first person has said that the gate may open; a second one is asked."""

    proposal: str
    by: str
    at_ms: int
    until_ms: int | None
    i_may_second: bool


class GateView(ViewPart):
    id: str
    name: str
    kind: str
    state: Literal["shut", "open"]
    opened_by: list[str]
    opened_ms: int | None
    shut_ms: int | None
    shut_why: list[str]
    stop_engine: bool
    guards: list[str]
    on_the_day: list[str]
    wants: list[GateWant]
    opening: Opening | None
    i_may_propose: bool


class GatesView(View):
    engine: Literal["off", "running"]
    gates: list[GateView]


@view("gates", "/gates", NoParams, GatesView)
def gates(state: State, viewer: Viewer, params: NoParams) -> GatesView:
    """Every gate with what it still wants, in the order of the build."""
    shown = [gate_view(state, viewer, gate) for gate in gates_in_order(state)]
    build = state.find(Build, "build")
    return GatesView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=gates_end_ms(shown, viewer.now_ms),
        engine=build.engine if build is not None else "off",
        gates=shown,
    )


def gates_end_ms(shown: Sequence[GateView], now_ms: int) -> int | None:
    """When one of them may look different although no entry comes: the second of two is too late, a cure is over."""
    ends = [g.opening.until_ms for g in shown if g.opening is not None]
    ends += [want.params.get("until_ms") for g in shown for want in g.wants if want.kind == "lag"]
    return min((end for end in ends if end is not None and end > now_ms), default=None)


def gate_view(state: State, viewer: Viewer, gate: Gate) -> GateView:
    me = state.find(Member, viewer.person)
    wants = wants_to_open(state, gate, viewer.now_ms) if gate.state == "shut" else []
    in_charge = me is not None and (me.role == "lead" or is_deputy(me, viewer.now_ms)) and me.minor is None
    return GateView(
        id=gate.id,
        name=gate.plan.name,
        kind=gate.plan.kind,
        state=gate.state,
        opened_by=gate.opened_by,
        opened_ms=gate.opened_ms,
        shut_ms=gate.shut_ms,
        shut_why=gate.shut_why,
        stop_engine=gate.stop_engine,
        guards=gate.plan.guards,
        on_the_day=gate.plan.on_the_day,
        wants=[GateWant(kind=want.kind, about=want.about, params=want.params) for want in wants],
        opening=_opening(state, viewer, gate, me),
        i_may_propose=in_charge and gate.state == "shut" and not wants,
    )


def _opening(state: State, viewer: Viewer, gate: Gate, me: Member | None) -> Opening | None:
    asked = [p for p in waiting(state, "open_gate", gate.id) if stands(state, p, viewer.now_ms)]
    if not asked:
        return None
    proposal = asked[-1]
    second = me is not None and me.may_countersign and me.minor is None and me.role != "viewer"
    return Opening(
        proposal=proposal.id,
        by=proposal.by,
        at_ms=proposal.at_ms,
        until_ms=ends_ms(state, proposal),
        i_may_second=second and proposal.by != viewer.person,
    )
