"""The one path of every change, whether it comes from a REST route, a phone's outbox, the command line or a test."""

import importlib
import pkgutil

from yokemate.handle.path import Handler, new
from yokemate.handle.shapes import Actor, Answer, Envelope, OtherBody, RuleFault
from yokemate.rules import apply, commands, decide, views

for _room in (commands, apply, decide, views):
    for _subject in pkgutil.iter_modules(_room.__path__, f"{_room.__name__}."):
        importlib.import_module(_subject.name)  # each subject registers itself

__all__ = ["Actor", "Answer", "Envelope", "Handler", "OtherBody", "RuleFault", "new"]
