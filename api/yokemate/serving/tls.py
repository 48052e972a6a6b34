"""The service's side of TLS: its context, a certificate that was brought along, and looking at it again and again."""

from __future__ import annotations

import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509

Say = Callable[[str], None]
LOOKS_EVERY_S = 600.0
ENDS_SOON = timedelta(days=21)  # of a certificate that was brought: three build days ahead of it


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
    names: tuple[str, ...] = ()  # host names it is for
    ends: datetime | None = None
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
            self._read()
        except OSError as error:
            raise ValueError(f"{self.certificate} with {self.key}: {error.strerror or error}") from error
        if self._taken:
            self.say(f"{self.certificate} changed, and is used from now on.")
        self._taken = there

    def _read(self) -> None:
        read = x509.load_pem_x509_certificate(
            self.certificate.read_bytes()
        )  # the first of a chain is the service's own
        self.ends = read.not_valid_after_utc
        try:
            said = read.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        except x509.ExtensionNotFound:
            self.names = ()
        else:
            self.names = tuple(said.get_values_for_type(x509.DNSName))

    def warning(self, now: datetime) -> str | None:
        """That it ends soon, or ended: nothing renews it here."""
        if self.ends is None or self.ends - now > ENDS_SOON:
            return None
        ends = "ended" if self.ends <= now else "ends"
        return (
            f"The certificate {self.certificate} {ends} on {self.ends:%Y-%m-%d}: then no phone connects any more. "
            "Renew it and put it in its place; it is taken up while the service runs."
        )


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
