"""Plans of the build days: worked out for a lead, then taken by a command (R30)."""

from __future__ import annotations

from dataclasses import asdict
from typing import Literal

from fastapi import APIRouter, Request
from pydantic import BaseModel

from yokemate.planner import Standing
from yokemate.routes.doors import Inside, inside, not_your_role
from yokemate.routes.fields import Taken
from yokemate.routes.refused import INSIDE, listed
from yokemate.routes.service import Service, service
from yokemate.rules.days_offer import Time, time_again, times
from yokemate.rules.hours import Hours, zone_of
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Gate, Lift, Task
from yokemate.rules.views.days import DateWord, date_word
from yokemate.store import hours

router = APIRouter(prefix="/api/builds/{build}/days", tags=["days"])


class Nothing(Taken):
    """Nothing more to say."""


class DifferenceLine(BaseModel):
    """What moves: `moved`, `team` (same time, other people), `added`, `removed`. `step`: the hold step up to which the work goes,
    or that is signed."""

    kind: Literal["moved", "team", "added", "removed"]
    task: str
    title: str
    check: bool
    step: str | None
    was_ms: int | None
    now_ms: int | None
    was_people: list[str]
    now_people: list[str]


class GateByPlan(BaseModel):
    gate: str
    name: str
    by_plan: DateWord


class WhyNotLine(BaseModel):
    """Why work has no place or a gate is late, and small changes that would do, each tried. `causes`: what is in the way
    only together; `open`: what it takes is not found out; `looking`: it may be yet, while better plans are looked for. The words
    leave a place for each name: `params`."""

    task: str
    says: str
    remedies: list[str]
    causes: list[str]
    note: str
    open: bool
    looking: bool
    params: dict[str, str]


class TaskName(BaseModel):
    task: str
    title: str


class LiftTime(BaseModel):
    """`cost_min`: by how many minutes of build days all is finished later than by the plan that stands; less than 0: sooner."""

    from_ms: int
    to_ms: int
    people: list[str]
    cost_min: int
    before: list[TaskName]
    gates_late: list[str]


class LiftTimes(BaseModel):
    """The best three, cheapest first; none: the reasons. `all_days` false: there was no time to try each day."""

    lift: str
    title: str
    offers: list[LiftTime]
    reasons: list[WhyNotLine]
    all_days: bool


class PlanOffered(BaseModel):
    """A plan that may be taken as `offer`. `stays`: how many pieces of work keep their time and people;
    `shifted`: how many keep their people and slip by less than a quarter of an hour. `broke`: looking for a better one
    ended before its time, for want of memory as a rule. `waiting`: for other builds' plans, before it begins to look."""

    offer: str
    finish: DateWord
    gates: list[GateByPlan]
    placed: int
    unplaced: list[str]
    differences: list[DifferenceLine]
    stays: int
    shifted: int
    reasons: list[WhyNotLine]
    working: bool
    waiting: bool
    broke: bool
    better_found: int


def _planning(request: Request, build: str) -> Inside:
    here = inside(request, build)
    if here.member.role != "lead":
        raise not_your_role(here)
    return here


@router.post(
    "/plan", operation_id="plan_days", responses=listed(*INSIDE, "role", "viewer", "bad_input", "no_days")
)
def plan_days(request: Request, build: str, asked: Nothing) -> PlanOffered:
    """Work out a plan of the days ahead; nothing changes before it is taken."""
    here = _planning(request, build)
    at = service(request)
    state = here.loaded.state
    found = at.planner.plan(build, state, _hours(at, build), at.now_ms(), at.settings.plan_seconds)
    return _offered(here, found)


@router.get("/plan", operation_id="plan_so_far", responses=listed(*INSIDE, "role", "viewer", "offer_gone"))
def plan_so_far(request: Request, build: str) -> PlanOffered:
    """The best plan so far, and whether better ones are still looked for. It may be taken at any time."""
    here = _planning(request, build)
    at = service(request)
    found = at.planner.standing(build)
    if found is None:
        raise Refused("offer_gone")
    return _offered(here, found)


