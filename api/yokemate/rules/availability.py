"""Can this task be taken now, and if not, what does it wait for, in one list (R5)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from yokemate.planfile.model import After, Lag
from yokemate.rules.frame import State
from yokemate.rules.rows import Deviation, Gate, Group, Task
from yokemate.rules.single_use import lacking_single_use
from yokemate.rules.tightening import needs_countersign

WaitKind = Literal["task", "lag", "gate", "part", "left_out"]
HOUR_MS = 3_600_000


@dataclass(frozen=True)
class Wait:
    """One thing the task waits for: its kind, the id it is about, and what a screen needs to say it."""

    kind: WaitKind
    about: str
    params: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Availability:
    ready: bool
    waits: list[Wait]
    ready_at_ms: int | None = None  # when only lags are left: the moment the last one is over


def availability(state: State, task: Task, now_ms: int) -> Availability:
    if task.state == "left_out":
        return Availability(False, [Wait("left_out", task.id)])
    waits = [] if task.released is not None else list(_before(state, task, now_ms))
    waits += [Wait("gate", gate.id, {"gate": gate.plan.name}) for gate in shut_gates(state, task)]
    waits += _parts(state, task)
    only_lags = bool(waits) and all(wait.kind == "lag" for wait in waits)
    over = max((wait.params["until_ms"] for wait in waits), default=None) if only_lags else None
    return Availability(not waits, waits, over)


def touches(state: State, before: Task, after: After) -> bool:
    """Does the follower cover, load or disturb what came before? Said by the plan; else yes after a critical
    group or a hold point.
    """
    if after.touches is not None:
        return after.touches
    groups = [state.find(Group, step.group) for step in before.plan.steps if step.group]
    critical = any(group is not None and group.plan.critical for group in groups)
    return critical or before.plan.hold_point


def shut_gates(state: State, task: Task) -> list[Gate]:
    """The gates that guard this task and are not open (R25): two people open one; no release goes round it."""
    shut = [gate for gate in state.all(Gate) if gate.state != "open" and task.id in gate.plan.guards]
    return sorted(shut, key=lambda gate: gate.order)


def comes_before(state: State, task: Task) -> list[Wait]:
    """The tasks before this one that are not far enough yet; a task released out of order closes only after them."""
    return [wait for after in task.plan.after if (wait := _not_enough(state, after)) is not None]


def sign_off_lifts(state: State, task: Task, wait: Wait) -> tuple[str, ...] | None:
    """Whether the sign-off of what `task` waits for lifts this wait by itself: on a phone without a signal its doer may
    then begin here. None: it does not. Else the kinds of command about that other task which would leave the wait all
    the same where they came before the sign-off.
    """
    before = state.find(Task, wait.about) if wait.kind == "task" else None
    after = next((one for one in task.plan.after if one.task == wait.about), None)
    if before is None or after is None or before.state not in ("open", "taken"):
        return None
    if any(lag is not None and lag_ms(lag) > 0 for lag in (before.plan.lag_after, after.lag)):
        return None
    if not touches(state, before, after):
        return ()
    groups = [state.find(Group, step.group) for step in before.plan.steps if step.group]
    looked_at = before.plan.hold_point or any(g is not None and needs_countersign(g) for g in groups)
    differs = any(one.task == before.id and one.state == "waiting" for one in state.all(Deviation))
    early = before.released is not None and bool(comes_before(state, before))
    return None if looked_at or differs or early else ("deviation.propose",)


def lag_ms(lag: Lag) -> int:
    return int(Fraction(lag.hours) * HOUR_MS)


def lag_over_ms(task: Task, lag: Lag) -> int | None:
    """When a lag that began with this task's sign-off is over; None while it has not begun."""
    return None if task.done_at_ms is None else task.done_at_ms + lag_ms(lag)


def _not_enough(state: State, after: After) -> Wait | None:
    before = state.find(Task, after.task)
    if before is None or before.state in ("closed", "left_out"):
        return None
    if before.state == "done" and not touches(state, before, after):
        return None
    return Wait("task", before.id, {"title": before.plan.title, "state": before.state})


def _before(state: State, task: Task, now_ms: int) -> Iterator[Wait]:
    for after in task.plan.after:
        if (wait := _not_enough(state, after)) is not None:
            yield wait
            continue
        before = state.find(Task, after.task)
        if before is None or before.state == "left_out":
            continue
        for lag in (before.plan.lag_after, after.lag):
            until = lag_over_ms(before, lag) if lag is not None else None
            if lag is not None and until is not None and until > now_ms:
                yield Wait("lag", before.id, {"until_ms": until, "why": lag.why, "hours": lag.hours})


def _parts(state: State, task: Task) -> list[Wait]:
    """Only a missing single-use part stops the work; other stock is asked about, never counted against (R5)."""
    return [Wait("part", part.id, {"part": part.plan.name}) for part in lacking_single_use(state, task)]
