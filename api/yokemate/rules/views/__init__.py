"""What screens ask: prepared answers from rows, a viewer and the clock. Importing this registers them all."""

from yokemate.rules.views import (
    checks,
    coming,
    days,
    gates,
    lifts,
    loose_ends,
    plan,
    queue,
    stores,
    torque,
    undo,
)

__all__ = [
    "checks",
    "coming",
    "days",
    "gates",
    "lifts",
    "loose_ends",
    "plan",
    "queue",
    "stores",
    "torque",
    "undo",
]
