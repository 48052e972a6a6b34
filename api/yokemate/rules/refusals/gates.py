"""Refusals of the subject: gates."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {}
