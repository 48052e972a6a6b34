"""How entries about working a task change rows (R5 to R10)."""

from __future__ import annotations

from typing import Literal

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows import Part, Task
from yokemate.rules.rows.crew import Pair
from yokemate.rules.rows.notes import Note
from yokemate.rules.rows.tasks import Handover, Mate, Measured, StuckMark, Tick


@applies("task.taken")
def taken(draft: Draft, at: At, *, task: str, adult: str | None = None) -> None:
    row = draft.get(Task, task)
    mates = [Mate(person=adult)] if adult is not None else []
    draft.change(
        Task, task, state="taken", holder=at.by, taken_at_ms=at.at_ms, mates=mates, stuck=None, help_wanted=False,
        worked=_with(row.worked, at.by, *([adult] if adult else [])),
    )  # fmt: skip


@applies("task.taken_over")
def taken_over(draft: Draft, at: At, *, task: str, before: str | None, reason: str) -> None:
    row = draft.get(Task, task)
    draft.change(
        Task, task, holder=at.by, taken_at_ms=at.at_ms, stuck=None, worked=_with(row.worked, at.by),
        mates=[mate for mate in row.mates if mate.person != at.by],
    )  # fmt: skip


@applies("task.joined")
def joined(draft: Draft, at: At, *, task: str, learner: bool) -> None:
    row = draft.get(Task, task)
    draft.change(
        Task, task, mates=[*row.mates, Mate(person=at.by, learner=learner)], worked=_with(row.worked, at.by)
    )


@applies("task.mate_left")
def mate_left(draft: Draft, at: At, *, task: str, person: str) -> None:
    row = draft.get(Task, task)
    draft.change(Task, task, mates=[mate for mate in row.mates if mate.person != person])


@applies("task.help_wanted")
def help_wanted(draft: Draft, at: At, *, task: str, wanted: bool) -> None:
    draft.change(Task, task, help_wanted=wanted)


@applies("task.ticked")
def ticked(draft: Draft, at: At, *, task: str, steps: list[str], side: str | None = None) -> None:
    row = draft.get(Task, task)
    tick = Tick(by=at.by, at_ms=at.at_ms, value=side)
    draft.change(Task, task, ticks={**row.ticks, **dict.fromkeys(steps, tick)})


@applies("task.unticked")
def unticked(draft: Draft, at: At, *, task: str, step: str) -> None:
    row = draft.get(Task, task)
    draft.change(Task, task, ticks={id: tick for id, tick in row.ticks.items() if id != step})


@applies("task.measured")
def measured(
    draft: Draft, at: At, *, task: str, step: str, value: str, unit: str, low: str | None, high: str | None,
    inside: bool, ticks: bool, why_not: str | None, photo: str | None,
) -> None:  # fmt: skip
    row = draft.get(Task, task)
    new = Measured(value=value, unit=unit, inside=inside, by=at.by, at_ms=at.at_ms, photo=photo)
    rest = {id: tick for id, tick in row.ticks.items() if id != step or why_not is not None}
    if ticks:
        rest[step] = Tick(by=at.by, at_ms=at.at_ms, value=value, unit=unit)
    measures = {**row.measures, step: [*row.measures.get(step, []), new]} if why_not is None else row.measures
    draft.change(Task, task, measures=measures, ticks=rest)


@applies("task.part_answered")
def part_answered(draft: Draft, at: At, *, task: str, part: str, have: bool, in_stock: int) -> None:
    row = draft.get(Task, task)
    draft.change(Task, task, have_parts={**row.have_parts, part: have})
    draft.change(Part, part, in_stock=in_stock)


@applies("task.part_used_up")
def part_used_up(draft: Draft, at: At, *, task: str, part: str, in_stock: int, in_use: int) -> None:
    """It is in the car now: whoever had it in the hand has it no more."""
    row = draft.get(Task, task)
    had = {id: have for id, have in row.have_parts.items() if id != part}
    draft.change(Task, task, used_up=_with(row.used_up, part), have_parts=had)
    draft.change(Part, part, in_stock=in_stock, in_use=in_use)


