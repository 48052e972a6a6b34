"""What may happen to a build, and what follows when it does: commands, entries, `decide`, `apply`, refusals, the queue.

Pure: the time, the person and every outside fact are arguments. `decide` may compute; `apply` only records what an
entry already says, so that replaying an old ledger never changes history. Imports `units` and `calc` only.
"""
