"""What the tests of this room stand on."""

from support.databases import service

__all__ = ["service"]
