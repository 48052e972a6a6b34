"""Why work has no place, and what would give it one, in the crew's words: counts of people and times, never whose
limit (R21). Where it takes several causes together: `days_causes`.
"""

from __future__ import annotations

from collections.abc import Callable
from zoneinfo import ZoneInfo

from yokemate.planning.reasons import Fault, Reason, Remedy
from yokemate.rules.days_frame import SLOT_MIN, Frame
from yokemate.rules.days_pieces import piece_of
from yokemate.rules.days_problem import CALLS
from yokemate.rules.days_seconds import COUNTERSIGN
from yokemate.rules.days_wrenches import of_pool
from yokemate.rules.frame import State
from yokemate.rules.hours import local_day
from yokemate.rules.rows import Build, Gate, Part, Task, Tool


class Words:
    """What ids are called in one build. `people`: whose names the words leave a place for, by what stands there."""

    def __init__(self, state: State, at: Frame, zone: ZoneInfo) -> None:
        self._state, self._at, self._zone = state, at, zone
        self.people: dict[str, str] = {}
        self._skills = {one.id: one.say for one in state.get(Build, "build").skills}
        self._zones = {one.id: one.name for one in state.get(Build, "build").zones}

    def task(self, id: str) -> str:
        task, check, step = piece_of(id)
        row = self._state.find(Task, task)
        title = f"{row.id}, {row.plan.title}" if row is not None else id
        if check:
            return f"the {'signature at the hold step' if step else 'check'} of {title}"
        return f"{title}, up to its hold step" if step else title

    def skill(self, id: str) -> str:
        if id == COUNTERSIGN:
            return "may countersign"
        return "may call a lift" if id == CALLS else f"has the {self._skills.get(id, id)} skill"

    def thing(self, id: str) -> str:
        wrenches = of_pool(id)
        if wrenches is not None:
            return " or ".join(self.thing(one) for one in wrenches) or "torque wrench"
        tool, part = self._state.find(Tool, id), self._state.find(Part, id)
        return (
            tool.plan.name if tool else part.plan.name if part else self._zones.get(id, id.replace("_", " "))
        )

    def person(self, id: str) -> str:
        """A place for a name, which the phone fills in."""
        name = next(
            (one for one, person in self.people.items() if person == id), f"n{len(self.people)}_person"
        )
        self.people[name] = id
        return f"{{{name}}}"

    def gate(self, id: str) -> str:
        row = self._state.find(Gate, id)
        return row.plan.name if row else id

    def day(self, slot: int) -> str:
        on = local_day(self._at.ms(slot), self._zone)
        return f"{on:%A} {on.day} {on:%B}"


def _count(number: object, one: str = "person", more: str = "people", none: str = "nobody") -> str:
    named = {0: none, 1: f"one {one}", 2: f"two {more}", 3: f"three {more}", 4: f"four {more}"}
    return named.get(int(str(number)), f"{number} {more}")


def span_words(slots: object) -> str:
    """A stretch of slots as hours and minutes."""
    minutes = int(str(slots)) * SLOT_MIN
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} minutes"
    return f"{hours} h" + (f" {rest} min" if rest else "")


def _fit_together(a: dict[str, str | int | tuple[str, ...]], who: str) -> str:
    """How many are ever free at once, against the wanted. `who`: what those who count are or do."""
    if not int(str(a["most"])):
        return f"nobody {who} is ever free for so long"
    return f"at most {_count(a['most'])} {who} {'is' if a['most'] == 1 else 'are'} ever free together"


def _ids(value: object) -> tuple[str, ...]:
    return value if isinstance(value, tuple) else ()


def _things(ids: object, words: Words) -> str:
    return " and ".join(words.thing(one) for one in _ids(ids))


def _names(ids: object, words: Words) -> str:
    return " and ".join(words.person(one) for one in _ids(ids))


