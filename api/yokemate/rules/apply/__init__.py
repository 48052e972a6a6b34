"""What an entry changes: one file per subject, one function per kind of entry. No clock, no refusing."""

from yokemate.rules.apply import gates, lifts, loose_ends, proposals

__all__ = ["gates", "lifts", "loose_ends", "proposals"]
