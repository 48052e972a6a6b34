"""From the rows and the hours people gave to a problem of planning. Pure.

What is done is left out; what is taken stays with its people; a called lift stays where it was called (7: frozen work
is a constant). A countersign is a small task of its own for somebody independent. Private limits never enter (R21):
they act when places are offered, after a lift was called.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta

from yokemate.planning import problem as p
from yokemate.rules.availability import lag_ms, touches
from yokemate.rules.days_blocks import last_schedule
from yokemate.rules.days_frame import SLOT_MIN, SLOT_MS, Frame, frame_at, slots
from yokemate.rules.days_parts import expected_parts, given_by, undated_parts
from yokemate.rules.days_pieces import (
    CHECK,
    Piece,
    Signature,
    holds_left,
    is_check,
    pauses,
    piece_id,
    piece_of,
    pieces,
    task_of,
)
from yokemate.rules.days_seconds import (
    COUNTERSIGN,
    check,
    check_wanted,
    critical_groups,
    signature,
    unsigned_groups,
)
from yokemate.rules.days_settled import LIFT_MIN, called, crew, holders, in_hand, kept_free, lift_people
from yokemate.rules.days_wrenches import Counted, Wrenches, pool, united, uses
from yokemate.rules.frame import State
from yokemate.rules.hazard_pairs import LOAD_UP, NEVER_ALONE, PAIRS
from yokemate.rules.hours import Hours, local_day, moment, spans, zone_of
from yokemate.rules.lift_crew import may_call
from yokemate.rules.rows import Build, Gate, Lift, Task, Tool, TorqueWrench

AHEAD_DAYS = 70  # ten weeks
HOLD_SOON_MIN = 30  # sooner still at a hold step: the work stands meanwhile; common practice
CALLS = "may_call_a_lift"


def problem(state: State, hours: Mapping[str, Hours], now_ms: int) -> p.Problem:
    """Everything that is left to do, with everybody's hours of the next ten weeks."""
    at = frame_at(state, now_ms)
    now = max(0, at.slot(now_ms))
    people = _people(state, hours, at, now)
    counted = Counted(state, now_ms)
    tasks = tuple(_tasks(state, at, now, now_ms))
    pools, tasks = _with_wrenches(state, tasks, counted)
    known = {task.id for task in tasks}
    build = state.get(Build, "build")
    tools = {tool.id: tool.plan.count for tool in state.all(Tool) if not counted.is_one(tool.id)} | pools
    return p.Problem(
        tasks=tasks,
        people=people,
        days=_days(people, state, at),
        gates=tuple(_gates(state, known, at)),
        tools=tools,
        zones={zone.id: zone.people_at_most for zone in build.zones if zone.people_at_most is not None},
        never_beside=PAIRS | {LOAD_UP},
        now=now,
        slot_min=SLOT_MIN,
        last=last_schedule(state, known, at),
    )


