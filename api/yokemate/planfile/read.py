"""A plan file's text → Plan, or findings that say line, field, what is wrong and the remedy. Nothing half read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from pydantic import ValidationError

from yokemate.planfile.findings import Finding
from yokemate.planfile.model import FORMAT, Plan
from yokemate.planfile.shape import finding_of
from yokemate.planfile.tree import Node, NotReadable, parse, plain, position


@dataclass(frozen=True)
class Reading:
    """`plan` is None exactly when `findings` holds an error."""

    plan: Plan | None
    findings: list[Finding]
    root: Node | None = None

    def located(self, findings: Iterable[Finding]) -> list[Finding]:
        """The same findings with line and column of this text."""
        if self.root is None:
            return list(findings)
        placed: list[Finding] = []
        for found in findings:
            line, column = position(self.root, found.loc)
            placed.append(replace(found, line=line, column=column))
        return placed


def read(text: str) -> Reading:
    """Read one plan. Numbers stay as written: `44`, `"44"` and `44.0` give "44", "44" and "44.0" (R16)."""
    try:
        root, twice = parse(text)
    except NotReadable as problem:
        return Reading(None, [problem.finding])
    data = plain(root)
    if not isinstance(data, dict):
        says = "it is not a plan: names with values are missing at the top."
        found = Finding(
            "error",
            "not_readable",
            (),
            "the plan file",
            says,
            f"Begin with `format: {FORMAT}`.",
            root.line,
            1,
        )
        return Reading(None, [found])
    findings = list(twice)
    shape: list[Finding] = []
    if data.get("format") != FORMAT:
        said = data.get("format")
        says = f"this file says {said!r}." if said else "this file does not say which format it has."
        shape.append(
            Finding(
                "error",
                "wrong_format",
                ("format",),
                "format",
                says,
                f"The first line must be `format: {FORMAT}`.",
            )
        )
    plan: Plan | None = None
    try:
        plan = Plan.model_validate({**data, "format": FORMAT})
    except ValidationError as problem:
        shape += [finding_of(error, data) for error in problem.errors(include_url=False)]
    reading = Reading(None, [], root)
    findings += reading.located(shape)
    findings.sort(key=lambda f: (f.line or 0, f.column or 0))
    return Reading(plan if not findings else None, findings, root)
