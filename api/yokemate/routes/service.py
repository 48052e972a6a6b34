"""The running service as routes see it: its parts, put together by `app`."""

from __future__ import annotations

from dataclasses import dataclass, field

from fastapi import Request

from yokemate.handle import Handler
from yokemate.live import Beats, Hub
from yokemate.planner import Planner
from yokemate.settings import Reach, Settings
from yokemate.store.engine import Database


@dataclass(frozen=True)
class DemoPerson:
    """Somebody of the demo's crew whom a visitor may pick; in the demo PINs are no secret."""

    person: str
    name: str
    role: str
    second: str
    pin: str


@dataclass
class Service:
    settings: Settings
    database: Database
    handler: Handler
    hub: Hub
    beats: Beats
    planner: Planner
    demo_crew: list[DemoPerson] = field(default_factory=list)
    reach: Reach = field(default_factory=Reach)  # changes while it runs, when the machine's addresses do

    def now_ms(self) -> int:
        return self.settings.clock()


def service(request: Request) -> Service:
    found = request.app.state.service
    assert isinstance(found, Service)
    return found
