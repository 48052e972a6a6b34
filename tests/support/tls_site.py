"""The service over a garage's own HTTPS, as `serve` makes it: authority, certificate and a name on the network."""

from __future__ import annotations

import gc
import ssl
import warnings
from dataclasses import dataclass, field
from pathlib import Path

from yokemate.app import make_service
from yokemate.certificates.files import Kept
from yokemate.settings import Settings, sqlite_url

from . import web_app
from .phones import shared_app
from .server import Running
from .service import CHEAP_KIB, SECRET
from .tls_phones import TlsPhone

NAME = "yokemate.local"
FOREIGN = "bank.example"  # leads here too, and is nobody's


@dataclass
class Site:
    """The service over its own HTTPS, which tests stop and start again at the same port."""

    folder: Path
    kept: Kept
    port: int = 0
    running: Running | None = None
    phones: list[TlsPhone] = field(default_factory=list)

    def start(self) -> None:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(self.kept.file)
        settings = Settings(
            sqlite_url(self.folder), SECRET, argon2_memory_kib=CHEAP_KIB, web_folder=web_app.built()
        )
        service = make_service(settings)
        self.running = Running(service, self.port, shared_app(service), context)
        self.running.start()
        self.port = self.running.port

    def stop(self) -> None:
        if self.running is not None:
            self.running.stop()
        self.running = None
        with warnings.catch_warnings():
            # asyncio leaves open what was still shaking hands when its loop ended; a browser connects ahead of need.
            warnings.simplefilter("ignore", ResourceWarning)
            gc.collect()

    def at(self, host: str) -> str:
        return f"https://{host}:{self.port}"
