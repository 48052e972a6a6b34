"""The torque screen: which bolt, how tight, with this torque wrench?"""

from __future__ import annotations

from fractions import Fraction

from yokemate.planfile.model import BoltGroupPlan, Decimal, TorqueSpec, TorqueUnit
from yokemate.rules.as_found import as_found_wanted
from yokemate.rules.frame import State
from yokemate.rules.presence import crew_changes_ms
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Countersign, Group, LooseEnd, Member, Reading, TorqueWrench
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.second_person import touchers, why_not_second
from yokemate.rules.tightening import (
    Setup,
    asked,
    beside,
    needs_countersign,
    open_bolts,
    open_pass,
    pass_window,
    setup_of,
    shown,
    starts_again,
    steps_of,
    taken_ms,
)
from yokemate.rules.torque_advice import FOUND, highest, judged, same_preload
from yokemate.rules.views.frame import View, Viewer, ViewPart, view
from yokemate.rules.views.lapses import LapsedCheck, LastLapse, lapsed_checks, last_lapse
from yokemate.rules.views.slips import Slips, slips_of
from yokemate.rules.views.torque_parts import (
    MayCheck,
    Reason,
    WrenchFor,
    may_check,
    reason,
    reasons,
    wrench_for,
)
from yokemate.rules.why_not import WHY_NOT
from yokemate.rules.wrenches import last_check, unfit_at
from yokemate.units import QuantityError, unit


class TorqueParams(ViewPart):
    """The group; and, where one is used, the extension, and the drag that was measured, in `drag_unit` or the spec's
    own unit.
    """

    group: str
    extension_mm: Decimal | None = None
    extension_angle_deg: Decimal | None = None
    drag: Decimal | None = None
    drag_unit: TorqueUnit | None = None


class TorqueOut(ViewPart):
    """What a pass brings each fastener to, in the spec's unit."""

    percent: int
    target: str
    low: str
    high: str


class TurnOut(ViewPart):
    """By how much a pass turns each fastener on, in degrees; `turned_deg`: all turns so far together."""

    angle_deg: str
    low: str
    high: str
    turned_deg: str
    slips: Slips


class PassOut(ViewPart):
    """A pass: a torque or a turn; both only in a build from before turns had passes of their own."""

    pass_no: int
    torque: TorqueOut | None
    turn: TurnOut | None
    open_bolts: list[int]


class Turned(ViewPart):
    by: str
    at_ms: int


class BoltOut(ViewPart):
    """`state` is what the drawing shows: to_do, run_in, snug, passed (an earlier pass), done, outside."""

    n: int
    where: str | None
    x: str
    y: str
    differs: str | None
    state: str
    last_pass: int
    value: str | None = (
        None  # what stands for its last pass: the reading, the value it clicked at, or the turn
    )
    unit: str | None = None  # of torque, or deg
    clicked: bool = False
    needs_new: bool
    fitted_new: int
    already_turned: Turned | None = None  # never turn it again (R15)


class ReadingOut(ViewPart):
    """A reading, oldest first. Crossed-out ones stay readable.

    `check_until_ms` and `wrench_unfit`: its torque wrench as it was when the reading was taken, by all that is known
    now; a drop that was found out later is among it (R11).
    """

    reading: Reading
    taken_ms: int
    counts_now: bool
    why: Reason | None = None
    check_until_ms: int | None = None
    wrench_unfit: list[Reason] = []


class Advice(ViewPart):
    """One sentence of advice. `threads`: only when the threads were found so; None: always."""

    threads: str | None
    level: str  # ok, warn, strong_warn, block
    says: str


