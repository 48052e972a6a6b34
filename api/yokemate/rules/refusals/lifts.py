"""Refusals of the subject: lifts."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {}
