"""Refusals of the subject: hazards."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {}
