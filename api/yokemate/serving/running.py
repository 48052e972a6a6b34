"""Servers: the service itself until it is stopped, and a small one beside it."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from starlette.types import ASGIApp

from yokemate.app import Server, make_app
from yokemate.routes.service import Service
from yokemate.serving.tls import Say

KEPT_S = (
    75  # an idle phone's connection; uvicorn's five seconds mean a new TLS handshake for nearly every touch
)


@contextmanager
def listening(host: str, port: int, option: str) -> Iterator[socket.socket]:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        opened = socket.create_server((host, port), family=family)
    except OSError as error:
        raise ValueError(
            f"{host}:{port} can't be listened at: {error.strerror}. Choose another {option}."
        ) from None
    with opened:
        yield opened


@contextmanager
def beside(app: ASGIApp, opened: socket.socket) -> Iterator[None]:
    """A small second server in a thread, for as long as the first one runs."""
    config = uvicorn.Config(
        app, log_level="error", access_log=False, server_header=False, proxy_headers=False, lifespan="off"
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [opened]}, daemon=True)
    thread.start()
    try:
        yield
    finally:
        server.should_exit = True
        thread.join(5)


def run(at: Service, host: str, port: int, say: Say, **more: object) -> None:
    """The service itself, until it is stopped. Forwarded headers count only where a proxy was named."""
    say("Stop with Ctrl-C.")
    wanted: dict[str, object] = {"proxy_headers": False} | more
    config = uvicorn.Config(
        make_app(at),
        host=host,
        port=port,
        log_level="warning",
        access_log=False,
        timeout_graceful_shutdown=3,
        server_header=False,
        timeout_keep_alive=KEPT_S,
        **wanted,  # type: ignore[arg-type]
    )
    Server(config, at).run()
