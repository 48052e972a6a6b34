"""What may be: one file per subject, one function per command. Importing this registers them all."""

from yokemate.rules.decide import (
    checks,
    corrections,
    gates,
    lift_call,
    lifts,
    loose_ends,
    proposals,
    stores,
    torque,
    undo,
)

__all__ = [
    "checks",
    "corrections",
    "gates",
    "lift_call",
    "lifts",
    "loose_ends",
    "proposals",
    "stores",
    "torque",
    "undo",
]