class TorqueView(View):
    group: str
    name: str
    plan: BoltGroupPlan
    spec: TorqueSpec
    critical: bool
    tolerance_is_default: bool
    state: str
    order: list[int]
    passes: list[PassOut]
    open_pass: int | None
    next_bolt: int | None
    then_bolts: list[int]
    one_by_one: bool  # the open pass is a critical final one: one press per bolt
    as_found_wanted: bool  # first pass of a critical group: faces and threads as found
    starts_again: bool  # a final pass was interrupted (R10)
    round: int  # with `final_pass_from`: what a phone set up for the group before no longer holds when they change
    final_pass_from: int
    new_wanted: list[int]
    bolts: list[BoltOut]
    wrenches: list[WrenchFor]
    advice: list[Advice]
    readings: list[ReadingOut]
    loose_end: str | None
    made_good_by: str | None
    tasks: list[str]
    needs_countersign: bool
    readings_digest: str
    countersign: Countersign | None
    lapsed: list[Countersign]
    last_lapse: LastLapse | None = None
    lapsed_checks: list[LapsedCheck] = []
    check_asked_ms: int | None
    touched: list[str]
    who_may_check: list[MayCheck]
    why_i_may_not_check: str | None  # refusal code; None: you may


@view("torque", "/groups/{group}/torque", TorqueParams, TorqueView)
def torque(state: State, viewer: Viewer, params: TorqueParams) -> TorqueView:
    """One bolt group: pattern, passes, torque wrenches with accepted windows, readings, who may check."""
    group = state.get(Group, params.group)
    now = viewer.now_ms
    readings = sorted(
        (r for r in state.all(Reading) if r.group == group.id), key=lambda r: (taken_ms(r), r.at_ms, r.id)
    )
    wrenches = [
        wrench_for(state, w, group, _setup(params, w, group), now)
        for w in sorted(state.all(TorqueWrench), key=lambda w: w.id)
        if w.retired_ms is None
    ]
    lacking = open_pass(group)
    queue = open_bolts(group, lacking) if lacking is not None else []
    loose = [e for e in state.all(LooseEnd) if e.group == group.id and e.closed is None]
    lapsed = sorted(
        (c for c in state.all(Countersign) if c.group == group.id and c.lapsed_ms is not None),
        key=lambda c: c.at_ms,
    )
    touched = touchers(state, group)
    ends = [crew_changes_ms(state, now), *(w.until_ms for w in wrenches)]
    return TorqueView(
        as_of_ms=now,
        valid_until_ms=min((ms for ms in ends if ms is not None and ms > now), default=None),
        group=group.id,
        name=group.plan.name,
        plan=group.plan,
        spec=group.spec,
        critical=group.plan.critical,
        tolerance_is_default=group.tolerance_is_default,
        state=group.state,
        order=group.order,
        passes=[_pass(state, group, n) for n in range(1, group.passes + 1)],
        open_pass=lacking,
        next_bolt=queue[0] if queue else None,
        then_bolts=queue[1:],
        one_by_one=group.plan.critical and lacking == group.passes,
        as_found_wanted=lacking == 1 and as_found_wanted(state, group),
        starts_again=starts_again(state, group),
        round=group.round,
        final_pass_from=group.final_pass_from,
        new_wanted=[b.n for b in group.bolts if b.needs_new],
        bolts=[_bolt(state, group, bolt) for bolt in group.bolts],
        wrenches=wrenches,
        advice=_advice(group.spec),
        readings=[_reading(state, group, r) for r in readings],
        loose_end=loose[0].id if loose else None,
        made_good_by=next((e.restores_task for e in loose if e.restores_task), None),
        tasks=list(dict.fromkeys(t.id for t, _ in steps_of(state, group.id, "run_in", "snug", "tighten"))),
        needs_countersign=needs_countersign(group),
        readings_digest=group.readings_digest,
        countersign=state.find(Countersign, group.countersign) if group.countersign else None,
        lapsed=lapsed,
        last_lapse=last_lapse(group, lapsed),
        lapsed_checks=lapsed_checks(state, group),
        check_asked_ms=group.check_asked_ms,
        touched=sorted(touched),
        who_may_check=may_check(state, touched, now),
        why_i_may_not_check=why_not_second(state.find(Member, viewer.person), touched),
    )