def _days(slots: object) -> str:
    """Whole days, rounded up."""
    days = -(-int(str(slots)) * SLOT_MIN // (24 * 60))
    return "a day" if days == 1 else f"{days} days"


def reason_words(reason: Reason, words: Words) -> str:
    """One sentence."""
    a, task = reason.about, words.task(reason.task)
    task = task[:1].upper() + task[1:]
    said: dict[str, Callable[[], str]] = {
        "no_date": lambda: f"No date for {_things(a['parts'], words)}, which {task} waits for.",
        "holders": lambda: (
            f"{task} is in the hands of {_names(a['people'], words)}, who never {'has' if len(_ids(a['people'])) == 1 else 'have'} "
            f"{span_words(a['slots'])} for it with all it needs."
        ),
        "too_long": lambda: (
            f"{task} takes {span_words(a['slots'])} in one go; the longest build day has {span_words(a['most'])}."
        ),
        "too_few": lambda: (
            f"{task} needs {_count(a['wanted'])}; only {_count(a['count'])} may be asked at all."
        ),
        "skill": lambda: (
            f"{task} needs {_count(a['wanted'])} who {words.skill(str(a['skill']))}; the crew has {a['count']}."
        ),
        "never_together": lambda: (
            f"{task} needs {_count(a['wanted'])} for {span_words(a['slots'])}; {_fit_together(a, 'who may')}."
        ),
        "skill_never_together": lambda: (
            f"{task} needs {_count(a['wanted'])} who {words.skill(str(a['skill']))}, for {span_words(a['slots'])}; "
            f"{_fit_together(a, 'of them')}."
        ),
        "alone": lambda: (
            f"{task} is never done alone: {_count(a['wanted'])} must be in the garage, at most {_count(a['most'])} ever are."
        ),
        "late_part": lambda: (
            f"{task} waits for {words.thing(str(a['part']))}, expected {words.day(int(str(a['slot'])))}; no hours come after it."
        ),
        "tool": lambda: (
            f"{task} needs a torque wrench; none with its range is fit, for want of a check or after a drop."
            if of_pool(str(a["what"])) == []
            else f"{task} needs {a['wanted']} of {words.thing(str(a['what']))}; there are {a['count']}."
        ),
        "zone": lambda: (
            f"{task} needs {_count(a['wanted'])} in {words.thing(str(a['what']))}; it holds {a['count']}."
        ),
        "tired": lambda: (
            f"{task} is critical and may not fall into the last {span_words(a['slots'])} of a day; no day is long enough."
        ),
        "independent": lambda: f"Nobody is left for {task} who did not work on {words.task(str(a['task']))}.",
        "follows": lambda: f"{task} waits for {words.task(str(a['task']))}, which has no place.",
        "late_for": lambda: (
            f"{task} ends {span_words(a['slots'])} too late for {words.task(str(a['task']))}, which stands."
        ),
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
        count = int(str(a["count"]))
        return f"{'One' if count == 1 else count} more{skill} on {words.day(int(str(a['day'])))}."
    if remedy.code == "date":
        return f"Say when {_things(a['parts'], words)} should arrive: Bags and tools, Parts and bags."
    if remedy.code == "passed_on":
        return f"{words.task(str(a['task']))}, is passed on or given back."
    if remedy.code == "stretches":
        return f"{words.task(str(a['task']))}, is done in stretches of {span_words(a['slots'])} (stretch_minutes in the plan file)."
    if remedy.code == "stays":
        who, day = words.person(str(a["person"])), words.day(int(str(a["day"])))
        return (
            f"{who} stays {span_words(a['slots'])} longer on {day}."
            if a["slots"]
            else f"{who} comes for all of {day}."
        )
    if remedy.code == "appointment":
        return f"{words.task(str(a['task']))}, is called for another time."
    if remedy.code == "gate":
        return f"{words.gate(str(a['gate']))} is wanted {_days(a['slots'])} later."
    if remedy.code == "hours":
        return f"Everybody stays {span_words(a['slots'])} longer on {words.day(int(str(a['day'])))}."
    if remedy.code == "part":
        return f"{words.thing(str(a['part']))} comes {_days(a['slots'])} earlier."
    if remedy.code == "capacity" and of_pool(str(a["what"])) is not None:
        return f"{_count(a['count'], 'torque wrench', 'torque wrenches').capitalize()} checked and good."
    if remedy.code == "capacity":
        return f"{words.thing(str(a['what']))}: {a['count']} instead."
    return "Hours for one more week."


_FIGURES = {
    "duration": "minutes",
    "people": "number of people",
    "release": "first day",
    "present": "number of people in the garage",
    "part": "stretch",
    "with_learner": "minutes with a learner",
    "lag": "time that must pass before it",
    "soon": "time within which it follows",
    "needs": "number of people with a skill",
    "tools": "number of tools",
    "slow": "slowest minutes",
    "quick": "quickest minutes",
    "comes_percent": "share of days kept",
}
_HOURS = {
    "empty_span": "end before they begin",
    "overlap": "overlap",
    "outside_days": "lie outside the build days",
}
_MOST = {"people": "people", "tasks": "tasks", "slots": "steps of five minutes"}


def fault_words(fault: Fault, words: Words) -> tuple[str, str]:
    """What is wrong with the numbers themselves, without a full stop, and what to do about it."""
    a = fault.about
    if fault.code in _HOURS:
        whose = "Hours of one of the crew" if a["person"] else "The build days"
        return (
            f"{whose} on {words.day(int(str(a['start'])))} {_HOURS[fault.code]}",
            "Put them right under Crew, the person's name, Hours.",
        )
    if fault.code == "too_many":
        return (
            f"{a['count']} {_MOST[str(a['what'])]} are more than the {a['most']} that can be planned",
            "Plan with fewer.",
        )
    mend = "Put it right in the plan file and load it again."
    if fault.code == "circle":
        tasks = a["tasks"] if isinstance(a["tasks"], tuple) else ()
        return f"{' and '.join(words.task(task) for task in tasks)} wait for each other", mend
    what = words.task(words.thing(str(a["what"]))) if a.get("kind") != "gate" else words.gate(str(a["what"]))
    if fault.code == "twice":
        return f"{what} is there twice", mend
    if fault.code == "unknown":
        return f"{words.task(str(a['where']))} names {what}, which is not there", mend
    figure = _FIGURES.get(str(a.get("kind", "")), "number")
    return f"{what} has {a['count']} as its {figure}, which can't be", mend
