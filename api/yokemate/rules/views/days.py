"""The plan of the build days as it was taken: strips per day and person, gates with their dates, what no longer holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import Any, Literal
from zoneinfo import ZoneInfo

from yokemate.rules.days_frame import SLIP_MS, SLOT_MS
from yokemate.rules.days_parts import lacking_parts, undated_parts
from yokemate.rules.days_pieces import piece_is_due
from yokemate.rules.days_seconds import at_it
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours, local_day, moment, spans, zone_of
from yokemate.rules.presence import is_gone
from yokemate.rules.rows import Build, DaysPlan, Gate, Lift, Member, Part, Task
from yokemate.rules.rows.days import FINISH, Block
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view


class PlannedBlock(ViewPart):
    """`from_min`, `to_min`: minutes after midnight by the garage's clock. `chain`: it carries the finish. `company`: this
    person is in the garage beside it, so that nobody is alone, and not at work (R28); `beside`: who is so beside the others.
    `hold`: what the hold step says up to which the work goes, or that is signed.
    """

    task: str
    title: str
    check: bool
    hold: str | None = None
    from_min: int
    to_min: int
    from_ms: int
    state: Literal["planned", "taken", "done"]
    chain: bool
    with_people: list[str]
    company: bool = False
    beside: list[str] = []


class PlannedPerson(ViewPart):
    person: str
    blocks: list[PlannedBlock]


class PlannedLift(ViewPart):
    lift: str
    task: str
    title: str
    from_min: int
    to_min: int
    people: list[str]


class PlannedDay(ViewPart):
    on: str
    day: str
    from_min: int
    to_min: int
    now_min: int | None
    persons: list[PlannedPerson]
    lifts: list[PlannedLift]


class DateWord(ViewPart):
    at_ms: int
    word: str  # "7 Dec"


class PlannedGate(ViewPart):
    gate: str
    name: str
    by_plan: DateWord
    wanted: DateWord | None
    late: bool
    sentence: str
    p50: DateWord | None = None
    p80: DateWord | None = None
    drivers: list[str] = []


class Trouble(ViewPart):
    """What no longer holds: `cannot_come` (person), `overdue`; `lift_over`: a lift was called for then and was not made;
    `lift_elsewhen`: it was called for `from_ms`, and the plan has it at `planned_ms`, or not at all; `part_late` (part): it
    is planned before the day its part is expected; `no_date` (part): nobody knows when that comes; `fresh_eyes` (person): who
    was to check it has worked on it since.
    """

    kind: Literal[
        "cannot_come", "overdue", "lift_over", "lift_elsewhen", "part_late", "no_date", "fresh_eyes"
    ]
    task: str
    title: str
    check: bool
    person: str | None
    from_ms: int
    planned_ms: int | None = None
    part: str | None = None


class DaysView(View):
    """`taken_ms` null: no plan was taken yet."""

    taken_ms: int | None
    taken_by: str | None
    today: DateWord
    finish: DateWord | None
    days: list[PlannedDay]
    gates: list[PlannedGate]
    all_work: PlannedGate | None = None
    trouble: list[Trouble]
    unplaced: list[str]


def date_word(ms: int, zone: ZoneInfo) -> DateWord:
    on = datetime.fromtimestamp(ms / 1000, zone)
    return DateWord(at_ms=ms, word=f"{on.day} {on:%b}")


def minute_of(ms: int, zone: ZoneInfo) -> int:
    at = datetime.fromtimestamp(ms / 1000, zone)
    return at.hour * 60 + at.minute


@view("days", "/days", NoParams, DaysView, wants_hours=True)
def days(state: State, viewer: Viewer, params: NoParams) -> DaysView:
    """Who does what when, today first; each gate's date; and, for a lead, what no longer holds."""
    now = viewer.now_ms
    zone = zone_of(state.get(Build, "build").time_zone)
    today = local_day(now, zone)
    plan = state.find(DaysPlan, "days")
    end_of_today = moment(today + timedelta(days=1), 0, zone)
    if plan is None:
        return DaysView(
            as_of_ms=now, valid_until_ms=end_of_today, taken_ms=None, taken_by=None, today=date_word(now, zone),
            finish=None, days=[], gates=[], trouble=[], unplaced=[],
        )  # fmt: skip
    ahead = [b for b in plan.blocks if local_day(b.to_ms - 1, zone) >= today]
    by_day: dict[date, list[Block]] = {}
    for block in ahead:
        by_day.setdefault(local_day(block.from_ms, zone), []).append(block)
    trouble = list(_trouble(state, plan, viewer.facts.hours, zone, now)) if viewer.role == "lead" else []
    called = [lift.when_ms for lift in state.all(Lift) if lift.when_ms is not None]
    moments = [end_of_today, *(b.from_ms for b in ahead)]
    moments += [ms + SLIP_MS for ms in (*(b.to_ms for b in ahead), *called)]
    return DaysView(
        as_of_ms=now,
        valid_until_ms=min(ms for ms in moments if ms > now),
        taken_ms=plan.taken.at_ms,
        taken_by=plan.taken.by,
        today=date_word(now, zone),
        finish=date_word(plan.finish_ms, zone),
        days=[_day(state, plan, on, blocks, zone, now) for on, blocks in sorted(by_day.items())],
        gates=[
            line
            for g in sorted(state.all(Gate), key=lambda g: g.order)
            if (line := _gate(plan, g, zone)) is not None and g.state != "open"
        ],
        all_work=_all_work(state, plan, zone),
        trouble=trouble,
        unplaced=[
            one for one in plan.unplaced if (t := state.find(Task, one)) and t.state in ("open", "taken")
        ],
    )


