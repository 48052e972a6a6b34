"""What one refusal is made of."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Refusal:
    """`says`: what is, in plain words; `way_on`: what to do now. Both are templates (see package doc)."""

    status: int
    rule: str
    says: str
    way_on: str = ""
