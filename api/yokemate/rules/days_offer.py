"""What a schedule comes to in the rows' terms: a plan that may be taken, times for a lift, why work has no place. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from yokemate.planning import problem as p
from yokemate.planning.chain import chain_of
from yokemate.planning.check import check
from yokemate.planning.difference import difference
from yokemate.planning.faults import faults
from yokemate.planning.figures import figures
from yokemate.planning.find_out import UNPROVEN
from yokemate.planning.late import late_gates
from yokemate.planning.listing import list_schedule
from yokemate.planning.odds import odds
from yokemate.planning.reasons import FoundOut, Reason
from yokemate.planning.why_not import why_not
from yokemate.rules.days_blocks import blocks_of, last_schedule
from yokemate.rules.days_causes import cause_words, held_words, least_words
from yokemate.rules.days_frame import SLIP_MS, Frame, frame_at
from yokemate.rules.days_pieces import is_check, piece_of, task_of
from yokemate.rules.days_problem import problem
from yokemate.rules.days_words import Words, fault_words, reason_words, remedy_words
from yokemate.rules.frame import State
from yokemate.rules.hours import Hours, zone_of
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Lift
from yokemate.rules.rows.days import FINISH

BY_LISTING, BY_SOLVER = "list/1", "cp-sat/1"  # what worked a plan out, and its version
REASONS_SHOWN = 6
SAMPLES = 2000  # of the odds: P50 and P80 stand to about a slot, in a fraction of a second


@dataclass(frozen=True)
class Difference:
    """One piece's place in the plan taken and in the one offered. Times in ms. `step`: see `Block`."""

    kind: str
    task: str
    check: bool
    step: str | None
    was_ms: int | None
    now_ms: int | None
    was_people: list[str]
    now_people: list[str]


@dataclass(frozen=True)
class WhyNot:
    """Why one piece of work has no place or a gate is late, and small changes that would do; all in words.

    task: of a gate the last one to it. causes: what is in the way only together; `note` says what was shown of that.
    open: this is what one plan shows, and no proof that it must be so. looking: it may still be found out.
    """

    task: str
    says: str
    remedies: list[str]
    causes: list[str]
    note: str
    open: bool
    looking: bool
    params: dict[str, str]  # people, by what stands for their names in the words


@dataclass(frozen=True)
class Time:
    """A time at which a lift could be. `cost_min`: how much later all is finished than by the plan that stands."""

    from_ms: int
    to_ms: int
    people: list[str]
    cost_min: int
    before: list[str]
    gates_late: list[str]


@dataclass(frozen=True)
class Times:
    """`all_days`: each day was tried at least once in the time there was."""

    offers: list[Time]
    reasons: list[WhyNot]
    all_days: bool


@dataclass(frozen=True)
class Offer:
    """A plan that may be taken. `data`: what the entry will hold."""

    data: dict[str, Any]
    differences: list[Difference]  # what is news: `shifted` counts what only slips, with the same people
    stays: int
    shifted: int
    reasons: list[WhyNot]


def at_once(state: State, hours: Mapping[str, Hours], now_ms: int) -> tuple[p.Problem, p.Schedule, Offer]:
    """A plan by the simple method, proven by the checker. Refused where there is nothing to plan with."""
    asked = asked_for(state, hours, now_ms)
    schedule = list_schedule(asked)
    if findings := check(asked, schedule):
        raise RuntimeError(f"a plan that breaks rules is not shown: {findings[:3]}")
    return asked, schedule, offer(state, asked, schedule, frame_at(state, now_ms), BY_LISTING)


def offer(
    state: State, asked: p.Problem, schedule: p.Schedule, at: Frame, by: str, out: FoundOut | None = None
) -> Offer:
    """What a schedule comes to: what its entry will hold, what moves against the plan taken, and why work has no place.
    out: what was found out about that so far."""
    worth = figures(asked, schedule)
    known = {task.id for task in asked.tasks}
    before = last_schedule(state, known, at)
    changes = difference(before, schedule) if before is not None else []
    moves = [_difference(one, at) for one in changes if one.kind != "stays"]
    return Offer(
        data={
            "blocks": blocks_of(schedule, at),
            "unplaced": _tasks_of(one for one in schedule.unplaced if not is_check(one)),
            "gates": {gate: at.ms(slot) for gate, slot in worth.gates.items() if slot is not None},
            "finish_ms": at.ms(worth.finish),
            "chain": _tasks_of(chain_of(asked, schedule)),
            "odds": _odds(asked, schedule, at),
            "by": by,
        },
        differences=[one for one in moves if not _slips(one)],
        stays=sum(one.kind == "stays" for one in changes),
        shifted=sum(_slips(one) for one in moves),
        reasons=reasons(state, asked, schedule, at, out),
    )


def times(
    state: State,
    hours: Mapping[str, Hours],
    now_ms: int,
    lift: Lift,
    look: Callable[[p.Problem, str], p.Windows],
) -> Times:
    """The best three times for a lift, as `look` finds them in about a second; where no day will do, why."""
    at = frame_at(state, now_ms)
    asked, task = _asked_for_lift(state, hours, now_ms, lift)
    found = look(asked, task)
    why = [] if found.offers else reasons(state, asked, list_schedule(asked), at)
    return Times([_time(one, asked, at) for one in found.offers], why, found.all_days)


