"""A service that really listens: for event streams, shutting down, and browsers."""

from __future__ import annotations

import socket
import ssl
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from fastapi import FastAPI

from yokemate.app import Server, make_app
from yokemate.routes.service import Service


class Running:
    """One server in a thread of this process."""

    def __init__(
        self,
        service: Service,
        port: int = 0,
        app: FastAPI | None = None,
        tls: ssl.SSLContext | None = None,
    ) -> None:
        self.service = service
        self._socket = socket.create_server(("127.0.0.1", port))
        # asyncio does so for sockets of its own making; without it each answer waits 40 ms for an acknowledgement.
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.port = int(self._socket.getsockname()[1])
        self.url = f"{'https' if tls else 'http'}://127.0.0.1:{self.port}"
        config = uvicorn.Config(
            app or make_app(service),
            log_level="error",
            access_log=False,
            timeout_graceful_shutdown=3,
            timeout_keep_alive=120,  # a client may send just when an idle connection is closed; here none is
            ssl_context_factory=(lambda _config, _made: tls) if tls else None,
        )
        self._server = Server(config, service)
        self._thread = threading.Thread(
            target=self._server.run, kwargs={"sockets": [self._socket]}, daemon=True
        )

    def start(self) -> None:
        self._thread.start()
        deadline = time.monotonic() + 20
        while not self._server.started:
            if time.monotonic() > deadline or not self._thread.is_alive():
                raise RuntimeError("the server did not start")
            time.sleep(0.01)

    def stop(self) -> float:
        """Stop it; how many seconds that took."""
        began = time.monotonic()
        self._server.should_exit = True
        self._thread.join(20)
        self._socket.close()
        assert not self._thread.is_alive(), "the server did not stop"
        return time.monotonic() - began


@contextmanager
def running(service: Service, app: FastAPI | None = None) -> Iterator[Running]:
    """`app`: one made before, since making its routes takes longer than most tests."""
    server = Running(service, app=app)
    server.start()
    try:
        yield server
    finally:
        server.stop()