def _people(state: State, hours: Mapping[str, Hours], at: Frame, now: int) -> tuple[p.Person, ...]:
    zone = zone_of(state.get(Build, "build").time_zone)
    today = local_day(at.origin_ms, zone)
    found, elsewhere = [], kept_free(state, at, now)
    for member in crew(state):
        said = hours.get(member.id)
        stretches = []
        for begin_ms, end_ms in spans(said, zone, today, AHEAD_DAYS) if said else []:
            if member.guest_until_ms is not None:
                end_ms = min(end_ms, member.guest_until_ms)
            begin, end = max(now, at.slot(begin_ms)), at.floor(end_ms)
            if begin < end:
                stretches.append(p.Span(begin, end))
        for lift in elsewhere:
            if member.id in (*lift.team, *lift.asked):
                stretches = list(_without(stretches, lift.start, lift.start + LIFT_MIN // SLOT_MIN))
        skills = set(member.skills)
        skills |= {COUNTERSIGN} if member.may_countersign and member.minor is None else set()
        skills |= {CALLS} if may_call(member) else set()
        found.append(
            p.Person(
                member.id,
                tuple(stretches),
                frozenset(skills),
                minor=member.minor is not None,
                comes_percent=state.get(Build, "build").comes_percent,
            )
        )
    return tuple(found)


def _without(stretches: list[p.Span], start: int, end: int) -> Iterator[p.Span]:
    """What is left of them beside one stretch."""
    for one in stretches:
        for part in ((one.start, min(one.end, start)), (max(one.start, end), one.end)):
            if part[0] < part[1]:
                yield p.Span(*part)


def _days(people: tuple[p.Person, ...], state: State, at: Frame) -> tuple[p.Span, ...]:
    """One build day per date on which somebody comes, from the first in to the last out."""
    zone = zone_of(state.get(Build, "build").time_zone)
    by_date: dict[date, tuple[int, int]] = {}
    for person in people:
        for span in person.hours:
            on = local_day(at.ms(span.start), zone)
            begin, end = by_date.get(on, (span.start, span.end))
            by_date[on] = (min(begin, span.start), max(end, span.end))
    return tuple(p.Span(*span) for _, span in sorted(by_date.items()))


def _tasks(state: State, at: Frame, now: int, now_ms: int) -> Iterator[p.Task]:
    due = {t.id: t for t in state.all(Task) if t.state in ("open", "taken")}
    checks = {
        t.id: n
        for t in state.all(Task)
        if t.state in ("open", "taken", "done") and (n := check_wanted(state, t))
    }
    for task in sorted(state.all(Task), key=lambda t: t.order):
        if task.id in due:
            yield from _in_pieces(state, task, due, checks, at, now, now_ms)
        if task.id in checks:
            yield check(state, task, checks[task.id], due)


def _in_pieces(
    state: State, task: Task, due: dict[str, Task], checks: dict[str, int], at: Frame, now: int, now_ms: int
) -> Iterator[p.Task]:
    """Its work and the signatures at its hold steps, each behind the one before; what the task waits for comes before the first."""
    before: str | None = None
    worked: str | None = None
    for piece in pieces(state, task):
        if isinstance(piece, Signature):
            one = signature(state, task, piece.step)
        else:
            one = _work(state, task, piece, at, now_ms)
            one = replace(one, goes_on=worked)
        if before is None:
            release, part = _release(state, task, at, now, now_ms)
            first = tuple(_after(state, task, due, checks))
            lacks = undated_parts(state, task)
            one = replace(one, after=first, release=release, waits_for=part, undated=lacks)
            if isinstance(piece, Piece):
                one = _standing(state, task, one, piece, at, now, now_ms)
        else:
            soon = HOLD_SOON_MIN // SLOT_MIN if before == worked else None
            one = replace(one, after=(p.After(before, soon=soon),), release=now)
        before = one.id
        worked = one.id if isinstance(piece, Piece) else worked
        yield one


def _work(state: State, task: Task, piece: Piece, at: Frame, now_ms: int) -> p.Task:
    plan = task.plan
    quick, likely, slow = (slots(piece.share * m) for m in plan.minutes)
    lift = state.find(Lift, plan.lift) if plan.lift else None
    people = max(plan.must_people, 2 if plan.buddy else 1)
    needs = [p.Need(plan.lead_skill, plan.skilled_people)] if plan.lead_skill else []
    if lift is not None:
        people = max(people, lift_people(lift))
        needs = [*needs, p.Need(CALLS)]  # somebody else than who leads it: the caller carries nothing
    people = max(people, sum(need.count for need in needs))
    hazards = frozenset[str](plan.hazards) | ({"load_up"} if lift is not None else frozenset())
    team = holders(state, task)
    critical = {group.id for group in critical_groups(state, task)}
    return p.Task(
        id=piece_id(task.id, False, piece.hold),
        duration=likely,
        quick=min(quick, likely),
        slow=max(slow, likely),
        with_learner=_with_learner(state, likely) if needs else None,
        people=people,
        needs=tuple(needs),
        eligible=team if team and len(team) >= people else None,
        holders=team if len(team) < people else frozenset(),
        joiners=_minors(state, task),
        tools=tuple(
            p.Use(id)
            for id in dict.fromkeys(plan.tools)
            if state.find(Tool, id) and not state.find(TorqueWrench, id)
        ),
        zone=plan.zone,
        hazards=hazards,
        present=max(people, 2 if hazards & NEVER_ALONE or lift is not None else 1),
        lift=lift is not None,
        not_last=any(step.group in critical for step in piece.steps if step.kind == "tighten"),
        part=min(likely, slots(plan.stretch_minutes)) if plan.stretch_minutes else None,
    )


def _standing(
    state: State, task: Task, work: p.Task, piece: Piece, at: Frame, now: int, now_ms: int
) -> p.Task:
    """Settled where its lift was called, or where it goes on now."""
    lift = state.find(Lift, task.plan.lift) if task.plan.lift else None
    fixed, slots = called(state, lift, at, now, work.people), work.duration
    if fixed is None and (going := in_hand(state, task, piece.hold, work.people, slots, at, now_ms)):
        fixed, slots = going
    if fixed is None:
        return work
    return replace(
        work,
        fixed=fixed,
        duration=slots,
        quick=min(work.quick or slots, slots),
        slow=max(work.slow or slots, slots),
        with_learner=None,
        part=None,
    )


def _with_learner(state: State, slots: int) -> int | None:
    percent = state.get(Build, "build").learner_percent
    return -(-slots * percent // 100) if percent > 100 else None


def _minors(state: State, task: Task) -> frozenset[str]:
    if task.plan.minors != "with_adult":
        return frozenset()
    return frozenset(m.id for m in crew(state) if m.minor == "with_adult")


def _after(state: State, task: Task, due: dict[str, Task], checks: dict[str, int]) -> Iterator[p.After]:
    if task.released is not None:
        return
    for after in task.plan.after:
        before = state.find(Task, after.task)
        if before is None:
            continue
        lags = [lag for lag in (before.plan.lag_after, after.lag) if lag is not None]
        lag = max((-(-lag_ms(one) // SLOT_MS) for one in lags), default=0)
        if before.id in due:
            yield p.After(before.id, lag=lag)
        if before.id in checks and (touches(state, before, after) or holds_left(before) != pauses(before)):
            yield p.After(before.id + CHECK)
    yield from (p.After(giver) for giver in given_by(state, task, due))
    for gate in state.all(Gate):
        if gate.state != "open" and task.id in gate.plan.guards:
            for one in gate.plan.standing:
                if one.task_closed is None or one.task_closed == task.id:
                    continue
                if one.task_closed in checks:
                    yield p.After(one.task_closed + CHECK)
                if one.task_closed in due:
                    yield p.After(one.task_closed)


def _release(state: State, task: Task, at: Frame, now: int, now_ms: int) -> tuple[int, str | None]:
    """Not before what is left of a lag, and not before a part it lacks should be there."""
    release, part = now, None
    for after in task.plan.after if task.released is None else []:
        before = state.find(Task, after.task)
        for lag in (before.plan.lag_after, after.lag) if before is not None else ():
            if (
                before is not None
                and lag is not None
                and before.done_at_ms is not None
                and before.state in ("done", "closed")
            ):
                release = max(release, at.slot(before.done_at_ms + lag_ms(lag)))
    for there, expected in expected_parts(state, task, at):
        if there > release:
            release, part = there, expected
    return release, part


def _with_wrenches(
    state: State, tasks: tuple[p.Task, ...], counted: Counted
) -> tuple[dict[str, int], tuple[p.Task, ...]]:
    """The same tasks with the torque wrenches that they hold, and how many there are of what they hold."""
    wanted: dict[str, set[Wrenches]] = {}
    for task in tasks:
        row = state.get(Task, task_of(task.id))
        check = is_check(task.id)
        wanted[task.id] = _held_wrenches(state, task.id, row, counted)
        named = [] if check or wanted[task.id] else [id for id in row.plan.tools if counted.is_one(id)]
        wanted[task.id] |= {frozenset((id,)) for id in named}
    pools = united(one for sets in wanted.values() for one in sets)
    return {pool(one): len(one) for one in pools}, tuple(
        replace(task, tools=(*task.tools, *uses(wanted[task.id], pools))) for task in tasks
    )


def _held_wrenches(state: State, id: str, row: Task, counted: Counted) -> set[Wrenches]:
    """Of each piece of work what it tightens itself; of the signature at a hold step none."""
    _, check, step = piece_of(id)
    if check:
        return counted.for_check(row, unsigned_groups(state, row)) if step is None else set()
    mine = next(one for one in pieces(state, row) if isinstance(one, Piece) and one.hold == step)
    return counted.for_work(row, mine.steps)


def _gates(state: State, known: set[str], at: Frame) -> Iterator[p.Gate]:
    zone = zone_of(state.get(Build, "build").time_zone)
    for gate in sorted(state.all(Gate), key=lambda g: g.order):
        named = {one.task_closed for one in gate.plan.standing if one.task_closed is not None}
        tasks = frozenset(id for name in named for id in (name, name + CHECK) if id in known)
        if gate.state == "open" or not tasks:
            continue
        wanted = None
        if gate.wanted_on is not None:
            wanted = max(0, at.slot(moment(date.fromisoformat(gate.wanted_on) + timedelta(days=1), 0, zone)))
        yield p.Gate(gate.id, tasks, wanted)
