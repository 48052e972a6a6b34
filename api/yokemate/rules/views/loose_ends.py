"""Loose ends by gate and by zone, with what else each gate wants (R23, R25)."""

from __future__ import annotations

from yokemate.rules.decide.loose_ends import not_made_good
from yokemate.rules.decide.proposals import ends_ms, stands, waiting
from yokemate.rules.frame import State
from yokemate.rules.rows import Build, LooseEnd, Proposal, Task
from yokemate.rules.standing import gates_in_order
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.gates import GateView, gate_view, gates_end_ms
from yokemate.rules.views.saying import Saying, saying


class AnotherWay(ViewPart):
    """Somebody proposed to put it right another way; a second person is asked."""

    proposal: str
    by: str
    at_ms: int
    reason: str | None  # payload id
    until_ms: int | None  # when it lapses by itself


class LooseEndView(ViewPart):
    id: str
    what: str
    kind: str
    where: str | None
    zone: str | None
    gate: str | None
    group: str | None
    task: str | None
    note: str | None  # payload id
    photo: str | None
    opened_by: str
    opened_ms: int
    restores_task: str | None
    restores_step: str | None
    restores_title: str | None
    restores_holder: str | None
    made_good: bool  # may be closed by hand
    not_made_good: Saying | None
    another_way: AnotherWay | None


class ZoneEnds(ViewPart):
    zone: str | None
    name: str
    ends: list[LooseEndView]


class GateEnds(ViewPart):
    gate: GateView | None  # None: loose ends that belong to no gate
    ends: list[LooseEndView]


class LooseEndsView(View):
    open: int
    by_gate: list[GateEnds]
    by_zone: list[ZoneEnds]


@view("loose_ends", "/loose-ends", NoParams, LooseEndsView)
def loose_ends(state: State, viewer: Viewer, params: NoParams) -> LooseEndsView:
    """What is loose, by gate and by zone, and what else keeps each gate shut."""
    rows = sorted((e for e in state.all(LooseEnd) if e.closed is None), key=lambda e: (e.opened_ms, e.id))
    ends = [_end(state, row, viewer.now_ms) for row in rows]
    gates = [gate_view(state, viewer, gate) for gate in gates_in_order(state)]
    by_gate = [GateEnds(gate=gate, ends=[e for e in ends if e.gate == gate.id]) for gate in gates]
    rest = [e for e in ends if e.gate not in {gate.id for gate in gates}]
    if rest:
        by_gate.append(GateEnds(gate=None, ends=rest))
    lapse = [gates_end_ms(gates, viewer.now_ms), *(e.another_way.until_ms for e in ends if e.another_way)]
    return LooseEndsView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=min((ms for ms in lapse if ms is not None), default=None),
        open=len(ends),
        by_gate=by_gate,
        by_zone=_by_zone(state, ends),
    )


def _by_zone(state: State, ends: list[LooseEndView]) -> list[ZoneEnds]:
    build = state.find(Build, "build")
    zones = [(zone.id, zone.name) for zone in build.zones] if build is not None else []
    shown = [ZoneEnds(zone=id, name=name, ends=[e for e in ends if e.zone == id]) for id, name in zones]
    rest = [e for e in ends if e.zone not in {id for id, _ in zones}]
    return shown + ([ZoneEnds(zone=None, name="Somewhere on the car", ends=rest)] if rest else [])


def _end(state: State, end: LooseEnd, now_ms: int) -> LooseEndView:
    why_not = not_made_good(state, end)
    task = state.find(Task, end.restores_task) if end.restores_task else None
    asked = [p for p in waiting(state, "put_right", end.id) if stands(state, p, now_ms)]
    return LooseEndView(
        id=end.id,
        what=end.what,
        kind=end.kind,
        where=end.where,
        zone=end.zone,
        gate=end.gate,
        group=end.group,
        task=end.task,
        note=end.note,
        photo=end.photo,
        opened_by=end.opened_by,
        opened_ms=end.opened_ms,
        restores_task=end.restores_task,
        restores_step=end.restores_step,
        restores_title=task.plan.title if task is not None else None,
        restores_holder=task.holder if task is not None else None,
        made_good=why_not is None,
        not_made_good=None if why_not is None else saying(why_not.code, why_not.params),
        another_way=_another_way(state, asked[-1]) if asked else None,
    )


def _another_way(state: State, asked: Proposal) -> AnotherWay:
    return AnotherWay(
        proposal=asked.id,
        by=asked.by,
        at_ms=asked.at_ms,
        reason=asked.reason,
        until_ms=ends_ms(state, asked),
    )
