"""Collects what a check finds, each with its place in the plan and the words for it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from yokemate.planfile.findings import Finding, Loc, nearest, words
from yokemate.planfile.model import Plan


class Told:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan  # the whole plan, as written
        self.findings: list[Finding] = []

    def error(self, code: str, loc: Loc, says: str, remedy: str) -> None:
        self._add("error", code, loc, says, remedy)

    def doubt(self, code: str, loc: Loc, says: str, remedy: str, source: str = "") -> None:
        self._add("doubt", code, loc, says, remedy, source)

    def unknown(self, what: str, name: str, known: Iterable[str], loc: Loc) -> None:
        """A reference to something that the plan does not hold."""
        pool = list(known)
        if name not in pool:
            remedy = nearest(name, pool) or f"Add the {what}, or take the reference away."
            self.error("unknown_reference", loc, f'there is no {what} "{name}".', remedy)

    def at(self, field: str, name: str) -> Loc:
        """Where in the whole plan the entry with this id stands."""
        for index, entry in enumerate(getattr(self.plan, field)):
            if entry.id == name:
                return (field, index)
        return (field,)

    def _add(
        self, level: Literal["error", "doubt"], code: str, loc: Loc, says: str, remedy: str, source: str = ""
    ) -> None:
        field = words(self.plan, loc)
        self.findings.append(Finding(level, code, loc, field, says, remedy, source=source))