def _day(state: State, plan: DaysPlan, on: date, blocks: list[Block], zone: ZoneInfo, now: int) -> PlannedDay:
    chain = set(plan.chain)
    persons: dict[str, list[PlannedBlock]] = {}
    lifts = []
    for block in sorted(blocks, key=lambda b: (b.from_ms, b.task)):
        task = state.find(Task, block.task)
        if task is None:
            continue
        people = [*block.team, *block.joiners]
        begin, end = minute_of(block.from_ms, zone), minute_of(block.to_ms, zone)
        end = end if local_day(block.to_ms, zone) == on else 24 * 60
        lift = state.find(Lift, task.plan.lift) if task.plan.lift and not block.check else None
        if lift is not None:
            lifts.append(
                PlannedLift(
                    lift=lift.id,
                    task=task.id,
                    title=lift.plan.title,
                    from_min=begin,
                    to_min=end,
                    people=people,
                )
            )
        for person in (*people, *block.company):
            persons.setdefault(person, []).append(
                PlannedBlock(
                    task=task.id,
                    title=task.plan.title,
                    check=block.check,
                    hold=hold_words(task, block.step),
                    from_min=begin,
                    to_min=end,
                    from_ms=block.from_ms,
                    state=_state(state, task, block),
                    chain=task.id in chain and person in people,
                    with_people=[other for other in people if other != person],
                    company=person not in people,
                    beside=[other for other in block.company if other != person],
                )
            )
    every = [b for mine in persons.values() for b in mine]
    is_today = local_day(now, zone) == on
    return PlannedDay(
        on=on.isoformat(),
        day=f"{on:%A} {on.day} {on:%B}",
        from_min=min((b.from_min for b in every), default=0) // 60 * 60,
        to_min=-(-max((b.to_min for b in every), default=60) // 60) * 60,
        now_min=minute_of(now, zone) if is_today else None,
        persons=[PlannedPerson(person=person, blocks=mine) for person, mine in sorted(persons.items())],
        lifts=lifts,
    )


def hold_words(task: Task, step: str | None) -> str | None:
    """What a hold step says."""
    return next((one.say for one in task.plan.steps if one.id == step), None)


def _state(state: State, task: Task, block: Block) -> Literal["planned", "taken", "done"]:
    if task.state == "closed" or not piece_is_due(state, task, block.check, block.step):
        return "done"
    return "taken" if task.state == "taken" and not block.check else "planned"


def _gate(plan: DaysPlan, gate: Gate, zone: ZoneInfo) -> PlannedGate | None:
    reached = plan.gates.get(gate.id)
    if reached is None:
        return None
    wanted_ms = None
    if gate.wanted_on is not None:
        wanted_ms = moment(date.fromisoformat(gate.wanted_on), 12 * 60, zone)
    by_plan, wanted = date_word(reached, zone), date_word(wanted_ms, zone) if wanted_ms is not None else None
    odds = next((one for one in plan.odds if one.gate == gate.id), None)
    p50 = date_word(odds.p50_ms, zone) if odds and odds.p50_ms is not None else None
    p80 = date_word(odds.p80_ms, zone) if odds and odds.p80_ms is not None else None
    if p50 and p80:
        sentence = f"{gate.plan.name}: half a chance by {p50.word}, four in five by {p80.word}."
    elif p50:
        sentence = (
            f"{gate.plan.name}: half a chance by {p50.word}; the hours given are too few for four in five."
        )
    else:
        sentence = f"{gate.plan.name}: {by_plan.word} by this plan."
    if wanted is not None:
        sentence += f" Wanted: {wanted.word}."
    late = gate.wanted_on is not None and local_day(reached - 1, zone) > date.fromisoformat(gate.wanted_on)
    return PlannedGate(
        gate=gate.id, name=gate.plan.name, by_plan=by_plan, wanted=wanted, late=late, sentence=sentence, p50=p50,
        p80=p80, drivers=odds.drivers if odds else [],
    )  # fmt: skip


def _called(state: State, task: Task) -> Lift | None:
    lift = state.find(Lift, task.plan.lift) if task.plan.lift else None
    return lift if lift is not None and lift.state in ("called", "crewed", "in_place") else None


def _late_part(state: State, task: Task, block: Block, zone: ZoneInfo) -> str | None:
    """The name of a part that is lacking and expected only after the day on which the task is planned."""
    on = local_day(block.from_ms, zone)
    lacking = lacking_parts(state, task)
    late = [part for part in lacking if part.expected_on and date.fromisoformat(part.expected_on) > on]
    return late[0].plan.name if late else None


def _all_work(state: State, plan: DaysPlan, zone: ZoneInfo) -> PlannedGate | None:
    """The range of all work, and the tasks that drive it."""
    odds = next((one for one in plan.odds if one.gate == FINISH), None)
    if odds is None or odds.p50_ms is None or odds.p80_ms is None:
        return None
    p50, p80 = date_word(odds.p50_ms, zone), date_word(odds.p80_ms, zone)
    drivers = [f"{t.id} {t.plan.title}" for id in odds.drivers if (t := state.find(Task, id)) is not None]
    sentence = f"All work: half a chance by {p50.word}, four in five by {p80.word}."
    if drivers:
        sentence += f" It hangs most on {', '.join(drivers[:3])}."
    return PlannedGate(
        gate=FINISH, name="All work", by_plan=date_word(plan.finish_ms, zone), wanted=None, late=False,
        sentence=sentence, p50=p50, p80=p80, drivers=[f"It hangs on {one}." for one in drivers],
    )  # fmt: skip


def _of_lift(lift: Lift, task: Task, planned_ms: int | None, now: int) -> Trouble | None:
    """A called lift that was not made in time, or that the plan has at another hour than it was called for."""
    if lift.when_ms is None:
        return None
    common: dict[str, Any] = {
        "task": task.id,
        "title": task.plan.title,
        "check": False,
        "person": None,
        "from_ms": lift.when_ms,
    }
    if lift.when_ms + SLIP_MS <= now:
        return Trouble(kind="lift_over", **common)
    as_called = planned_ms is not None and 0 <= planned_ms - lift.when_ms < SLOT_MS
    if not as_called and lift.state != "in_place":
        return Trouble(kind="lift_elsewhen", planned_ms=planned_ms, **common)
    return None


def _trouble(
    state: State, plan: DaysPlan, hours: Mapping[str, Hours], zone: ZoneInfo, now: int
) -> Iterator[Trouble]:
    """Somebody can't come any more, a part comes later, or what should be over by now is not."""
    free: dict[tuple[str, date], list[tuple[int, int]]] = {}
    last = {(b.task, b.check, b.step): b.to_ms for b in sorted(plan.blocks, key=lambda b: b.to_ms)}
    for block in plan.blocks:
        task = state.find(Task, block.task)
        if task is None or not piece_is_due(state, task, block.check, block.step):
            continue
        if task.state == "taken" and block.to_ms <= now < last[block.task, block.check, block.step]:
            continue  # it was begun, and goes on another day
        common: dict[str, Any] = {
            "task": task.id,
            "title": task.plan.title,
            "check": block.check,
            "from_ms": block.from_ms,
        }
        called = None if block.check else _called(state, task)
        if called is not None:
            trouble = _of_lift(called, task, block.from_ms, now)
            if trouble is not None:
                yield trouble
                continue
        if block.to_ms + SLIP_MS <= now:
            yield Trouble(kind="overdue", person=None, **common)
            continue
        if block.from_ms < now or (task.state == "taken" and not block.check):
            continue
        on = local_day(block.from_ms, zone)
        late = None if block.check else _late_part(state, task, block, zone)
        if late is not None:
            yield Trouble(kind="part_late", person=None, part=late, **common)
        for part in () if block.check else undated_parts(state, task):
            yield Trouble(kind="no_date", person=None, part=state.get(Part, part).plan.name, **common)
        for person in sorted(at_it(state, task, block.step) & set(block.team)) if block.check else ():
            yield Trouble(kind="fresh_eyes", person=person, **common)
        for person in [*block.team, *block.company]:
            answer = called.answers.get(person) if called is not None else None
            if answer == "declined":
                yield Trouble(kind="cannot_come", person=person, **common)
            if answer is not None:
                continue  # said so of this very hour
            if is_gone(state.find(Member, person), block.from_ms):
                yield Trouble(kind="cannot_come", person=person, **common)
                continue
            key = (person, on)
            if key not in free:
                free[key] = spans(hours[person], zone, on, 1) if person in hours else []
            if not any(a <= block.from_ms and block.to_ms <= b for a, b in free[key]):
                yield Trouble(kind="cannot_come", person=person, **common)
    planned = {block.task for block in plan.blocks if not block.check}
    for task in state.all(Task):
        called = _called(state, task)
        if called is not None and task.id not in planned and task.state in ("open", "taken"):
            trouble = _of_lift(called, task, None, now)
            if trouble is not None:
                yield trouble
