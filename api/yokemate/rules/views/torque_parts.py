"""Pieces of the answers about bolt groups that more than one screen shows."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Any

from yokemate.calc.scale import scale_fit
from yokemate.calc.torque_wrench import CYCLES_LIMIT
from yokemate.planfile.model import TorqueUnit
from yokemate.rules.frame import State
from yokemate.rules.presence import is_in
from yokemate.rules.rows import Group, Member, Reading, TorqueWrench
from yokemate.rules.rows.torque import Window
from yokemate.rules.second_person import who_may_sign
from yokemate.rules.tightening import Setup, pass_window, shown, torque_pass, trim
from yokemate.rules.views.frame import ViewPart
from yokemate.rules.views.slips import Slips, slips_of
from yokemate.rules.why_not import WHY_NOT
from yokemate.rules.wrenches import Unfit, claimed_from, last_check, out_of_range, unfit_at, uses_since_check
from yokemate.units import round_inward


class Reason(ViewPart):
    """Why something does not count. `{..._person}` and `{..._ms}` in the words are filled in by who shows
    them.
    """

    code: str
    rule: str
    says: str
    way_on: str
    params: dict[str, Any] = {}


class Rounded(ViewPart):
    """A window to hundredths, for reading; both ends inward. What is typed is compared with the exact one."""

    target: str
    low: str
    high: str


class WrenchPass(ViewPart):
    """One pass on one torque wrench: figures on its own scale, as decimal strings, ends included."""

    pass_no: int
    target: str
    low: str
    high: str
    rounded: Rounded
    slips: Slips
    # The nearest inside the limits; where there is none, the nearest. None: the target is off the scale
    nearest_mark: str | None = None
    mark_error: str | None = None  # mark minus target
    mark_error_percent: str | None = None  # that, as part of the target, to one decimal
    mark_inside: bool = False
    claimed_from: str | None = None  # the target is below this: the 2003 edition claims no accuracy there
    fit: bool
    why: list[Reason] = []


class WrenchFor(ViewPart):
    """A torque wrench of the tool store, seen for one group. `fit`: its word counts for the whole torque.

    `passes`: those that bring torque; none measures a turn.
    """

    wrench: str
    name: str
    unit: TorqueUnit
    shows: str
    lowest: str
    highest: str
    step: str
    fit: bool
    counts_as_deviation: bool  # unfit, but the group is not critical
    why: list[Reason] = []
    check_kind: str | None = None
    until_ms: int | None = None
    uses: int  # since its last good check
    uses_allowed: int
    passes: list[WrenchPass] = []


class MayCheck(ViewPart):
    person: str
    here: bool


class _Left(dict[str, Any]):
    """Leaves a name in braces where nothing is known for it."""

    def __missing__(self, key: str) -> str:
        return "{" + key + "}"


def reason(code: str, params: Mapping[str, Any], *, never_again: bool = False) -> Reason:
    """`never_again`: the fastener it is about may never be turned again (R15)."""
    why = WHY_NOT[code]
    plain = _Left({k: v for k, v in params.items() if not k.endswith(("person", "people", "_ms"))})
    return Reason(
        code=code,
        rule=why.rule,
        says=why.says.format_map(plain),
        way_on=((why.never_again if never_again else None) or why.way_on).format_map(plain),
        params=dict(params),
    )


def reasons(unfit: list[Unfit]) -> list[Reason]:
    return [reason(u.code, u.params) for u in unfit]


def wrench_for(
    state: State, wrench: TorqueWrench, group: Group, setup: Setup | None, now_ms: int
) -> WrenchFor:
    """Everything the setting card needs. Without a setup (its arm is not known) no figures are shown."""
    itself = unfit_at(wrench, now_ms, state.all(Reading))
    passes = (
        [_pass(wrench, group, setup, n, itself) for n in range(1, torque_pass(group) + 1)] if setup else []
    )
    why = reasons(itself) if setup else [*reasons(itself), reason("arm_unknown", {})]
    final_why = passes[-1].why if passes else why
    check = last_check(wrench, now_ms)
    return WrenchFor(
        wrench=wrench.id,
        name=wrench.name,
        unit=wrench.plan.unit,
        shows=wrench.plan.shows,
        lowest=wrench.plan.lowest,
        highest=wrench.plan.highest,
        step=wrench.plan.step,
        fit=not final_why,
        counts_as_deviation=bool(final_why) and setup is not None and not group.plan.critical,
        why=final_why,
        check_kind=check.kind if check else None,
        until_ms=check.until_ms if check else None,
        uses=uses_since_check(wrench, state.all(Reading), now_ms),
        uses_allowed=CYCLES_LIMIT,
        passes=passes,
    )


def _pass(wrench: TorqueWrench, group: Group, setup: Setup, pass_no: int, itself: list[Unfit]) -> WrenchPass:
    """An earlier pass may be made with any torque wrench: only that of the whole torque decides (R11)."""
    window = setup.window(group, pass_no, wrench.plan.unit)
    accepts = pass_window(group, pass_no)
    target = setup.on_scale(group, accepts.target, wrench.plan.unit)
    why = [*itself, *out_of_range(wrench, target, wrench.plan.unit)] if pass_no == torque_pass(group) else []
    low, high = Fraction(wrench.plan.lowest), Fraction(wrench.plan.highest)
    claimed = claimed_from(wrench.plan)
    scale = (
        scale_fit(
            target,
            target - setup.on_scale(group, accepts.low, wrench.plan.unit),
            setup.on_scale(group, accepts.high, wrench.plan.unit) - target,
            Fraction(wrench.plan.step),
            low,
            high,
        )
        if low <= target <= high
        else None
    )
    off = scale.mark - target if scale else None
    return WrenchPass(
        pass_no=pass_no,
        target=window.target,
        low=window.low,
        high=window.high,
        rounded=_rounded(window),
        slips=slips_of(target, wrench.plan.unit),
        nearest_mark=shown(scale.mark) if scale else None,
        mark_error=shown(off) if off is not None else None,
        mark_error_percent=shown(off / target * 100, 1) if off is not None else None,
        mark_inside=scale is not None and scale.fits,
        claimed_from=shown(claimed) if claimed is not None and low <= target < claimed else None,
        fit=not why,
        why=reasons(why),
    )


def _rounded(window: Window) -> Rounded:
    """A window too narrow for hundredths stays as it is."""
    low, high = round_inward(Fraction(window.low), Fraction(window.high), 2)
    if Fraction(low) > Fraction(high):
        return Rounded(target=window.target, low=window.low, high=window.high)
    return Rounded(target=shown(Fraction(window.target), 2), low=trim(low), high=trim(high))


def may_check(state: State, touched: Collection[str], now_ms: int) -> list[MayCheck]:
    """Who may look at work that `touched` did, and sign; those who are here first."""
    people = [
        MayCheck(person=id, here=is_in(state.find(Member, id), now_ms))
        for id in who_may_sign(state, touched, now_ms)
    ]
    return sorted(people, key=lambda p: not p.here)
