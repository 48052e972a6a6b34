"""Two plans side by side: what moves and what stays."""

from __future__ import annotations

from yokemate.planning.problem import Change, Schedule, Stint


def difference(old: Schedule, new: Schedule) -> list[Change]:
    """One change per task of either plan, by its time in the new one; what was taken out comes last."""
    was, now = _by_task(old), _by_task(new)
    changes = [
        Change(_kind(was.get(task, ()), now.get(task, ())), task, was.get(task, ()), now.get(task, ()))
        for task in {**was, **now}
    ]
    return sorted(changes, key=lambda c: (not c.now, (c.now or c.was)[0].start, c.task))


def _by_task(schedule: Schedule) -> dict[str, tuple[Stint, ...]]:
    table: dict[str, tuple[Stint, ...]] = {}
    for stint in sorted(schedule.stints, key=lambda s: s.start):
        table[stint.task] = (*table.get(stint.task, ()), stint)
    return table


def _kind(was: tuple[Stint, ...], now: tuple[Stint, ...]) -> str:
    if not was:
        return "added"
    if not now:
        return "removed"
    if [(s.start, s.end) for s in was] != [(s.start, s.end) for s in now]:
        return "moved"
    return "stays" if [set(s.team) for s in was] == [set(s.team) for s in now] else "team"