@applies("part.moved")
def part_moved(
    draft: Draft, at: At, *, part: str, in_stock: int, in_use: int, bag: str | None, why: str
) -> None:
    """`why`: harvested, not_harvested."""
    draft.change(Part, part, in_stock=in_stock, in_use=in_use, bag=bag)


@applies("task.stuck")
def stuck(draft: Draft, at: At, *, task: str, reason: str, note: str | None, photo: str | None) -> None:
    mark = StuckMark(by=at.by, at_ms=at.at_ms, reason=reason, note=note, photo=photo)
    draft.change(Task, task, stuck=mark)


@applies("task.went_on")
def went_on(draft: Draft, at: At, *, task: str) -> None:
    draft.change(Task, task, stuck=None)


@applies("task.handed_back")
def handed_back(
    draft: Draft, at: At, *, task: str, how: Literal["gave_back", "went_home", "released"], reason: str | None,
    step: str | None, loose: list[str], note: str | None, photo: str | None, tag_on_car: bool,
) -> None:  # fmt: skip
    row = draft.get(Task, task)
    left = Handover(
        by=row.holder or at.by, at_ms=at.at_ms, how=how, step=step, loose=loose, reason=reason, note=note,
        photo=photo, tag_on_car=tag_on_car,
    )  # fmt: skip
    state = "open" if row.state == "taken" else row.state
    draft.change(
        Task,
        task,
        state=state,
        holder=None,
        taken_at_ms=None,
        mates=[],
        stuck=None,
        help_wanted=False,
        handover=left,
    )


@applies("task.passed_on")
def passed_on(draft: Draft, at: At, *, task: str, to: str, note: str | None, by: str | None = None) -> None:
    """`by`: who passed it on; entries from before it was said count for the one who had it."""
    row = draft.get(Task, task)
    left = Handover(by=by or row.holder or at.by, at_ms=at.at_ms, how="passed_on", note=note)
    mates = [mate for mate in row.mates if mate.person != to]
    draft.change(
        Task,
        task,
        holder=to,
        taken_at_ms=at.at_ms,
        mates=mates,
        stuck=None,
        handover=left,
        worked=_with(row.worked, to),
    )


@applies("task.report_kept")
def report_kept(
    draft: Draft, at: At, *, id: str, task: str, what: str, why_not: str, note: str | None, photo: str | None
) -> None:
    """A report that came when it could change nothing: what was said with it stays as a note (R4)."""
    if note is not None or photo is not None:
        draft.put(
            Note(id=id, about_kind="task", about=task, text=note, photo=photo, by=at.by, at_ms=at.at_ms)
        )


@applies("task.signed_off")
def signed_off(draft: Draft, at: At, *, task: str) -> None:
    draft.change(
        Task,
        task,
        state="done",
        signed=Pair(by=at.by, at_ms=at.at_ms),
        done_at_ms=at.at_ms,
        help_wanted=False,
    )


@applies("task.hold_signed")
def hold_signed(draft: Draft, at: At, *, task: str, step: str, open_network: bool) -> None:
    """`open_network`: the PIN went over plain HTTP, and the record says so."""
    row = draft.get(Task, task)
    draft.change(Task, task, holds={**row.holds, step: Pair(by=at.by, at_ms=at.at_ms)})


@applies("task.hold_crossed_out")
def hold_crossed_out(draft: Draft, at: At, *, task: str, holds: list[str], because_of: str) -> None:
    """`because_of`: the step that turned out not to be done."""
    row = draft.get(Task, task)
    draft.change(
        Task,
        task,
        holds={step: pair for step, pair in row.holds.items() if step not in holds},
        ticks={step: tick for step, tick in row.ticks.items() if step not in holds},
        crossed_out=[*row.crossed_out, *(row.holds[step] for step in holds)],
    )


@applies("task.closed")
def closed(draft: Draft, at: At, *, task: str) -> None:
    draft.change(Task, task, state="closed", closed_at_ms=at.at_ms)


@applies("task.check_due")
def check_due(draft: Draft, at: At, *, task: str) -> None:
    """A signature under a closed task lapsed: it is done, not closed, until it is checked again (R14)."""
    draft.change(Task, task, state="done", closed_at_ms=None)


def _with(people: list[str], *more: str) -> list[str]:
    return list(dict.fromkeys([*people, *more]))
