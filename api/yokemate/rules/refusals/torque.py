"""Refusals of the subject: torque."""

from yokemate.rules.refusals.shape import Refusal

LIST: dict[str, Refusal] = {}
