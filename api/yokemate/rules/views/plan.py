"""The plan: how far are we, what holds us up, who has what? And one task's waits, for its own screen."""

from __future__ import annotations

from yokemate.rules.availability import availability, comes_before
from yokemate.rules.deviations import left_out_unaccepted
from yokemate.rules.frame import State
from yokemate.rules.hazard_pairs import clashes_with
from yokemate.rules.hold_points import held_by
from yokemate.rules.presence import crew_changes_ms
from yokemate.rules.queue import rank, remaining, weights
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Build, Member, Task
from yokemate.rules.standing import gates_in_order, wants_to_open
from yokemate.rules.take_along import sockets_for, threads_of
from yokemate.rules.taking import must_wait, not_now, people_on, tag_hangs, who_is_missing
from yokemate.rules.views.cards import Card, CardState, Wanted, card, say_wait
from yokemate.rules.views.frame import NoParams, View, Viewer, ViewPart, view
from yokemate.rules.views.queue import not_for, why
from yokemate.rules.views.saying import Saying, saying


class Mark(ViewPart):
    task: str
    title: str
    state: CardState
    holder: str | None


class StageLine(ViewPart):
    stage: str
    name: str
    marks: list[Mark]
    closed: int


class GateLine(ViewPart):
    gate: str
    name: str
    state: str
    wants: int


class PlanView(View):
    stages: list[StageLine]
    gates: list[GateLine]
    holding_up: list[Card]
    taken: list[Card]


@view("plan", "/plan", NoParams, PlanView)
def plan(state: State, viewer: Viewer, params: NoParams) -> PlanView:
    """Stages with their tasks in working order, gates, what holds the crew up, who has what."""
    now = viewer.now_ms
    build = state.get(Build, "build")
    tasks = sorted(state.all(Task), key=lambda t: t.order)
    cards = {
        t.id: card(state, t, availability(state, t, now) if t.state == "open" else None, None) for t in tasks
    }
    weight = weights(state)
    heavy = sorted(
        (t for t in remaining(state) if t.id in weight and t.state in ("open", "taken")),
        key=lambda t: rank(t, weight[t.id], suits=True, zone=None),
    )
    ready = [t for t in heavy if t.state == "taken" or cards[t.id].state in ("ready", "ready_undone")]
    stages = []
    for stage in build.stages:
        marks = [
            Mark(task=t.id, title=t.plan.title, state=cards[t.id].state, holder=t.holder)
            for t in tasks
            if t.plan.stage == stage.id and not t.retired
        ]
        stages.append(
            StageLine(
                stage=stage.id, name=stage.name, marks=marks, closed=sum(m.state == "closed" for m in marks)
            )
        )
    return PlanView(
        as_of_ms=now,
        stages=stages,
        gates=[
            GateLine(
                gate=g.id,
                name=g.plan.name,
                state=g.state,
                wants=0 if g.state == "open" else len(wants_to_open(state, g, now)),
            )
            for g in gates_in_order(state)
        ],
        holding_up=[
            cards[t.id].model_copy(update={"reason": why(state, t, weight[t.id])}) for t in ready[:5]
        ],
        taken=[cards[t.id] for t in tasks if t.state == "taken"],
    )


class TaskParams(ViewPart):
    task: str


class Beside(ViewPart):
    """In words: `at_it` follows the name ("is under the car"), `waits` is what waits until that is over."""

    person: str
    at_it: str
    waits: str


class SocketFits(ViewPart):
    size: str  # with its unit: "16 mm"
    standard: str  # heads and nuts that take it


class SocketsFor(ViewPart):
    """Sockets to take along for one thread. Without any the head has to be measured."""

    thread: str
    sockets: list[SocketFits]


class TaskView(View):
    card: Card
    waits: list[Wanted]  # what it waits for; of a signed task that was released out of order: to close (R5)
    ready_at_ms: int | None
    # Why nobody can go on, or begin, just now: who is missing or not here, a tag, a gate that shut (R7, R8, R25 to R28).
    paused: Saying | None
    beside: list[Beside]  # work of others that this may not run beside (R27)
    sockets: list[SocketsFor]


@view("task", "/tasks/{task}/view", TaskParams, TaskView)
def task_view(state: State, viewer: Viewer, params: TaskParams) -> TaskView:
    """Why not yet, in one list; who is missing; what may not run beside it; which sockets to take along."""
    task = state.get(Task, params.task)
    found = availability(state, task, viewer.now_ms)
    is_open = task.state == "open"
    reader = state.find(Member, viewer.person)
    mine = not_for(task, reader) if is_open and reader is not None else None
    early = comes_before(state, task) if task.state == "done" and task.released is not None else []
    ends = [crew_changes_ms(state, viewer.now_ms), found.ready_at_ms if is_open else None]
    return TaskView(
        as_of_ms=viewer.now_ms,
        valid_until_ms=min((ms for ms in ends if ms is not None), default=None),
        card=card(state, task, found if is_open else None, None, not_for_me=mine),
        waits=[say_wait(state, task, wait) for wait in (found.waits if is_open else early)],
        ready_at_ms=found.ready_at_ms,
        paused=_paused(state, task, viewer),
        beside=[
            Beside(person=c.person, at_it=c.at_it, waits=c.waits)
            for c in clashes_with(state, list(task.plan.hazards), viewer.person, task.id)
        ],
        sockets=[
            SocketsFor(
                thread=thread,
                sockets=[SocketFits(size=s.size, standard=s.standard) for s in sockets_for(thread)],
            )
            for thread in threads_of(state, task)
        ],
    )


def _left_out_hold(state: State, task: Task, now_ms: int) -> Refused | None:
    """A hold step that was left out is nobody's next step, and yet nothing goes on behind it before the yes (R5)."""
    hold = held_by(state, task, task.plan.steps[-1])
    return left_out_unaccepted(state, task, hold, now_ms) if hold is not None else None


def _paused(state: State, task: Task, viewer: Viewer) -> Saying | None:
    why_not: Refused | None = None
    if task.state == "taken" and task.holder is not None:
        person = viewer.person if viewer.person in people_on(task) else task.holder
        why_not = who_is_missing(state, task) or must_wait(state, task, person, viewer.now_ms)
        why_not = why_not or tag_hangs(state, task) or _left_out_hold(state, task, viewer.now_ms)
    elif task.state == "open":
        why_not = tag_hangs(state, task) or not_now(state, task, viewer.person, viewer.now_ms)
        # What goes on beside it stands in `beside`, with all who are at it.
        why_not = None if why_not is not None and why_not.code == "hazard_clash" else why_not
    return saying(why_not.code, why_not.params) if why_not is not None else None
