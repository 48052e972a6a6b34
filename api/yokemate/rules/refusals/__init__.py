"""The closed list of refusals: code, HTTP status, rule, the sentence and the way on.

Sentences are templates. The rules know people by opaque ids only (R1), so a parameter whose name ends in
`person` holds a person id, in `people` a list of them, and in `_ms` a moment; whoever shows the sentence puts
in names and local times (`routes/problems.py`, the phone). One file per subject, merged here.
"""

from __future__ import annotations

from typing import Any

from yokemate.rules.refusals import common, crew, days, door, gates, hazards, lifts, tasks, torque
from yokemate.rules.refusals.shape import Refusal

REFUSALS: dict[str, Refusal] = {}
for _part in (common, door, crew, tasks, hazards, torque, lifts, gates, days):
    for _code, _refusal in _part.LIST.items():
        if _code in REFUSALS:
            raise RuntimeError(f"refusal {_code} listed twice")
        REFUSALS[_code] = _refusal


class Refused(Exception):
    """An ask that may not be. Raised by rules only, with a code of the closed list."""

    def __init__(self, code: str, **params: Any) -> None:
        super().__init__(code)
        self.refusal = REFUSALS[code]
        self.code = code
        self.params = params
