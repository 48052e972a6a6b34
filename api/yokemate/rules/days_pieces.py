"""The pieces in which the days of a task are planned: its work from one hold step to the next, the signature at each, and the
check of all of it at the end (R5, R13). Pure.

A task stands at a hold step until somebody who was not at it has signed: the steps behind it are planned behind that. Work
of a lift stays in one piece, for its hour is called as a whole; who signs its hold steps comes when it is down.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from yokemate.planfile.model import Step
from yokemate.rules.frame import State
from yokemate.rules.hold_points import step_is_done
from yokemate.rules.rows import Task

_CUT = "/"  # in no id of a plan file
CHECK = f"{_CUT}check"
_PIECE = f"{_CUT}piece"


def piece_id(task: str, check: bool, step: str | None) -> str:
    """What a problem calls it: T1, the last or only piece of its work; T1/piece/s4, the work up to hold step s4;
    T1/check/s4, the signature there; T1/check, the check at the end."""
    kind = CHECK if check else _PIECE if step is not None else ""
    return task + kind + (f"{_CUT}{step}" if step is not None else "")


def piece_of(id: str) -> tuple[str, bool, str | None]:
    """Task, whether it is a check, and the hold step it goes up to or signs."""
    task, _, rest = id.partition(_CUT)
    kind, _, step = rest.partition(_CUT)
    return task, kind == CHECK[1:], step or None


def task_of(id: str) -> str:
    return piece_of(id)[0]


def is_check(id: str) -> bool:
    return piece_of(id)[1]


@dataclass(frozen=True)
class Piece:
    """Work of a task that is done without a stop for a signature. `hold`: the hold step at its end; None: it is the last one.
    share: of the minutes of the whole task, as much of it as is left; 0: nothing but to sign it off.
    """

    hold: str | None
    steps: tuple[Step, ...]
    share: Fraction


@dataclass(frozen=True)
class Signature:
    """What somebody independent does at a hold step."""

    step: str


def holds_left(task: Task) -> list[str]:
    """Hold steps that nobody has signed."""
    gone = {id for id, tick in task.ticks.items() if tick.left_out}
    return [s.id for s in task.plan.steps if s.kind == "hold" and s.id not in task.holds and s.id not in gone]


def pauses(task: Task) -> list[str]:
    """The hold steps at which its work stops and goes on later."""
    return [] if task.plan.lift else holds_left(task)


def pieces(state: State, task: Task) -> Iterator[Piece | Signature]:
    """What is left of a task, in order. The last one is always a piece of work, whatever it is that is left of it."""
    stops = pauses(task)
    work = [step for step in task.plan.steps if step.kind != "hold"]
    whole = max(1, len(work))
    steps: list[Step] = []
    for step in task.plan.steps:
        if step.kind != "hold":
            steps.append(step)
        elif step.id in stops:
            left = [one for one in steps if not step_is_done(state, task, one)]
            if left:
                yield Piece(step.id, tuple(left), Fraction(len(left), whole))
            yield Signature(step.id)
            steps = []
    left = [one for one in steps if not step_is_done(state, task, one)]
    least = 0 if stops else 1
    yield Piece(None, tuple(left), Fraction(max(least, len(left)), whole))


def piece_is_due(state: State, task: Task, check: bool, step: str | None) -> bool:
    """Whether a piece of work, a signature or the check at the end is still to be done."""
    if step is None:
        return task.state in (("open", "taken", "done") if check else ("open", "taken"))
    if task.state not in ("open", "taken"):
        return False
    there = {
        (isinstance(one, Signature), one.step if isinstance(one, Signature) else one.hold)
        for one in pieces(state, task)
    }
    return (check, step) in there
