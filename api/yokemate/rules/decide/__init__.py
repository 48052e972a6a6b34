"""What may be: one file per subject, one function per command. Importing this registers them all."""

from yokemate.rules.decide import (
    checks,
    corrections,
    crew,
    gates,
    hazards,
    lift_call,
    lifts,
    loose_ends,
    notes,
    plan,
    proposals,
    stores,
    task_steps,
    tasks,
    torque,
    undo,
)

__all__ = [
    "checks",
    "corrections",
    "crew",
    "gates",
    "hazards",
    "lift_call",
    "lifts",
    "loose_ends",
    "notes",
    "plan",
    "proposals",
    "stores",
    "task_steps",
    "tasks",
    "torque",
    "undo",
]
