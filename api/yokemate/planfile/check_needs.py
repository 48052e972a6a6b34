"""Needs that nobody can meet: more people than a zone holds, skilled hands that nobody asks for (R7, R8, R18)."""

from __future__ import annotations

from collections import Counter

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import LiftPlan, Plan, TaskPlan
from yokemate.planfile.told import Told

MOST_TILT_DEG, MOST_ABOVE_MM = 60, 2000  # what `calc` reckons with


def need_findings(plan: Plan, told: Told) -> None:
    """`plan`: as the options leave it."""
    room = {zone.id: zone.people_at_most for zone in plan.zones}
    lifts = {lift.id: lift for lift in plan.lifts}
    for task in plan.tasks:
        loc = told.at("tasks", task.id)
        lift = lifts.get(task.lift) if task.lift is not None else None
        _people(task, loc, told)
        _room(task, lift, room.get(task.zone), loc, told)
        if lift is not None and task.minors == "with_adult":
            told.doubt(
                "minor_in_lift",
                (*loc, "minors"),
                "no minor holds a place in a lift.",
                'Write `minors: watch` or `minors: "no"`.',
            )
    _lifts(plan, told)
    _parts(plan, told)


def _people(task: TaskPlan, loc: Loc, told: Told) -> None:
    must = _must(task)
    if task.skilled_people > must:
        told.error(
            "more_skilled_than_people", (*loc, "skilled_people"),
            f"{task.skilled_people} must have the skill, and {must} must be there.",
            f"Write `must_people: {task.skilled_people}`, or ask for fewer skilled people.",
        )  # fmt: skip
    if task.skilled_people > 1 and task.lead_skill is None:
        told.error(
            "skilled_without_skill",
            (*loc, "skilled_people"),
            "nothing says which skill they must have.",
            "Add `lead_skill: ...`.",
        )


def _must(task: TaskPlan) -> int:
    return max(task.must_people, 2 if task.buddy else 1)


def people_of(lift: LiftPlan) -> int:
    """Lifters and guides; the caller on top unless the caller lifts; the lookout (R18)."""
    lifters = sum(support.kind == "lifter" for support in lift.supports)
    return lifters + lift.guides + (lift.caller and not lift.caller_lifts) + lift.lookout


def _room(task: TaskPlan, lift: LiftPlan | None, room: int | None, loc: Loc, told: Told) -> None:
    if room is None:
        return
    needed = max(_must(task), people_of(lift) if lift is not None else 0)
    if needed > room:
        told.error(
            "zone_too_small", (*loc, "zone"), f"{needed} people are needed and {task.zone} holds {room}.",
            "Move the work, or raise `people_at_most` of the zone.",
        )  # fmt: skip


def _lifts(plan: Plan, told: Told) -> None:
    for n, lift in enumerate(plan.lifts):
        if lift.mass_kg is None or lift.cg_x_mm is None or lift.cg_y_mm is None:
            told.doubt(
                "load_unknown", ("lifts", n), "mass or centre of gravity is not known: it will be refused.",
                "Weigh it and write `mass_kg`, `cg_x_mm`, `cg_y_mm`.",
            )  # fmt: skip
        _tilt(lift, ("lifts", n), told)
    times = Counter(task.lift for task in plan.tasks if task.lift is not None)
    for name, count in times.items():
        if count > 1:
            told.error(
                "lift_twice", told.at("lifts", name), f"{count} tasks make this lift, and a lift is made once.",
                "Write the lift again under an id of its own.",
            )  # fmt: skip


def _tilt(lift: LiftPlan, loc: Loc, told: Told) -> None:
    """Shares are worked out for so much and no more."""
    if lift.cg_above_hands_mm is not None and abs(float(lift.cg_above_hands_mm)) > MOST_ABOVE_MM:
        told.error(
            "tilt_out_of_range", (*loc, "cg_above_hands_mm"), "no centre of gravity lies that far from the hands.",
            f"Write mm, at most {MOST_ABOVE_MM} either way.",
        )  # fmt: skip
    for n, phase in enumerate(lift.phases):
        if phase.tilt_deg is not None and not 0 <= float(phase.tilt_deg) <= MOST_TILT_DEG:
            told.error(
                "tilt_out_of_range", (*loc, "phases", n, "tilt_deg"), "nobody carries a load tilted like that.",
                f"Write degrees, 0 to {MOST_TILT_DEG}; either end may be the lower one.",
            )  # fmt: skip


def _parts(plan: Plan, told: Told) -> None:
    used: Counter[str] = Counter()
    for task in plan.tasks:
        for use in task.uses:
            used[use.part] += use.count
    for n, part in enumerate(plan.parts):
        if used[part.id] > part.count:
            told.doubt(
                "too_few_parts", ("parts", n, "count"), f"the tasks use {used[part.id]} and there are {part.count}.",
                "Count again, or order more.",
            )  # fmt: skip
