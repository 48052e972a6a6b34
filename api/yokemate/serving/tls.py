"""The service's side of TLS: its context, a certificate that was brought along, and looking at it again and again."""

from __future__ import annotations

import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

Say = Callable[[str], None]
LOOKS_EVERY_S = 600.0


def tls_context() -> ssl.SSLContext:
    """For the service's side of TLS 1.2 and later."""
    made = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    made.minimum_version = ssl.TLSVersion.TLSv1_2
    return made


@dataclass
class Brought:
    """HTTPS by a certificate and key that somebody brought, and renews: what is new is taken up while it runs."""

    certificate: Path
    key: Path
    say: Say
    context: ssl.SSLContext = field(default_factory=tls_context)
    _taken: tuple[int, ...] = ()

    def look(self) -> None:
        """ValueError when the files are no certificate with its key; what was taken up before then stays."""
        try:
            there = tuple(one.stat().st_mtime_ns for one in (self.certificate, self.key))
            if there == self._taken:
                return
            tls_context().load_cert_chain(
                self.certificate, self.key
            )  # a half that fails must not reach the other
            self.context.load_cert_chain(self.certificate, self.key)
        except OSError as error:
            raise ValueError(f"{self.certificate} with {self.key}: {error.strerror or error}") from error
        if self._taken:
            self.say(f"{self.certificate} changed, and is used from now on.")
        self._taken = there


@contextmanager
def again_and_again(look: Callable[[], object], say: Say, every_s: float = LOOKS_EVERY_S) -> Iterator[None]:
    """Look at certificate and addresses now and then; what goes wrong is said and tried again."""
    stopped = threading.Event()

    def looking() -> None:
        while not stopped.wait(every_s):
            try:
                look()
            except ValueError as why:
                say(str(why))

    thread = threading.Thread(target=looking, daemon=True)
    thread.start()
    try:
        yield
    finally:
        stopped.set()
        thread.join(5)
