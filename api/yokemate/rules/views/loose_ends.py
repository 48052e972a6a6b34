"""Loose ends by gate and by zone, with what else each gate wants (R23, R25)."""

from __future__ import annotations

from yokemate.rules.decide.loose_ends import not_made_good
from yokemate.rules.decide.proposals import waiting
from yokemate.rules.frame import State
from yokemate.rules.rows import Build, LooseEnd, Task
from yokemate.rules.standing import gates_in_order
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.gates import GateView, gate_view
from yokemate.rules.views.saying import Saying, saying


class AnotherWay(ViewPart):
    """Somebody proposed to put it right another way; a second person is asked."""

    proposal: str
    by: str
    at_ms: int
    reason: str | None  # payload id


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
    ends = [_end(state, row) for row in rows]
    gates = gates_in_order(state)
    by_gate = [
        GateEnds(gate=gate_view(state, viewer, gate), ends=[e for e in ends if e.gate == gate.id])
        for gate in gates
    ]
    rest = [e for e in ends if e.gate not in {gate.id for gate in gates}]
    if rest:
        by_gate.append(GateEnds(gate=None, ends=rest))
    return LooseEndsView(
        as_of_ms=viewer.now_ms, open=len(ends), by_gate=by_gate, by_zone=_by_zone(state, ends)
    )


def _by_zone(state: State, ends: list[LooseEndView]) -> list[ZoneEnds]:
    build = state.find(Build, "build")
    zones = [(zone.id, zone.name) for zone in build.zones] if build is not None else []
    shown = [ZoneEnds(zone=id, name=name, ends=[e for e in ends if e.zone == id]) for id, name in zones]
    rest = [e for e in ends if e.zone not in {id for id, _ in zones}]
    return shown + ([ZoneEnds(zone=None, name="Somewhere on the car", ends=rest)] if rest else [])


def _end(state: State, end: LooseEnd) -> LooseEndView:
    why_not = not_made_good(state, end)
    task = state.find(Task, end.restores_task) if end.restores_task else None
    asked = waiting(state, "put_right", end.id)
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
        another_way=None
        if not asked
        else AnotherWay(
            proposal=asked[-1].id, by=asked[-1].by, at_ms=asked[-1].at_ms, reason=asked[-1].reason
        ),
    )
