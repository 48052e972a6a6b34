"""Crews made up at random for tests and benchmarks: stages of work that branch and join, checks by others, lifts on one
crane, a torque wrench, cures, late parts, and people who come on some Saturdays and Sundays."""

from __future__ import annotations

import random
from dataclasses import replace

from yokemate.planning.problem import After, Gate, Need, Person, Problem, Span, Task, Use

DAY = 288  # slots of 5 min
PAIRS = frozenset(
    frozenset(p) for p in (("under_car", "jacking"), ("under_car", "live_battery"), ("fuel_open", "sparks"))
)


def crew_problem(tasks: int, seed: int, people: int = 8, weeks: int = 10) -> Problem:
    """About a fifth more tasks than asked: the checks."""
    chance = random.Random(seed)
    days = tuple(
        Span((week * 7 + day) * DAY + 96, (week * 7 + day) * DAY + 204)
        for week in range(weeks)
        for day in (5, 6)
    )
    crew = []
    for n in range(people):
        hours = []
        for day in days:
            if chance.random() < 0.68:
                late, soon = chance.choice((0, 0, 12, 24)), chance.choice((0, 0, 12, 36))
                hours.append(Span(day.start + late, day.end - soon))
        skills = {s for s in ("mechanical", "brakes", "fuel", "electrical") if chance.random() < 0.45}
        if n < 3:
            skills |= {"mechanical", "brakes", "fuel", "electrical"}
        if n < people // 2:
            skills.add("may_check")
        crew.append(Person(f"p{n}", tuple(hours), frozenset(skills)))
    crew.append(Person("young", tuple(Span(d.start, d.end) for d in days[::2]), minor=True))
    made: list[Task] = []
    for n in range(tasks):
        before = (
            sorted({chance.randrange(max(0, n - 18), n) for _ in range(chance.choice((1, 1, 2)))})
            if n > 5
            else []
        )
        lift = n % 13 == 7
        after = tuple(After(f"t{b}", DAY if chance.random() < 0.03 else 0) for b in before)
        hazards: set[str] = set()
        if chance.random() < 0.15:
            hazards.add(chance.choice(("under_car", "jacking", "fuel_open", "sparks", "live_battery")))
        torque = chance.random() < 0.2
        tools = [Use("crane")] if lift else [Use("torque_wrench")] if torque else []
        if not tools and chance.random() < 0.2:
            tools = [Use(chance.choice(("press", "jack", "welder")))]
        skill = (
            chance.choice(("mechanical", "brakes", "fuel", "electrical")) if chance.random() < 0.4 else None
        )
        duration = chance.choice((2, 3, 4, 6, 6, 8, 9, 12, 12, 18, 24))
        count = chance.choice((2, 3)) if lift else chance.choice((1, 1, 1, 1, 2))
        long_one = duration == 24 and not torque and not lift
        made.append(
            Task(
                f"t{n}", duration, count,
                needs=(Need(skill),) if skill else (),
                with_learner=duration + duration // 4 if skill and count == 2 and chance.random() < 0.3 else None,
                joiners=frozenset({"young"}) if not lift and not hazards else frozenset(),
                after=after, tools=tuple(tools), zone=f"z{chance.randrange(6)}",
                release=chance.choice(days[: len(days) // 2]).start if chance.random() < 0.08 else 0,
                hazards=frozenset(hazards), present=2 if hazards & {"under_car", "fuel_open"} or lift else 1,
                lift=lift, not_last=torque, part=8 if long_one else None,
                quick=max(1, duration * 7 // 10), slow=duration * 2,
            )
        )  # fmt: skip
        if torque:
            made.append(
                Task(
                    f"c{n}", 2, 1, needs=(Need("may_check"),), independent_of=(f"t{n}",),
                    after=(After(f"t{n}", soon=12),), zone=made[-1].zone, quick=1, slow=3,
                )
            )  # fmt: skip
    checked = {task.id[1:] for task in made if task.id[0] == "c"}
    made = [
        replace(
            t,
            after=tuple(
                replace(a, task="c" + a.task[1:]) if a.task[1:] in checked and t.id[0] == "t" else a
                for a in t.after
            ),
        )
        for t in made
    ]
    half = frozenset(f"t{n}" for n in range(tasks // 2))
    return Problem(
        tuple(made), tuple(crew), days,
        gates=(Gate("first_start", half), Gate("first_drive", frozenset(t.id for t in made))),
        tools={"crane": 1, "torque_wrench": 1, "press": 1, "jack": 2, "welder": 1},
        zones={"z0": 3, "z1": 4, "z2": 3, "z3": 4, "z4": 5, "z5": 3},
        never_beside=PAIRS,
    )  # fmt: skip
