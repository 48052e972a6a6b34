"""What an entry changes: one file per subject, one function per kind of entry. No clock, no refusing."""

from yokemate.rules.apply import checks, gates, lifts, loose_ends, proposals, stores, torque, undo

__all__ = ["checks", "gates", "lifts", "loose_ends", "proposals", "stores", "torque", "undo"]
