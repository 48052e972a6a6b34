"""Importing this fills the registries: commands, decisions, entries, views."""

from yokemate.rules import apply, commands, decide, views

__all__ = ["apply", "commands", "decide", "views"]
