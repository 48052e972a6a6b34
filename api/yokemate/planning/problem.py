"""What is to be planned, and what a plan of the build days is: plain frozen data. What is wrong with one, and why work has
no place: `reasons`.

**Time** is whole slots of `slot_min` minutes since an origin that the caller chose (a moment, not a clock time, so
that daylight saving is the caller's business and ends here). All spans are half-open: `start` is the first slot,
`end` the first slot after. 5 minute slots made plans 1 to 6 % shorter than 15 minute ones where it was measured.

The doors of this room, all pure:

- `faults.faults(problem) -> list[Fault]` first: is it a problem at all (overlapping hours, circles, a thousand people)?
- `listing.list_schedule(problem) -> Schedule`: a valid plan in milliseconds, with what could not be placed.
- `check.check(problem, schedule) -> list[Finding]`: shares no code with what plans; empty means every rule is kept.
  Show no schedule that has findings.
- `improve.improve(problem, start, clock, limits, on_better, should_stop) -> Solved`: the solver, warm-started; it never
  answers with anything worse than `start`. Give it a process or thread of its own.
- `why_not.why_not(problem, schedule) -> list[Reason]`: why tasks have no place, with changes that would give them one;
  `late.late_gates(problem, schedule) -> list[Reason]`: what holds a gate that is later than wanted.
- `find_out.find_out(problem, schedule, should_stop) -> FoundOut`: where that is not enough, the causes that together leave
  no plan. It may take seconds and asks the solver: give it a process of its own, like `improve`.
- `windows.windows_for(problem, task_id, clock) -> Windows`: the best three times for a task, with the cost to the finish,
  found in about a second; `windows.window_at(problem, task_id, start) -> Offer | None`: one of them once more.
- `difference.difference(old, new) -> list[Change]`: what moves, what stays.
- `chain.chain_of(problem, schedule) -> list[str]`: the tasks that carry the finish, first to last.
- `figures.figures(problem, schedule) -> Figures`: finish, gates, trips, load.
- `odds.odds(problem, schedule, samples, seed) -> Odds`: P50 and P80 of the finish and of each gate, and what drives them.

No names and no private limits: people are ids, and who must not be asked for a task is simply not in its `eligible`.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of time. start, end [slots]: 0 <= start < end, end not included."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Person:
    """One of the crew.

    hours: when they can come; sorted, without overlap, none longer than the build day it lies in.
    skills: ids; a skill counts only where a task needs it. Countersigning is a skill like others here.
    minor: never counts towards `Task.people` and never countersigns (R8); may stand in `Task.joiners`.
    comes_percent: how often they keep what they said, 1..100; used by `odds` only.
    """

    id: str
    hours: tuple[Span, ...]
    skills: frozenset[str] = frozenset()
    minor: bool = False
    comes_percent: int = 100


@dataclass(frozen=True, slots=True)
class Need:
    """So many of a task's people must have this skill (R8: one leads; two where the plan says so).

    Where a task has several needs, each person is counted for one of them only.
    """

    skill: str
    count: int = 1


@dataclass(frozen=True, slots=True)
class After:
    """What must be over before a task begins.

    lag [slots]: that must pass on the calendar after its end, nights included (a cure of 24 h is 288 slots of 5 min).
    soon [slots]: wanted: begin at most so long after its end (a countersign soon after the torque). A wish: plans are
    made to keep it, `Figures.not_soon` counts where they could not. None: no matter when. 0 < soon.
    """

    task: str
    lag: int = 0
    soon: int | None = None


@dataclass(frozen=True, slots=True)
class Use:
    """So many of a tool are held for the whole task. count >= 1."""

    tool: str
    count: int = 1


@dataclass(frozen=True, slots=True)
class Fixed:
    """What has been settled: a task that is taken, or a lift that was called. Both are constants for the planner.

    Nothing else of the task is judged any more (hours, skills, what comes before): it stands, and others plan round it.
    asked: people who may still come to it: nothing else is planned for them then, and they count in its team for nothing.
    """

    start: int
    team: tuple[str, ...]
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of remaining work. What is done is left out, and out of every `after`; what remains of its lag becomes
    the follower's `release`.

    duration [slots]: >= 1, the likely figure.
    people: how many adults do it together, from its first slot to its last; a buddy counts (R7, R28), so does a lift's
        caller. 0: needs nobody (then it has no needs).
    needs: skills among them, by count; the others are learners.
    with_learner [slots]: its duration when somebody of a team has none of the needed skills; None: the same.
    eligible: who may be asked; None: every adult. Minors in it are not counted and not taken.
    holders: who have it in hand, and stay with it: always in its team. All adults, at most `people`.
    joiners: who may join without being counted: minors where the task says *with an adult*.
    independent_of: tasks; nobody of their teams or joiners may be in this one's team (R13: countersigns).
    after: what must be over before.
    release [slots]: not before; because of part `waits_for`, when that is named.
    undated: parts of which nobody knows when they come: it has no place until that is known.
    tools, zone: what it holds, where it is. A zone counts the people in it.
    hazards: tags; `Problem.never_beside` says which may not run at the same time as which (R27).
    present: so many people must be in the garage throughout, team included (R28: 2 for work that is never done alone).
    lift: wanted early in the day.
    not_last: never in the last `Problem.tired_slots` of a build day (critical torque).
    part [slots]: may be stopped and taken up another day, by others if need be, in stretches at least so long;
        None: done in one go. 1 <= part <= duration.
    goes_on: the task whose work this one takes up again after a stop: by the same people, where they can.
    fixed: see `Fixed`; such a task is done in one go.
    quick, slow [slots]: the other two of the three figures, for `odds`; None: as `duration`. quick <= duration <= slow.
    """

    id: str
    duration: int
    people: int = 1
    needs: tuple[Need, ...] = ()
    with_learner: int | None = None
    eligible: frozenset[str] | None = None
    holders: frozenset[str] = frozenset()
    joiners: frozenset[str] = frozenset()
    independent_of: tuple[str, ...] = ()
    after: tuple[After, ...] = ()
    release: int = 0
    waits_for: str | None = None
    undated: tuple[str, ...] = ()
    tools: tuple[Use, ...] = ()
    zone: str | None = None
    hazards: frozenset[str] = frozenset()
    present: int = 1
    lift: bool = False
    not_last: bool = False
    part: int | None = None
    goes_on: str | None = None
    fixed: Fixed | None = None
    quick: int | None = None
    slow: int | None = None


