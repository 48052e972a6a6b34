"""What an entry changes: one file per subject, one function per kind of entry. No clock, no refusing."""

from yokemate.rules.apply import (
    checks,
    crew,
    days,
    gates,
    hazards,
    lifts,
    loose_ends,
    notes,
    plan,
    proposals,
    stores,
    tasks,
    torque,
    undo,
)

__all__ = [
    "checks",
    "crew",
    "days",
    "gates",
    "hazards",
    "lifts",
    "loose_ends",
    "notes",
    "plan",
    "proposals",
    "stores",
    "tasks",
    "torque",
    "undo",
]
