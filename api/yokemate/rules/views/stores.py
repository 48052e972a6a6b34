"""The tool store: torque wrenches with their due dates, tools in and out, parts."""

from __future__ import annotations

from yokemate.calc.torque_wrench import CYCLES_LIMIT
from yokemate.planfile.model import TorqueWrenchPlan
from yokemate.rules.frame import State
from yokemate.rules.rows import Group, Part, Reading, Tool, TorqueWrench
from yokemate.rules.rows.stores import WrenchCheck
from yokemate.rules.tightening import shown, torque_pass
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.torque_parts import Reason, reasons
from yokemate.rules.wrenches import DAY_MS, claimed_from, last_check, unfit_at, uses_since_check


class WrenchOut(ViewPart):
    wrench: str
    name: str
    plan: TorqueWrenchPlan
    fit: bool
    why: list[Reason]
    check_kind: str | None
    until_ms: int | None
    days_left: int | None  # whole days; negative when past
    dropped_ms: int | None
    uses: int  # since its last good check
    uses_allowed: int
    claimed_from: str | None  # below this the 2003 edition of ISO 6789 claims no accuracy
    checks: list[WrenchCheck]  # newest first
    groups: list[str]  # groups whose last pass stands on it


class ToolOut(ViewPart):
    tool: str
    name: str
    count: int
    here: int
    out: dict[str, int]  # person -> count


class PartOut(ViewPart):
    part: str
    name: str
    in_stock: int
    single_use: bool


class StoresView(View):
    wrenches: list[WrenchOut]
    tools: list[ToolOut]
    parts: list[PartOut]


@view("stores", "/stores", NoParams, StoresView)
def stores(state: State, viewer: Viewer, params: NoParams) -> StoresView:
    """Torque wrenches with their checks and due dates, tools that are out and with whom, parts in stock."""
    wrenches = [
        _wrench(state, wrench, viewer.now_ms)
        for wrench in sorted(state.all(TorqueWrench), key=lambda w: w.id)
        if wrench.retired_ms is None
    ]
    return StoresView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=_next_change(wrenches, viewer.now_ms),
        wrenches=wrenches,
        tools=[
            ToolOut(
                tool=tool.id,
                name=tool.plan.name,
                count=tool.plan.count,
                here=max(0, tool.plan.count - sum(tool.out.values())),
                out=tool.out,
            )
            for tool in sorted(state.all(Tool), key=lambda t: t.id)
        ],
        parts=[
            PartOut(part=p.id, name=p.plan.name, in_stock=p.in_stock, single_use=p.plan.single_use)
            for p in sorted(state.all(Part), key=lambda p: p.id)
        ],
    )


def _next_change(wrenches: list[WrenchOut], now_ms: int) -> int | None:
    """When a line may read differently although nothing happened: the next time a day count changes."""
    left = [(w.until_ms - now_ms) % DAY_MS or DAY_MS for w in wrenches if w.until_ms is not None]
    return now_ms + min(left) if left else None


def _wrench(state: State, wrench: TorqueWrench, now_ms: int) -> WrenchOut:
    unfit = unfit_at(wrench, now_ms, state.all(Reading))
    check = last_check(wrench, now_ms)
    claimed = claimed_from(wrench.plan)
    stands = {
        group.id
        for group in state.all(Group)
        for bolt in group.bolts
        if (rid := bolt.passes.get(str(torque_pass(group)))) and state.get(Reading, rid).wrench == wrench.id
    }
    return WrenchOut(
        wrench=wrench.id,
        name=wrench.name,
        plan=wrench.plan,
        fit=not unfit,
        why=reasons(unfit),
        check_kind=check.kind if check else None,
        until_ms=check.until_ms if check else None,
        days_left=(check.until_ms - now_ms) // DAY_MS if check else None,
        dropped_ms=wrench.dropped_ms,
        uses=uses_since_check(wrench, state.all(Reading), now_ms),
        uses_allowed=CYCLES_LIMIT,
        claimed_from=shown(claimed) if claimed is not None else None,
        checks=sorted(wrench.checks, key=lambda c: c.at_ms, reverse=True),
        groups=sorted(stands),
    )