@dataclass(frozen=True, slots=True)
class Gate:
    """A date that matters: reached when all of `tasks` are over.

    wanted [slots]: reached by then costs nothing; None: as soon as possible. Gates stand in their order of importance:
    a slot's lateness at one weighs four times a slot's at the next.
    """

    id: str
    tasks: frozenset[str]
    wanted: int | None = None


@dataclass(frozen=True, slots=True)
class Stint:
    """A team at a task without a break. A task has one, or several where it is done over more than one day.

    start, end [slots]. team: those who count. joiners: minors beside them. company: people asked to be in the garage so
    that nobody is alone (R28), who have no work then or none that day.
    """

    task: str
    start: int
    end: int
    team: tuple[str, ...]
    joiners: tuple[str, ...] = ()
    company: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Schedule:
    """A plan: stints by start, then task. unplaced: tasks that found no place, followers included."""

    stints: tuple[Stint, ...]
    unplaced: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything that a plan depends on.

    days: the build days: one per date on which somebody comes, from the first in to the last out; sorted, disjoint.
        Every stretch of anybody's hours lies within one. With nobody and no days, time is one day to `horizon`.
    tools: how many there are of each; zones: how many people fit in each (no entry: any number).
    never_beside: pairs of hazard tags (a pair of a tag with itself: not beside its own kind).
    now [slots]: nothing begins before, but what is fixed.
    tired_slots [slots]: the last part of a day in which tasks with `not_last` may not run; 30 min = 6 slots of 5 min.
    last: the plan that people were told. With it, planning disturbs as little as the gates allow; without, it is fresh.
    horizon [slots]: nothing is planned beyond; 0: the end of the last day.
    """

    tasks: tuple[Task, ...]
    people: tuple[Person, ...] = ()
    days: tuple[Span, ...] = ()
    gates: tuple[Gate, ...] = ()
    tools: dict[str, int] = field(default_factory=dict)
    zones: dict[str, int] = field(default_factory=dict)
    never_beside: frozenset[frozenset[str]] = frozenset()
    now: int = 0
    slot_min: int = 5
    tired_slots: int = 6
    last: Schedule | None = None
    horizon: int = 0


@dataclass(frozen=True, slots=True)
class Figures:
    """What a schedule is worth.

    finish [slots]: end of the last stint. gates: when each is reached (None: not, for want of a place).
    late [working slots, weighted]: sum over gates of weight times lateness in working time; the first objective.
    finish_worked [slots]: the finish in working time, closed hours left out: gaps to a bound are said in this.
    lift_delay [slots]: sum over lifts of start less the day's start. person_days: trips. not_soon: wishes unkept.
    peak_load_percent: the highest share of anybody's offered hours that is planned. moved: tasks whose start differs
    from the last plan's; reteamed: people changed against it. overtaken: times that something ends only after a fixed
    task has begun that it should come before (with its lag).
    """

    finish: int
    finish_worked: int
    gates: dict[str, int | None]
    late: int
    lift_delay: int
    person_days: int
    not_soon: int
    peak_load_percent: int
    moved: int
    reteamed: int
    unplaced: int
    overtaken: int = 0


@dataclass(frozen=True, slots=True)
class Limits:
    """How much work `improve` may do.

    seconds: wall time in all, with passes (a tenth of it at most) and the making of models. workers: threads; 2 for
    quick answers, 8 for bounds. memory_mb: the solver gives up beyond. seed: the same seed and one worker give the same
    plan where time allows. passes: list-scheduling passes first, as many of them as a tenth of the time is enough for.
    bound: also look for a proof of how good it could be at best (form B), on its own share of the time.
    """

    seconds: float = 10.0
    workers: int = 2
    memory_mb: int = 2000
    seed: int = 0
    passes: int = 100
    bound: bool = True


@dataclass(frozen=True, slots=True)
class Progress:
    """Said while solving: a better plan, checked. phase: passes, gates, trips; against a last plan: close."""

    schedule: Schedule
    figures: Figures
    phase: str


@dataclass(frozen=True, slots=True)
class Solved:
    """What `improve` found.

    bound_worked [slots]: no plan finishes earlier than this, in working time as `Figures.finish_worked`. proved: the
    first objective cannot be bettered. stopped: `should_stop` said so. used_solver: False when the library is missing
    or found nothing better, and the simple method's plan stands.
    """

    schedule: Schedule
    figures: Figures
    bound_worked: int
    proved: bool
    stopped: bool
    used_solver: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """A time for a task. cost [slots, working]: how much later everything is finished than by the plan that stands; less
    than 0: sooner.

    before: tasks that must be over first, in planned order. gates_late: gates that this would make later than wanted
    (or than they were, where they are late anyway).
    """

    start: int
    end: int
    team: tuple[str, ...]
    cost: int
    before: tuple[str, ...]
    gates_late: tuple[str, ...]
    schedule: Schedule


@dataclass(frozen=True, slots=True)
class Windows:
    """Times for a task, the best first. all_days: each day was tried at least once before time ran out."""

    offers: tuple[Offer, ...]
    all_days: bool


@dataclass(frozen=True, slots=True)
class Change:
    """One task's difference between two plans. kind: moved, team (same time, other people), added, removed, stays."""

    kind: str
    task: str
    was: tuple[Stint, ...]
    now: tuple[Stint, ...]


@dataclass(frozen=True, slots=True)
class Range:
    """When something is reached. p50, p80 [slots]: half, four in five of the samples are there by then; None: less than
    that were there at all within the hours that people gave. in_time_percent: by the wanted date; None: none wanted.
    """

    p50: int | None
    p80: int | None
    in_time_percent: int | None


@dataclass(frozen=True, slots=True)
class Odds:
    """finish and gates as ranges; drivers: tasks whose duration moves the finish most, with their share in percent."""

    finish: Range
    gates: dict[str, Range]
    drivers: tuple[tuple[str, int], ...]
    samples: int
    unplaced_percent: int
