"""The one path of every change: from a REST route, a phone's outbox, the command line or a test."""

from yokemate.handle.path import Handler, new
from yokemate.handle.shapes import Actor, Answer, Envelope, OtherBody, RuleFault
from yokemate.rules import all as registries

__all__ = ["Actor", "Answer", "Envelope", "Handler", "OtherBody", "RuleFault", "new", "registries"]
