"""Which work does not run beside which (R27): a table of pairs, good in both directions."""

from __future__ import annotations

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
PAIRS: frozenset[frozenset[str]] = frozenset(frozenset((a, b)) for a, many in _TABLE.items() for b in many)
NEVER_ALONE: frozenset[Hazard] = frozenset(("under_car", "fuel_open", "springs", "lift"))  # R28
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
        return _AT_IT[self.theirs]

    @property
    def waits(self) -> str:
        return _WAITS[self.ours]


def clashes_with(state: State, hazards: list[str], person: str, beside: str | None = None) -> list[Clash]:
    """Work of others that may not run beside these hazards. `beside`: the task itself, which is not counted."""
    found = []
    for task in sorted(state.all(Task), key=lambda t: t.order):
        if task.state != "taken" or task.holder is None or task.id == beside or task.stuck is not None:
            continue
        for theirs in task.plan.hazards:
            found += [
                Clash(task.holder, theirs, ours, task.id)
                for ours in hazards
                if frozenset((ours, theirs)) in PAIRS
            ]
    for under in sorted(state.all(Under), key=lambda u: u.id):
        if under.task == beside and beside is not None:
            continue
        found += [
            Clash(under.id, "under_car", ours) for ours in hazards if frozenset((ours, "under_car")) in PAIRS
        ]
    for lift in sorted(state.all(Lift), key=lambda one: one.id) if "under_car" in hazards else []:
        if is_up(lift):  # over everybody's head
            found.append(Clash(caller_of(lift) or person, "load_up", "under_car", lift.task))
    build = state.find(Build, "build")
    if build is not None and build.engine == "running":
        found += [
            Clash(build.engine_by or person, "engine_running", ours)
            for ours in hazards
            if frozenset((ours, "engine_running")) in PAIRS
        ]
    return found


def tag_on(state: State, hazards: list[str]) -> Tag | None:
    """An isolator tag that forbids one of these hazards."""
    for tag in sorted(state.all(Tag), key=lambda t: t.id):
        if tag.lifted_ms is None and ISOLATES.get(tag.what, frozenset()) & set(hazards):
            return tag
    return None
