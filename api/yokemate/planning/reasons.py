"""What is wrong with a problem or a schedule, and why work has no place: plain frozen data, by codes; the words come later."""

from __future__ import annotations

from dataclasses import dataclass

from yokemate.planning.problem import Schedule


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a problem is none: `code`, and what it is about. The words come later, where they are shown.

    Codes: unknown (what, where) · twice (what) · circle (tasks) · empty_span, overlap, outside_days (person or day,
    start, end) · impossible_count (what, count) · too_many (what, count, most).
    """

    code: str
    about: dict[str, str | int | tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule that a schedule breaks. Codes:

    missing, twice, unknown · undated (parts) · length, part, order (of its stretches) · hours, early (before now or
    release), day (across a day's end), tired · team_size, skill, not_eligible, minor · holder (person: has it in hand, and is
    not of the team) · double_booked · before (a predecessor, or its lag) · not_independent · tool, zone · hazard · alone ·
    fixed · joiner · asked.
    """

    code: str
    task: str
    about: dict[str, str | int | tuple[str, ...]]


@dataclass(frozen=True, slots=True, order=True)
class Cause:
    """One thing that may keep work from having a place. `item` () means all of its kind, a longer one is a part of that.

    Kinds, with what stands in `item`: work (task: another one that wants a place too) · appointment (task: fixed where it
    is) · gate (gate: its wanted date) · hours (person, day's first slot as text: when they come that day) · part (part: when
    it comes) · cure (task before or "", task: what must pass between; "" for one that is over) · tool, zone (what: that
    there are no more, that it holds no more) · skill (skill: that not everybody has it) · hazard (tag, tag: never side by
    side) · independence (task: by others than did the work) · company (task: never alone) · tired (task: not at a day's end).
    """

    kind: str
    item: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that would give the task a place.

    Codes: date (parts): it becomes known when they come · passed_on (task): others take it over ·
    stretches (task, slots): it may be stopped, in stretches at least so long ·
    person (day, at: slot, skill or "": one more who can come then) · hours (day, slots: so much longer together) ·
    stays (person, day: for the whole of it) · part (part, slots earlier) · capacity (what, count) · appointment (task: at
    another time) · gate (gate, slots later) · horizon (more days). Every one was tried unless `tried` is False.
    """

    code: str
    about: dict[str, str | int | tuple[str, ...]]
    tried: bool = True


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a task has no place, by counts of people and times only. Codes:

    no_date (parts): nobody knows when they come ·
    holders (people, slots): those who have it in hand are never free for so long together ·
    too_long (slots, most): in one go longer than any build day ·
    too_few (wanted, count): so many may ever be asked · skill (skill, wanted, count) · never_together (wanted, most,
    slots; days: first slots, as text, of those with the most) · skill_never_together (skill, ...) · alone (wanted, most) · late_part (part, slot) ·
    tool, zone (what, wanted, count) · tired · independent (task): nobody is left who did not work on that ·
    late_for (task, slots): has a place, but ends so long after it should for that fixed task, which stands ·
    follows (task): waits for another that has no place · full (no free stretch is left before the horizon; relieved_by:
    kinds of want without which one was found: tools, zones, hazards, lags, parts, checks, other_work) ·
    late_gate (gate, slots late, chain: the tasks that hold it, part: what the first of them waits for or "", cause: see
    `late.late_gates`; `task` is the last of the chain) ·
    held (proof: path, counts or solver, see `proof`; least: 1 where it was shown that none of `causes` may be left out, else
    0; gate or for: as for late_gate and late_for; wanted, given [slots of people], skill or "": where the work is more
    than the hours): `causes` together leave no plan, whatever else were different ·
    not_found_out (gate or for): time ran out.
    """

    code: str
    task: str
    about: dict[str, str | int | tuple[str, ...]]
    remedies: tuple[Remedy, ...] = ()
    causes: tuple[Cause, ...] = ()


@dataclass(frozen=True, slots=True)
class FoundOut:
    """What `find_out` found. reasons: held or not_found_out, for what the schedule leaves over. better: a plan that has
    a place for some of that, proven by the checker; what it places has no reason. over: nothing more is looked for.
    """

    reasons: tuple[Reason, ...]
    better: Schedule | None = None
    over: bool = False
