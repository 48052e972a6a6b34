"""The ways of serving, one function each, and what the terminal says of them."""

from __future__ import annotations

import io
from collections.abc import Sequence
from contextlib import ExitStack
from datetime import UTC, datetime

import segno

from yokemate.certificates import machine
from yokemate.certificates.files import Kept
from yokemate.routes.join_page import join_page
from yokemate.routes.service import Service
from yokemate.serving.addresses import at_port, host_of, left_behind, origin
from yokemate.serving.garage import Garage
from yokemate.serving.running import beside, listening, run
from yokemate.serving.tls import Brought, Say, again_and_again
from yokemate.settings import Reach


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
    say = brought.say
    warned: set[str] = set()

    def look() -> None:
        brought.look()
        warning = brought.warning(datetime.fromtimestamp(at.now_ms() / 1000, UTC))
        at.reach = _reach_brought(at.settings.public_url, brought, port, warning)
        if warning and warning not in warned:
            say(warning)
            warned.add(warning)

    look()
    for one in left_behind(at):
        say(one)
    for one in at.reach.addresses:
        say(f"On this network: {one}")
    if at.reach.addresses:
        say(qr(at.reach.addresses[0]))
    else:
        say("The certificate names no host: say with --public-url at which address phones find this.")
    with again_and_again(look, say):
        run(at, host, port, say, ssl_context_factory=lambda _config, _made: brought.context)


def _reach_brought(public: str | None, brought: Brought, port: int, warning: str | None) -> Reach:
    """Phones take a certificate only under a name that it is for: never this machine's address."""
    names = [one for one in brought.names if not one.startswith("*.")]
    addresses = [public.rstrip("/")] if public else at_port("https", names, port)
    return Reach(
        addresses=tuple(addresses),
        origins=frozenset({origin(public)} if public else addresses),
        warnings=(warning,) if warning else (),
    )


def serve_behind(at: Service, proxies: Sequence[str], host: str, port: int, say: Say) -> None:
    """Behind a reverse proxy that speaks HTTPS; forwarded headers are believed from the named addresses only."""
    public = at.settings.public_url
    assert public is not None
    at.reach = Reach(addresses=(public.rstrip("/"),), origins=frozenset({origin(public)}))
    say(
        f"Behind a proxy at {', '.join(proxies)}, which must speak HTTPS to phones and pass on to {host}:{port}."
    )
    for one in left_behind(at):
        say(one)
    say(f"On this network: {at.reach.addresses[0]}")
    say(qr(at.reach.addresses[0]))
    run(at, host, port, say, proxy_headers=True, forwarded_allow_ips=list(proxies))


def serve_plain(at: Service, host: str, port: int, say: Say) -> None:
    """Plain HTTP: the demo, or an explicit choice."""
    found = machine.names([])
    hosts = [*found.dns, *map(host_of, found.addresses)]
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
