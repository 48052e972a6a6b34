"""Refusals of the subject: tasks."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {}
