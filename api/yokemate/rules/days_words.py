"""Why work has no place, and what would give it one, in the crew's words: counts of people and times, never whose
limit (R21).
"""

from __future__ import annotations

from collections.abc import Callable
from zoneinfo import ZoneInfo

from yokemate.planning.problem import Fault, Reason, Remedy
from yokemate.rules.days_problem import CALLS, CHECK, COUNTERSIGN, SLOT_MIN, Frame
from yokemate.rules.frame import State
from yokemate.rules.hours import local_day
from yokemate.rules.rows import Build, Gate, Part, Task, Tool


class Words:
    """What ids are called in one build."""

    def __init__(self, state: State, at: Frame, zone: ZoneInfo) -> None:
        self._state, self._at, self._zone = state, at, zone
        self._skills = {one.id: one.say for one in state.get(Build, "build").skills}
        self._zones = {one.id: one.name for one in state.get(Build, "build").zones}

    def task(self, id: str) -> str:
        row = self._state.find(Task, id.removesuffix(CHECK))
        title = f"{row.id}, {row.plan.title}" if row is not None else id
        return f"the check of {title}" if id.endswith(CHECK) else title

    def skill(self, id: str) -> str:
        if id == COUNTERSIGN:
            return "may countersign"
        return "may call a lift" if id == CALLS else f"has the {self._skills.get(id, id)} skill"

    def thing(self, id: str) -> str:
        tool, part = self._state.find(Tool, id), self._state.find(Part, id)
        return (
            tool.plan.name if tool else part.plan.name if part else self._zones.get(id, id.replace("_", " "))
        )

    def gate(self, id: str) -> str:
        row = self._state.find(Gate, id)
        return row.plan.name if row else id

    def day(self, slot: int) -> str:
        on = local_day(self._at.ms(slot), self._zone)
        return f"{on:%A} {on.day} {on:%B}"


def _count(number: object) -> str:
    return {0: "nobody", 1: "one person", 2: "two people", 3: "three people", 4: "four people"}.get(
        int(str(number)), f"{number} people"
    )


def _span(slots: object) -> str:
    minutes = int(str(slots)) * SLOT_MIN
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} minutes"
    return f"{hours} h" + (f" {rest} min" if rest else "")


def reason_words(reason: Reason, words: Words) -> str:
    """One sentence."""
    a, task = reason.about, words.task(reason.task)
    task = task[:1].upper() + task[1:]
    said: dict[str, Callable[[], str]] = {
        "too_few": lambda: (
            f"{task} needs {_count(a['wanted'])}; only {_count(a['count'])} may be asked at all."
        ),
        "skill": lambda: (
            f"{task} needs {_count(a['wanted'])} who {words.skill(str(a['skill']))}; the crew has {a['count']}."
        ),
        "never_together": lambda: (
            f"{task} needs {_count(a['wanted'])} for {_span(a['slots'])}; "
            f"at most {_count(a['most'])} who may are ever free together."
        ),
        "skill_never_together": lambda: (
            f"{task} needs {_count(a['wanted'])} who {words.skill(str(a['skill']))}, for {_span(a['slots'])}; "
            f"at most {_count(a['most'])} are ever free together."
        ),
        "alone": lambda: (
            f"{task} is never done alone: {_count(a['wanted'])} must be in the garage, at most {_count(a['most'])} ever are."
        ),
        "late_part": lambda: (
            f"{task} waits for {words.thing(str(a['part']))}, expected {words.day(int(str(a['slot'])))}; no hours come after it."
        ),
        "tool": lambda: (
            f"{task} needs {a['wanted']} of {words.thing(str(a['what']))}; there are {a['count']}."
        ),
        "zone": lambda: (
            f"{task} needs {_count(a['wanted'])} in {words.thing(str(a['what']))}; it holds {a['count']}."
        ),
        "tired": lambda: (
            f"{task} is critical and may not fall into the last {_span(a['slots'])} of a day; no day is long enough."
        ),
        "independent": lambda: f"Nobody is left for {task} who did not work on {words.task(str(a['task']))}.",
        "follows": lambda: f"{task} waits for {words.task(str(a['task']))}, which has no place.",
        "hazard": lambda: f"{task} may not run beside other work that is fixed.",
        "late_gate": lambda: f"{words.gate(str(a.get('gate')))} comes later than wanted.",
    }
    return said.get(
        reason.code, lambda: f"No free stretch is left for {task} in the hours that were given."
    )()


def remedy_words(remedy: Remedy, words: Words) -> str:
    """One change that would give it a place."""
    a = remedy.about
    if remedy.code == "person":
        skill = f" who {words.skill(str(a['skill']))}" if a.get("skill") else ""
        return f"One more{skill} on {words.day(int(str(a['day'])))}."
    if remedy.code == "hours":
        return f"Everybody stays {_span(a['slots'])} longer on {words.day(int(str(a['day'])))}."
    if remedy.code == "part":
        return f"{words.thing(str(a['part']))} comes {-(-int(str(a['slots'])) * SLOT_MIN // (24 * 60))} days earlier."
    if remedy.code == "capacity":
        return f"{words.thing(str(a['what']))}: {a['count']} instead."
    return "Hours for one more week."


def fault_words(fault: Fault) -> str:
    """What is wrong with the numbers themselves."""
    about = ", ".join(f"{name} {value}" for name, value in fault.about.items())
    return f"{fault.code.replace('_', ' ')} ({about})"
