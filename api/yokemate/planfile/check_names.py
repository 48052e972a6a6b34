"""Ids that stand twice, and references to what the plan does not hold; the nearest id is offered (R32)."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Plan, Step, TaskPlan
from yokemate.planfile.told import Told

_LISTS = (
    "skills", "options", "stages", "zones", "specs", "groups", "lifts", "loose_ends", "gates", "tools", "parts",
    "bags", "cuts", "wires", "belts", "follow_ups", "tasks",
)  # fmt: skip


def name_findings(plan: Plan, told: Told) -> None:
    for field in _LISTS:
        _twice(told, (field,), (entry.id for entry in getattr(plan, field)))
    ids = {field: [entry.id for entry in getattr(plan, field)] for field in _LISTS}

    def known(what: str, field: str, name: str | None, loc: Loc) -> None:
        if name is not None:
            told.unknown(what, name, ids[field], loc)

    for n, option in enumerate(plan.options):
        told.unknown("choice", option.default, [c.id for c in option.choices], ("options", n, "default"))
    for n, group in enumerate(plan.groups):
        known("spec", "specs", group.spec, ("groups", n, "spec"))
    for n, follow_up in enumerate(plan.follow_ups):
        known("spec", "specs", follow_up.spec, ("follow_ups", n, "spec"))
    for n, bag in enumerate(plan.bags):
        for m, held in enumerate(bag.holds):
            known("part", "parts", held.part, ("bags", n, "holds", m, "part"))
    for n, end in enumerate(plan.loose_ends):
        known("gate", "gates", end.gate, ("loose_ends", n, "gate"))
    for n, lift in enumerate(plan.lifts):
        _twice(told, ("lifts", n, "supports"), (s.id for s in lift.supports))
        for m, phase in enumerate(lift.phases):
            for name in phase.supports:
                loc = ("lifts", n, "phases", m, "supports")
                told.unknown("support", name, [s.id for s in lift.supports], loc)
        _phases_alike(told, n, [phase.say for phase in lift.phases])
        for name in lift.propped:
            known("loose end", "loose_ends", name, ("lifts", n, "propped"))
    _gates(plan, told, known)
    for n, task in enumerate(plan.tasks):
        _task(task, ("tasks", n), plan, told, known)


Known = Callable[[str, str, str | None, Loc], None]


def _twice(told: Told, loc: Loc, names: Iterable[str]) -> None:
    seen: set[str] = set()
    for index, name in enumerate(names):
        if name in seen:
            told.error(
                "id_twice", (*loc, index), f'the id "{name}" stands twice.', "Give one of them another id."
            )
        seen.add(name)


def _phases_alike(told: Told, lift: int, said: list[str]) -> None:
    """Shares and verdicts name a phase by its words, on screens and in entries."""
    for m, words in enumerate(said):
        if words in said[:m]:
            told.error(
                "phase_twice",
                ("lifts", lift, "phases", m, "say"),
                f'two phases say "{words}".',
                "Give each its own words, in the order in which they come.",
            )


def _gates(plan: Plan, told: Told, known: Known) -> None:
    for n, gate in enumerate(plan.gates):
        for m, standing in enumerate(gate.standing):
            loc: Loc = ("gates", n, "standing", m)
            said = [name for name, value in standing if value is not None]
            if len(said) != 1:
                told.error(
                    "one_condition",
                    loc,
                    "a standing condition says exactly one thing.",
                    "Make one entry of each.",
                )
            known("task", "tasks", standing.task_closed, (*loc, "task_closed"))
            known("task", "tasks", standing.lag_over, (*loc, "lag_over"))
            known("gate", "gates", standing.gate_open, (*loc, "gate_open"))
        for name in gate.guards:
            known("task", "tasks", name, ("gates", n, "guards"))


def _task(task: TaskPlan, loc: Loc, plan: Plan, told: Told, known: Known) -> None:
    known("stage", "stages", task.stage, (*loc, "stage"))
    known("zone", "zones", task.zone, (*loc, "zone"))
    known("skill", "skills", task.lead_skill, (*loc, "lead_skill"))
    known("lift", "lifts", task.lift, (*loc, "lift"))
    for m, after in enumerate(task.after):
        known("task", "tasks", after.task, (*loc, "after", m, "task"))
    for name in task.tools:
        known("tool", "tools", name, (*loc, "tools"))
    for m, uses in enumerate(task.uses):
        known("part", "parts", uses.part, (*loc, "uses", m, "part"))
    for name in task.gives:
        known("part", "parts", name, (*loc, "gives"))
    for name in task.bags:
        known("bag", "bags", name, (*loc, "bags"))
    choices = {option.id: [c.id for c in option.choices] for option in plan.options}
    for option, choice in task.when.items():
        known("option", "options", option, (*loc, "when"))
        if option in choices:
            told.unknown("choice", choice, choices[option], (*loc, "when", option))
    _twice(told, (*loc, "steps"), (step.id for step in task.steps))
    for m, step in enumerate(task.steps):
        _step(step, (*loc, "steps", m), known)


def _step(step: Step, loc: Loc, known: Known) -> None:
    known("bolt group", "groups", step.group, (*loc, "group"))
    known("cut list", "cuts", step.cut, (*loc, "cut"))
    known("part", "parts", step.part, (*loc, "part"))
    known("bag", "bags", step.bag, (*loc, "bag"))
    for name in step.opens:
        known("loose end", "loose_ends", name, (*loc, "opens"))
    for name in step.puts_back:
        known("loose end", "loose_ends", name, (*loc, "puts_back"))
