"""Which work does not run beside which (R27): a table of pairs, good in both directions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from yokemate.planfile.model import Hazard
from yokemate.rules.frame import State
from yokemate.rules.lift_crew import caller_of, is_up
from yokemate.rules.rows import Build, Lift, Tag, Task, Under

_TABLE: dict[str, tuple[str, ...]] = {
    "under_car": ("jacking", "wheels_off", "cranking", "live_battery", "engine_running"),
    "fuel_open": ("sparks", "heat", "live_battery"),
    "engine_running": ("hands_in",),
}
LOAD_UP = frozenset(
    ("under_car", "load_up")
)  # a load that is up is over everybody's head; no plan names it as a hazard
PAIRS: frozenset[frozenset[str]] = frozenset(frozenset((a, b)) for a, many in _TABLE.items() for b in many)
NEVER_ALONE: frozenset[Hazard] = frozenset(("under_car", "fuel_open", "springs", "lift"))  # R28
# What stays as it is while its task is stuck; the rest is over when the hands stop, and asked anew by *Go on*.
_STAYS = frozenset(("fuel_open", "wheels_off", "live_battery", "engine_running"))
# Within one task the plan has put side by side what it has (a wheel is off, somebody is under): only what moves or
# wakes the car waits for a mate who is under it.
_WAKES = frozenset(("jacking", "cranking", "live_battery", "engine_running"))
ISOLATES: dict[str, frozenset[str]] = {"battery": frozenset(("live_battery", "cranking", "engine_running"))}


_AT_IT = {  # after a name: "Bram is under the car"
    "under_car": "is under the car", "jacking": "is jacking the car up", "wheels_off": "has a wheel off",
    "cranking": "is cranking", "live_battery": "has the battery connected",
    "engine_running": "said that the engine is running", "fuel_open": "has the fuel open",
    "load_up": "has a load up",
    "sparks": "is at work that sparks", "heat": "is at work with heat", "hands_in": "has hands in the engine bay",
}  # fmt: skip
_WAITS = {  # before "waits until that is over"
    "under_car": "Work under the car", "jacking": "Jacking it up", "wheels_off": "Taking a wheel off",
    "cranking": "Cranking", "live_battery": "Connecting the battery", "engine_running": "Running the engine",
    "fuel_open": "Opening the fuel", "sparks": "Work that sparks", "heat": "Work with heat",
    "hands_in": "Reaching into the engine bay",
}  # fmt: skip


@dataclass(frozen=True)
class Clash:
    person: str
    theirs: str
    ours: str
    task: str | None = None

    @property
    def at_it(self) -> str:
        """Who has only the task in hand may be up for a moment: only *I'm under* says that somebody lies there."""
        has_task = self.theirs == "under_car" and self.task is not None
        return "is at work under the car" if has_task else _AT_IT[self.theirs]

    @property
    def waits(self) -> str:
        return _WAITS[self.ours]


@dataclass(frozen=True)
class GoesOn:
    """Something that is being done now. `lies_under`: said by *I'm under*, not by having taken a task."""

    person: str
    hazard: str
    task: str | None
    lies_under: bool = False


def goes_on(state: State) -> list[GoesOn]:
    """All that is being done and could hurt somebody at other work: who lies under the car, then in the plan's order."""
    found = [
        GoesOn(under.id, "under_car", under.task, lies_under=True)
        for under in sorted(state.all(Under), key=lambda u: u.id)
    ]
    found += [
        GoesOn(task.holder, hazard, task.id)
        for task in sorted(state.all(Task), key=lambda t: t.order)
        if task.state == "taken" and task.holder is not None
        for hazard in task.plan.hazards
        if task.stuck is None or hazard in _STAYS
    ]
    found += [  # a load that is up is over everybody's head, its own task's people too
        GoesOn(caller, "load_up", lift.task)
        for lift in sorted(state.all(Lift), key=lambda one: one.id)
        if is_up(lift)
        if (caller := caller_of(lift)) is not None
    ]
    build = state.find(Build, "build")
    if build is not None and build.engine == "running" and build.engine_by is not None:
        found.append(GoesOn(build.engine_by, "engine_running", None))
    return found


def clashes_with(
    state: State,
    hazards: Iterable[str],
    person: str,
    beside: str | None = None,
    going_on: list[GoesOn] | None = None,
) -> list[Clash]:
    """What is being done and may not be beside these hazards. `beside`: the task they belong to; its own work is not
    counted, but whoever else lies under the car for it. `going_on`: where it is known already.
    """
    return [
        Clash(other.person, other.hazard, ours, other.task if not other.lies_under else None)
        for other in (goes_on(state) if going_on is None else going_on)
        for ours in hazards
        if _apart(ours, other.hazard) and not _own(other, ours, person, beside)
    ]


def _apart(ours: str, theirs: str) -> bool:
    return frozenset((ours, theirs)) in PAIRS | {LOAD_UP}


def _own(other: GoesOn, ours: str, person: str, beside: str | None) -> bool:
    if beside is None or other.task != beside or other.hazard == "load_up":
        return False
    return not other.lies_under or other.person == person or ours not in _WAKES


def tag_on(state: State, hazards: Iterable[str]) -> Tag | None:
    """An isolator tag that forbids one of these hazards."""
    for tag in sorted(state.all(Tag), key=lambda t: t.id):
        if tag.lifted_ms is None and ISOLATES.get(tag.what, frozenset()) & set(hazards):
            return tag
    return None