@router.post(
    "/plan/end",
    operation_id="end_planning",
    responses=listed(*INSIDE, "role", "viewer", "bad_input", "offer_gone"),
)
def end_planning(request: Request, build: str, asked: Nothing) -> PlanOffered:
    """Look for no better plan: the best so far stands, and may be taken."""
    here = _planning(request, build)
    found = service(request).planner.end(build)
    if found is None:
        raise Refused("offer_gone")
    return _offered(here, found)


def _offered(here: Inside, found: Standing) -> PlanOffered:
    state, best = here.loaded.state, found.best.offer
    zone = zone_of(state.get(Build, "build").time_zone)
    titles = {task.id: task.plan.title for task in state.all(Task)}
    return PlanOffered(
        offer=found.best.id,
        finish=date_word(best.data["finish_ms"], zone),
        gates=[
            GateByPlan(
                gate=gate.id, name=gate.plan.name, by_plan=date_word(best.data["gates"][gate.id], zone)
            )
            for gate in sorted(state.all(Gate), key=lambda g: g.order)
            if gate.id in best.data["gates"]
        ],
        placed=len(best.data["blocks"]),
        unplaced=best.data["unplaced"],
        differences=[
            DifferenceLine(title=titles.get(one.task, one.task), **asdict(one)) for one in best.differences
        ],
        stays=best.stays,
        shifted=best.shifted,
        reasons=[WhyNotLine(**asdict(one)) for one in best.reasons],
        working=found.working,
        waiting=found.waiting,
        broke=found.broke,
        better_found=found.found,
    )


@router.get(
    "/lifts/{lift}/times",
    operation_id="lift_times",
    responses=listed(*INSIDE, "role", "viewer", "unknown", "no_days", "not_in_state"),
)
def lift_times(request: Request, build: str, lift: str) -> LiftTimes:
    """Find a time for a lift, in about a second: the best three, who, what must be done before, what each costs the finish."""
    here = _planning(request, build)
    at, row = service(request), here.loaded.state.get(Lift, lift)
    found = times(here.loaded.state, _hours(at, build), at.now_ms(), row, at.planner.times)
    return LiftTimes(
        lift=row.id,
        title=row.plan.title,
        offers=[_lift_time(here, one) for one in found.offers],
        reasons=[WhyNotLine(**asdict(one)) for one in found.reasons],
        all_days=found.all_days,
    )


@router.get(
    "/lifts/{lift}/times/{from_ms}",
    operation_id="lift_time",
    responses=listed(
        *INSIDE, "role", "viewer", "unknown", "no_days", "not_in_state", "time_gone", "bad_input"
    ),
)
def lift_time(request: Request, build: str, lift: str, from_ms: int) -> LiftTime:
    """One of the times for a lift once more, before it is called for then: as things stand now."""
    here = _planning(request, build)
    at, row = service(request), here.loaded.state.get(Lift, lift)
    return _lift_time(
        here, time_again(here.loaded.state, _hours(at, build), at.now_ms(), row, from_ms, at.planner.time_at)
    )


def _hours(at: Service, build: str) -> dict[str, Hours]:
    with at.database.read() as connection:
        return hours.of_build(connection, build)


def _lift_time(here: Inside, one: Time) -> LiftTime:
    state = here.loaded.state
    titles = {task.id: task.plan.title for task in state.all(Task)}
    gates = {gate.id: gate.plan.name for gate in state.all(Gate)}
    return LiftTime(
        from_ms=one.from_ms,
        to_ms=one.to_ms,
        people=one.people,
        cost_min=one.cost_min,
        before=[TaskName(task=task, title=titles.get(task, task)) for task in one.before],
        gates_late=[gates.get(gate, gate) for gate in one.gates_late],
    )
