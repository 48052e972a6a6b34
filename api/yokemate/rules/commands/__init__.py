"""Every command there is: one frozen model per command, one file per subject. Importing this fills the registry.

A field that holds free words or a photo is named `..._text` / `photo`: before `decide` sees it, `handle` stores the
body as a payload and puts its id there, so that entries hold only salted digests of it (R1).
"""

from yokemate.rules.commands import crew, days, gates, hazards, lifts, notes, plan, stores, tasks, torque

__all__ = ["crew", "days", "gates", "hazards", "lifts", "notes", "plan", "stores", "tasks", "torque"]
