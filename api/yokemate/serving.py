"""Serving a crew: by which way phones reach the service, said on the terminal, and kept true while it runs.

Ways: HTTPS with this garage's own authority (what happens when nothing is said), with a certificate brought along, behind
a reverse proxy, or plain HTTP. There is no way from one to another but by saying so: what was asked for works, or
nothing is served.
"""

from __future__ import annotations

import io
import socket
import ssl
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

import segno
import uvicorn
from starlette.types import ASGIApp

from yokemate.app import Server, make_app
from yokemate.certificates import machine
from yokemate.certificates.announce import Announced, announce
from yokemate.certificates.files import AGAIN, Kept, keep
from yokemate.certificates.making import fingerprint
from yokemate.certificates.names import Address, Names
from yokemate.routes.address import moved
from yokemate.routes.join_page import join_page
from yokemate.routes.service import Service
from yokemate.settings import Reach

Say = Callable[[str], None]
LOOKS_EVERY_S = 600.0


@dataclass
class Brought:
    """HTTPS by a certificate and key that somebody brought, and renews: what is new is taken up while it runs."""

    certificate: Path
    key: Path
    say: Say
    context: ssl.SSLContext = field(default_factory=lambda: tls_context())
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


@dataclass
class Garage:
    """HTTPS by this garage's own authority. `look` again and again: it renews, and follows the machine's addresses."""

    at: Service
    data: Path
    called: Sequence[str]
    host: str
    port: int
    join_port: int
    say: Say
    new_authority: bool = False
    announces: bool = False
    names_now: Callable[[list[str]], Names] = machine.names
    announced: Announced | None = None
    context: ssl.SSLContext = field(default_factory=lambda: tls_context())
    kept: Kept | None = None
    _said: set[str] = field(default_factory=set)
    _announced_at: list[Address] = field(default_factory=list)

    def look(self) -> Kept:
        """See to the certificate; what changed is said, and takes effect for the next connection."""
        before = self.kept
        now = datetime.fromtimestamp(self.at.now_ms() / 1000, UTC)
        try:
            kept = keep(
                self.data,
                self.called,
                self.names_now(list(self.called)),
                now,
                new_authority=self.new_authority,
            )
        except OSError as error:
            raise ValueError(
                f"HTTPS can't be had: {error}. Mend that, or say --plain if plain HTTP is what you want."
            ) from error
        self.new_authority, self.kept = False, kept
        if kept.renewed and not kept.new_authority and before is None:
            self.say(f"Certificate made anew: {kept.renewed}.")
        if before is None or kept.renewed:
            self.context.load_cert_chain(kept.file)
        if before is not None and kept.renewed:
            self.say(f"Certificate made anew: {kept.renewed}. It is for {kept.names}.")
        self._once(*kept.warnings)
        for name in kept.left_out.dns:
            self._once(
                f"Not in the certificate: {name}, which what the phones trust does not speak for. {AGAIN}"
            )
        if kept.left_out.addresses:
            out = Names(addresses=kept.left_out.addresses)
            self._once(f"Not in the certificate, since phones trust it for private addresses only: {out}")
        self._announce(self._listened(kept))
        self.at.reach = self._reach(kept)
        self._once(*left_behind(self.at))
        return kept

    def _announce(self, listened: list[Address]) -> None:
        """Answer to the name on every network that the machine is on now; tried again when it could not be had."""
        name = next((one for one in self.called if one.endswith(".local")), None)
        if name is None or not self.announces or (self.announced and listened == self._announced_at):
            return
        self.close()
        try:
            self.announced, self._announced_at = announce(name, listened, self.port), listened
        except ValueError as why:
            self._once(f"{why} Phones use the address instead.")

    def close(self) -> None:
        if self.announced is not None:
            self.announced.close()
        self.announced = None

    def _reach(self, kept: Kept) -> Reach:
        known = at_port("https", [*kept.names.dns, *map(_host, kept.names.addresses)], self.port)
        lan = machine.lan_address()
        usable = [one for one in self._listened(kept) if one in kept.names.addresses]
        usable.sort(key=lambda one: (str(one) != lan, int(one)))
        public = self.at.settings.public_url
        names = [one for one in self.called if self.announced is not None or not one.endswith(".local")]
        addresses = at_port("https", [*names, *map(_host, usable[:3])], self.port)
        open_to = self._listened(kept)
        asked = next((one for one in open_to if str(one) == lan), open_to[0] if open_to else None)
        return Reach(
            addresses=tuple([public.rstrip("/"), *addresses] if public else addresses),
            origins=frozenset([*known, *([origin(public)] if public else [])]),
            join_page=f"http://{_host(asked)}:{self.join_port}" if asked else None,
            fingerprint=fingerprint(kept.authority),
            authority=_common_name(kept),
            warnings=kept.warnings,
        )

    def _listened(self, kept: Kept) -> list[Address]:
        """Of this machine's addresses on a network, those at which the service listens."""
        found = [one for one in (*kept.names.addresses, *kept.left_out.addresses) if not one.is_loopback]
        everywhere = ip_address(self.host)
        if everywhere.is_unspecified:
            return [one for one in found if one.version == everywhere.version and not one.is_link_local]
        return [one for one in found if one == everywhere]

    def _once(self, *sentences: str) -> None:
        for one in sentences:
            if one not in self._said:
                self._said.add(one)
                self.say(one)


