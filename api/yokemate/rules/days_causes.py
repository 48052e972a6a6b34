"""The causes that together leave no plan, in the crew's words.

R21: hours are named with whose they are, to a lead, who may read everybody's hours anyway. What somebody may
carry or does not want stands in no problem of planning, so that it is in no cause.
"""

from __future__ import annotations

from collections.abc import Callable

from yokemate.planning.problem import Problem
from yokemate.planning.reasons import Cause, Reason
from yokemate.rules.days_words import Words, span_words

_ALL = {
    "work": "all the other work",
    "appointment": "what was called or is under way",
    "hours": "when each can come",
    "part": "when parts come",
    "cure": "the times that must pass between work",
    "tool": "how many there are of each tool",
    "zone": "how many fit into each zone",
    "skill": "who has which skill",
    "hazard": "work that is never done side by side",
    "independence": "checks by somebody who did not do the work",
    "company": "work that is never done alone",
    "tired": "critical work, which is never the last of a day",
}


def held_words(reason: Reason, words: Words) -> str:
    """What has no place, or comes too late; the causes follow. One sentence."""
    a = reason.about
    if "gate" in a:
        what = f"{words.gate(str(a['gate']))} can't be reached by the date that is wanted"
    elif "for" in a:
        what = f"{_first(words.task(reason.task))} can't be over before {words.task(str(a['for']))}, which stands"
    else:
        what = f"{_first(words.task(reason.task))} can't have a place"
    if not reason.causes:
        return f"{what}: one after the other, this work takes longer than the build days that are left."
    if "wanted" in a:
        who = f" of those of whom each {words.skill(str(a['skill']))}" if a["skill"] else ""
        return f"{what}: together this is {span_words(a['wanted'])} of work for {span_words(a['given'])} of hours{who}."
    return f"{what}. Together these are in the way:" if len(reason.causes) > 1 else f"{what}. In the way is:"


def cause_words(cause: Cause, asked: Problem, words: Words) -> str:
    """One cause, without a full stop."""
    item = cause.item
    if not item:
        return _ALL[cause.kind]
    said: dict[str, Callable[[], str]] = {
        "work": lambda: f"{words.task(item[0])}, which has a place",
        "appointment": lambda: f"{words.task(item[0])}, which stands at its time",
        "gate": lambda: f"the date that is wanted for {words.gate(item[0])}",
        "hours": lambda: _hours(item, words),
        "part": lambda: f"{words.thing(item[0])}, expected {words.day(_expected(asked, item[0]))}",
        "cure": lambda: _cure(item, asked, words),
        "tool": lambda: f"{words.thing(item[0])}, of which there {_are(asked.tools[item[0]])}",
        "zone": lambda: f"{words.thing(item[0])}, which holds {asked.zones[item[0]]}",
        "skill": lambda: f"that not everybody {words.skill(item[0])}",
        "hazard": lambda: f"{_tag(item[0])} and {_tag(item[1])}, never side by side",
        "independence": lambda: f"{words.task(item[0])}, by somebody who did not do the work",
        "company": lambda: f"{words.task(item[0])}, never done alone",
        "tired": lambda: f"{words.task(item[0])}, which is critical and not for a day's end",
    }
    return said[cause.kind]()


def least_words(reason: Reason) -> str:
    """What was shown: that the hours are enough when they are only added up, and about leaving one of the causes out."""
    if not reason.causes:
        return ""
    said = []
    kinds = {cause.kind for cause in reason.causes}
    if reason.about["proof"] == "solver" and {"work", "hours"} <= kinds <= {"work", "hours", "skill"}:
        said.append(
            "Added up, the hours are enough; piece by piece, each in one go, the work does not fit into them."
        )
    if not reason.about["least"]:
        said.append("Whether fewer of them would be enough was not found out in time.")
    elif len(reason.causes) > 1:
        said.append("With any one of them away, the others would leave a plan.")
    return " ".join(said)


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _are(count: int) -> str:
    return "is one" if count == 1 else f"are {count}"


def _tag(tag: str) -> str:
    return "a load that is up" if tag == "load_up" else tag.replace("_", " ")


def _hours(item: tuple[str, ...], words: Words) -> str:
    on = f" on {words.day(int(item[1]))}" if len(item) > 1 else ""
    return f"when {words.person(item[0])} can come{on}"


def _expected(asked: Problem, part: str) -> int:
    return max(task.release for task in asked.tasks if task.waits_for == part)


def _cure(item: tuple[str, ...], asked: Problem, words: Words) -> str:
    first, then = item
    if not first:
        return f"what must still pass before {words.task(then)}"
    lag = max(a.lag for task in asked.tasks if task.id == then for a in task.after if a.task == first)
    return f"{span_words(lag)} that must pass between {words.task(first)} and {words.task(then)}"
