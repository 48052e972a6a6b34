"""How a prepared answer is registered. Pure; nothing here changes a row.

A view function gets the state, the viewer and its parameters and returns a `View`. `valid_until_ms` says when the
answer may change although no entry came (a cure that ends, a roll call that grows old): the cache key and the ETag
are (build, head, viewer, window).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict

from yokemate.rules.frame import EVERYBODY, Facts, Role, State


class ViewPart(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class View(ViewPart):
    """Base of every prepared answer."""

    as_of_ms: int
    valid_until_ms: int | None = None


NOTHING_KNOWN = Facts()


class NoParams(ViewPart):
    """A view without parameters."""


@dataclass(frozen=True)
class Viewer:
    """For whom an answer is prepared. `facts` as in deciding, for this viewer only (R21)."""

    person: str
    role: Role
    now_ms: int
    facts: Facts = NOTHING_KNOWN


@dataclass(frozen=True)
class ViewSpec:
    name: str
    path: str  # below /api/builds/{build}; {fields} and query parameters name fields of `params`
    params: type[BaseModel]
    answer: type[View]
    who: frozenset[Role]
    says: str
    fn: Callable[[State, Viewer, Any], View]
    wants_hours: bool = False  # `viewer.facts.hours` is filled in


VIEWS: dict[str, ViewSpec] = {}
V = TypeVar("V", bound=View)
P = TypeVar("P", bound=BaseModel)


def view(
    name: str,
    path: str,
    params: type[P],
    answer: type[V],
    *,
    who: frozenset[Role] = EVERYBODY,
    wants_hours: bool = False,
) -> Callable[[Callable[[State, Viewer, P], V]], Callable[[State, Viewer, P], V]]:
    """Register a prepared answer; the function's docstring's first line is shown in the REST document."""

    def register(fn: Callable[[State, Viewer, P], V]) -> Callable[[State, Viewer, P], V]:
        if name in VIEWS:
            raise RuntimeError(f"view {name} registered twice")
        says = (fn.__doc__ or "").strip().splitlines()[0]
        VIEWS[name] = ViewSpec(name, path, params, answer, who, says, fn, wants_hours)
        return fn

    return register