def _advice(spec: TorqueSpec) -> list[Advice]:
    said = []
    found = judged(spec)
    if found is not None:
        low, usual, high = (
            f"{share:.0f}" for share in (found.percent_low, found.percent, found.percent_high)
        )
        at = (
            f"Turned on to {highest(spec)} {unit(spec.target.unit).label}: about"
            if spec.target.torque_max
            else "About"
        )
        says = f"{at} {usual} % of the proof load, {low} to {high} % over the range of friction. {found.sentence}"
        said.append(Advice(threads=None, level=found.level, says=says))
    for threads in FOUND:
        other = same_preload(spec, threads)
        if other is None:
            continue
        torque, times = other
        says = (
            f"The figure was given for {spec.lubrication}. As found, the same torque makes about {times} times the preload; "
            f"the same preload would take about {torque} {unit(spec.target.unit).label}. Nothing is converted by itself: ask "
            "the lead, or the kit's maker, before you go on."
        )
        said.append(Advice(threads=threads, level="strong_warn", says=says))
    return said


def _setup(params: TorqueParams, wrench: TorqueWrench, group: Group) -> Setup | None:
    drag_unit = params.drag_unit or group.spec.target.unit
    try:
        return setup_of(
            group,
            drag_unit,
            wrench.plan.arm_mm,
            params.extension_mm,
            params.extension_angle_deg,
            params.drag,
        )
    except QuantityError as wrong:
        raise Refused("bad_input", field=wrong.field, problem=wrong.message, remedy=wrong.remedy) from wrong


def _pass(state: State, group: Group, pass_no: int) -> PassOut:
    asks = asked(group, pass_no)
    torque = turn = None
    if asks.percent is not None:
        accepts = pass_window(group, pass_no)
        torque = TorqueOut(
            percent=asks.percent,
            target=shown(accepts.target),
            low=shown(accepts.low),
            high=shown(accepts.high),
        )
    if asks.angle_deg is not None:
        low, high = beside(state, asks.angle_deg)
        so_far = [asked(group, n).angle_deg for n in range(1, pass_no + 1)]
        turned = sum((Fraction(angle) for angle in so_far if angle is not None), Fraction(0))
        turn = TurnOut(
            angle_deg=asks.angle_deg,
            low=shown(low),
            high=shown(high),
            turned_deg=shown(turned),
            slips=slips_of(Fraction(asks.angle_deg), None),
        )
    return PassOut(pass_no=pass_no, torque=torque, turn=turn, open_bolts=open_bolts(group, pass_no))


def _bolt(state: State, group: Group, bolt: Bolt) -> BoltOut:
    plan = next(f for f in group.plan.fasteners if f.n == bolt.n)
    last = max((int(n) for n in bolt.passes), default=0)
    standing = state.find(Reading, bolt.passes[str(last)]) if last else None
    turned = standing if bolt.final and not group.plan.retighten else None
    only_turned = standing is not None and standing.wrench is None
    return BoltOut(
        n=bolt.n,
        where=plan.where,
        x=plan.x,
        y=plan.y,
        differs=plan.differs,
        state=_drawn(bolt),
        last_pass=last,
        value=(standing.angle_deg if only_turned else standing.value or standing.set_value)
        if standing
        else None,
        unit=("deg" if only_turned else standing.unit) if standing else None,
        clicked=standing is not None and not only_turned and standing.value is None,
        needs_new=bolt.needs_new,
        fitted_new=bolt.fitted_new,
        already_turned=Turned(by=turned.by, at_ms=taken_ms(turned)) if turned else None,
    )


def _drawn(bolt: Bolt) -> str:
    if bolt.outside:
        return "outside"
    if bolt.final:
        return "done"
    if bolt.passes:
        return "passed"
    return "snug" if bolt.snug else ("run_in" if bolt.run_in else "to_do")


def _reading(state: State, group: Group, reading: Reading) -> ReadingOut:
    standing = {id for bolt in group.bolts for id in bolt.passes.values()}
    code, taken = reading.why_not, taken_ms(reading)
    wrench = state.find(TorqueWrench, reading.wrench) if reading.wrench else None
    check = last_check(wrench, taken) if wrench else None
    others = [r for r in state.all(Reading) if r.id not in (reading.id, reading.replaces)]
    return ReadingOut(
        reading=reading,
        taken_ms=taken,
        counts_now=reading.id in standing,
        check_until_ms=check.until_ms if check else None,
        wrench_unfit=reasons(unfit_at(wrench, taken, others)) if wrench else [],
        why=reason(code, reading.why_params, never_again=not group.plan.retighten)
        if code is not None and code in WHY_NOT
        else None,
    )