def time_again(
    state: State, hours: Mapping[str, Hours], now_ms: int, lift: Lift, from_ms: int,
    look: Callable[[p.Problem, str, int], p.Offer | None],
) -> Time:  # fmt: skip
    """One of the times, planned and proven by the checker once more. Refused where it no longer holds."""
    at = frame_at(state, now_ms)
    asked, task = _asked_for_lift(state, hours, now_ms, lift)
    found = look(asked, task, at.slot(from_ms))
    if found is None:
        raise Refused("time_gone", lift=lift.plan.title)
    return _time(found, asked, at)


def _time(one: p.Offer, asked: p.Problem, at: Frame) -> Time:
    return Time(
        at.ms(one.start),
        at.ms(one.end),
        list(one.team),
        one.cost * asked.slot_min,
        _tasks_of(one.before),
        list(one.gates_late),
    )


def _asked_for_lift(
    state: State, hours: Mapping[str, Hours], now_ms: int, lift: Lift
) -> tuple[p.Problem, str]:
    asked = asked_for(state, hours, now_ms)
    if lift.task is None or all(task.id != lift.task for task in asked.tasks):
        raise Refused(
            "not_in_state",
            what=lift.plan.title,
            state="not ahead",
            remedy="Its task is done, or not part of this build.",
        )
    return asked, lift.task


def asked_for(state: State, hours: Mapping[str, Hours], now_ms: int) -> p.Problem:
    """The problem, or a refusal where there is nothing to plan with."""
    asked = problem(state, hours, now_ms)
    if not asked.tasks:
        raise Refused(
            "no_days", problem="no work is left.", remedy="Load a plan file, or a new version of it."
        )
    if not asked.days:
        raise Refused(
            "no_days", problem="nobody has said when they can come.",
            remedy="Each says it under Crew, own name, Hours I can come; a lead may type it for somebody.",
        )  # fmt: skip
    if wrong := faults(asked):
        words = Words(state, frame_at(state, now_ms), zone_of(state.get(Build, "build").time_zone))
        said, remedy = fault_words(wrong[0], words)
        raise Refused("no_days", problem=f"{said}.", remedy=remedy)
    return asked


def _tasks_of(ids: Iterable[str]) -> list[str]:
    """Of tasks and their checks: the tasks, each once."""
    return list(dict.fromkeys(task_of(id) for id in ids))


def _odds(asked: p.Problem, schedule: p.Schedule, at: Frame) -> list[dict[str, Any]]:
    """Each gate's range and, under the name of the finish, that of all work with the tasks that drive it most."""
    found = odds(asked, schedule, samples=SAMPLES)

    def line(gate: str, there: p.Range, drivers: list[str]) -> dict[str, Any]:
        return {
            "gate": gate,
            "p50_ms": None if there.p50 is None else at.ms(there.p50),
            "p80_ms": None if there.p80 is None else at.ms(there.p80),
            "in_time_percent": there.in_time_percent,
            "drivers": drivers,
        }

    return [
        *(line(gate, there, []) for gate, there in found.gates.items()),
        line(FINISH, found.finish, _tasks_of(task for task, _ in found.drivers)),
    ]


def reasons(
    state: State, asked: p.Problem, schedule: p.Schedule, at: Frame, out: FoundOut | None = None
) -> list[WhyNot]:
    """Of work without a place the first of each chain, for those behind it only follow; then gates that are late. What
    was found out says it better."""
    late = late_gates(asked, schedule)
    if not schedule.unplaced and not late:
        return []
    zone = zone_of(state.get(Build, "build").time_zone)
    held = {_about(one): one for one in (out.reasons if out is not None else ()) if one.code == "held"}
    shown = [one for one in why_not(asked, schedule) if one.code != "follows"]
    shown = [*shown[:REASONS_SHOWN], *(replace(one, remedies=()) for one in late)]
    over = out is not None and out.over
    return [_said(held.get(_about(one), one), asked, Words(state, at, zone), over) for one in shown]


def _about(reason: Reason) -> tuple[str, str]:
    """What a reason is about: a gate, or a task and perhaps what it comes too late for."""
    if "gate" in reason.about:
        return "", str(reason.about["gate"])
    late_for = reason.about.get("task", "") if reason.code == "late_for" else reason.about.get("for", "")
    return reason.task, str(late_for)


def _said(reason: Reason, asked: p.Problem, words: Words, over: bool) -> WhyNot:
    held, unproven = reason.code == "held", reason.code in (*UNPROVEN, "late_gate")
    return WhyNot(
        task=task_of(reason.task),
        says=held_words(reason, words) if held else reason_words(reason, words),
        remedies=[remedy_words(one, words) for one in reason.remedies],
        causes=[cause_words(one, asked, words) for one in reason.causes],
        note=least_words(reason) if held else "",
        open=unproven,
        looking=unproven and not over,
        params=words.people,
    )


def _slips(one: Difference) -> bool:
    if one.was_ms is None or one.now_ms is None or one.was_people != one.now_people:
        return False
    return abs(one.now_ms - one.was_ms) < SLIP_MS


def _difference(change: p.Change, at: Frame) -> Difference:
    def people(stints: tuple[p.Stint, ...]) -> list[str]:
        return sorted({person for stint in stints for person in stint.team})

    task, check, step = piece_of(change.task)
    return Difference(
        kind=change.kind,
        task=task,
        check=check,
        step=step,
        was_ms=at.ms(change.was[0].start) if change.was else None,
        now_ms=at.ms(change.now[0].start) if change.now else None,
        was_people=people(change.was),
        now_people=people(change.now),
    )
