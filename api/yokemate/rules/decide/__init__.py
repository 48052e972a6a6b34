"""What may be: one file per subject, one function per command. Importing this registers them all."""

from yokemate.rules.decide import gates, lift_call, lifts, loose_ends, proposals

__all__ = ["gates", "lift_call", "lifts", "loose_ends", "proposals"]
