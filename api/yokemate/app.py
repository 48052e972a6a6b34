"""The service put together; and a server that ends its event streams before it stops."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from socket import socket

import uvicorn
from fastapi import FastAPI

from yokemate import __version__, handle
from yokemate.live import Beats, Hub
from yokemate.planner import Planner
from yokemate.routes import (
    address,
    bench,
    commands,
    crew,
    days,
    demo,
    document,
    events,
    feeds,
    health,
    hours,
    joining,
    me,
    papers,
    plan,
    problems,
    record,
    sync,
    tablet,
    views,
    web,
)
from yokemate.routes.guard import Guard
from yokemate.routes.service import DemoPerson, Service
from yokemate.settings import Settings
from yokemate.store.engine import Database
from yokemate.store.migrate import migrate
from yokemate.store.notices import Listener

ABOUT = (
    "A crew's shared job card, torque record and lift plan for building one car together. Every change is "
    "a command with a route of its own; refusals are problem details (RFC 9457) with the rule and the way "
    "on. Requests that change something carry `Content-Type: application/json` and `X-Yokemate: 1`."
)


def make_service(settings: Settings, demo_crew: Sequence[DemoPerson] = ()) -> Service:
    """The parts of one process, on a database brought up to date."""
    database = Database(settings.database_url)
    migrate(database)
    hub, beats, planner = Hub(), Beats(settings.clock), Planner(database)
    handler = handle.new(
        database,
        settings.secret,
        settings.clock,
        settings.argon2_memory_kib,
        poke=hub.poke,
        alive=beats.alive,
    )
    return Service(settings, database, handler, hub, beats, planner, list(demo_crew))


def make_app(at: Service) -> FastAPI:
    @asynccontextmanager
    async def running(_app: FastAPI) -> AsyncIterator[None]:
        listener = _listener(at)
        try:
            yield
        finally:
            at.hub.close()
            at.planner.close()
            if listener is not None:
                listener.stop()
            at.database.close()

    app = FastAPI(
        title="Yokemate",
        version=__version__,
        description=ABOUT,
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=running,
        separate_input_output_schemas=False,
        redirect_slashes=False,
    )
    app.state.service = at
    problems.install(app)
    # A request is held against the routes one after the other: what phones ask all day stands first.
    for asked_all_day in (health.router, sync.router, events.router, views.router()):
        app.include_router(asked_all_day)
    for subject in (
        address,
        me,
        joining,
        plan,
        crew,
        days,
        hours,
        feeds,
        papers,
        record,
        tablet,
        demo,
        bench,
    ):
        app.include_router(subject.router)
    app.include_router(commands.router())
    app.include_router(web.router)
    app.add_middleware(Guard)
    document.install(app)
    return app


def _listener(at: Service) -> Listener | None:
    """PostgreSQL may serve several processes: each hears of the others' heads and beats."""
    if at.database.sqlite:
        return None

    def on_head(build: str) -> None:
        loaded = at.handler.states.current(build)
        if loaded is not None:
            at.hub.poke(build, loaded)

    def on_link() -> None:
        for build in at.hub.watched():
            on_head(build)

    listener = Listener(at.database, on_head, at.beats.beat, on_link, at.hub.poke_beside)
    listener.start()
    return listener


class Server(uvicorn.Server):
    """Open event streams would hold a stopping server for ever: they are ended first."""

    def __init__(self, config: uvicorn.Config, at: Service) -> None:
        super().__init__(config)
        self._at = at

    async def shutdown(self, sockets: list[socket] | None = None) -> None:
        self._at.hub.close()
        self._at.planner.close()
        await super().shutdown(sockets)