def _common_name(kept: Kept) -> str:
    return next(part.value for part in kept.authority.subject if part.rfc4514_attribute_name == "CN")  # type: ignore[return-value]


def _host(address: object) -> str:
    return f"[{address}]" if ":" in str(address) else str(address)


def left_behind(at: Service) -> list[str]:
    """A sentence for each address that phones were enrolled at and that does not lead here any more."""
    return [
        f"{one.phones} phone(s) were enrolled at {one.origin}, which does not lead here any more. What they have not sent is "
        "still there: on the phone, *Still on this phone*, *Save it as a file*; then *Take in a file* at the new address."
        for one in moved(at)
    ]


def tls_context() -> ssl.SSLContext:
    """For the service's side of TLS 1.2 and later."""
    made = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    made.minimum_version = ssl.TLSVersion.TLSv1_2
    return made


def at_port(scheme: str, hosts: Iterable[str], port: int) -> list[str]:
    """Addresses as browsers write them: without the port that goes without saying."""
    ending = "" if port == {"http": 80, "https": 443}[scheme] else f":{port}"
    return [f"{scheme}://{host}{ending}" for host in hosts]


def origin(url: str) -> str:
    parts = urlsplit(url)
    return f"{parts.scheme}://{parts.netloc}".lower()


def serve_garage(garage: Garage) -> None:
    """Our own HTTPS, and the join page beside it. ValueError when it can't be had."""
    at, say = garage.at, garage.say
    with ExitStack() as stack:
        stack.callback(garage.close)
        kept = garage.look()
        joining = stack.enter_context(listening(garage.host, garage.join_port, "--join-port"))
        _say_garage(garage, kept)
        page = join_page(lambda: ((garage.kept or kept).authority, at.reach), at.settings.web_folder)
        stack.enter_context(beside(page, joining))
        stack.enter_context(again_and_again(garage.look, say))

        run(at, garage.host, garage.port, say, ssl_context_factory=lambda _config, _made: garage.context)


def _say_garage(garage: Garage, kept: Kept) -> None:
    say, reach = garage.say, garage.at.reach
    if kept.new_authority:
        say(f"Made this garage's own authority, {reach.authority}. Every phone must trust it once.")
    say(f"Fingerprint (SHA-256) of {reach.authority}, to compare with what a phone shows:")
    say(f"  {(reach.fingerprint or '')[:47]}\n  {(reach.fingerprint or '')[48:]}")
    say(f"On this machine: https://localhost:{garage.port}")
    for one in reach.addresses:
        say(f"On this network: {one}")
    if not reach.addresses:
        say("No phone can reach this machine: it has no private address, and its name is not announced.")
    if reach.join_page:
        say(f"A new phone opens this first: {reach.join_page}")
        say(qr(reach.join_page))


def serve_brought(at: Service, brought: Brought, host: str, port: int) -> None:
    """HTTPS with a certificate that somebody brought."""
    public, say = at.settings.public_url, brought.say
    brought.look()
    if public:
        at.reach = Reach(addresses=(public.rstrip("/"),), origins=frozenset({origin(public)}))
    _say_where("https", at, port, say)
    with again_and_again(brought.look, say):
        run(at, host, port, say, ssl_context_factory=lambda _config, _made: brought.context)


def serve_behind(at: Service, proxies: Sequence[str], host: str, port: int, say: Say) -> None:
    """Behind a reverse proxy that speaks HTTPS; forwarded headers are believed from the named addresses only."""
    public = at.settings.public_url
    assert public is not None
    at.reach = Reach(addresses=(public.rstrip("/"),), origins=frozenset({origin(public)}))
    say(
        f"Behind a proxy at {', '.join(proxies)}, which must speak HTTPS to phones and pass on to {host}:{port}."
    )
    _say_where("https", at, port, say)
    run(at, host, port, say, proxy_headers=True, forwarded_allow_ips=list(proxies))


def serve_plain(at: Service, host: str, port: int, say: Say) -> None:
    """Plain HTTP: the demo, or an explicit choice."""
    found = machine.names([])
    hosts = [*found.dns, *map(_host, found.addresses)]
    lan, public = machine.lan_address(), at.settings.public_url
    first = public.rstrip("/") if public else (at_port("http", [lan], port)[0] if lan else None)
    at.reach = Reach(
        addresses=(first,) if first else (),
        origins=frozenset([*at_port("http", hosts, port), *([origin(public)] if public else [])]),
    )
    _say_where("http", at, port, say)
    run(at, host, port, say)


def _say_where(scheme: str, at: Service, port: int, say: Say) -> None:
    for one in left_behind(at):
        say(one)
    say(f"On this machine: {scheme}://localhost:{port}")
    lan = machine.lan_address()
    there = (
        at.reach.addresses[0] if at.reach.addresses else (at_port(scheme, [lan], port)[0] if lan else None)
    )
    if there:
        say(f"On this network: {there}")
        say(qr(there))


def qr(address: str) -> str:
    """An address to scan off the terminal."""
    drawn = io.StringIO()
    segno.make(address, micro=False).terminal(out=drawn, compact=True, border=2)
    return drawn.getvalue().rstrip("\n")


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
        **wanted,  # type: ignore[arg-type]
    )
    Server(config, at).run()
