"""Addresses as browsers write them, and those that phones were enrolled at and that lead here no more."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import urlsplit

from yokemate.routes.address import moved
from yokemate.routes.service import Service


def host_of(address: object) -> str:
    return f"[{address}]" if ":" in str(address) else str(address)


def at_port(scheme: str, hosts: Iterable[str], port: int) -> list[str]:
    """Addresses as browsers write them: without the port that goes without saying."""
    ending = "" if port == {"http": 80, "https": 443}[scheme] else f":{port}"
    return [f"{scheme}://{host}{ending}" for host in hosts]


def origin(url: str) -> str:
    parts = urlsplit(url)
    return f"{parts.scheme}://{parts.netloc}".lower()


def left_behind(at: Service) -> list[str]:
    """A sentence for each address that phones were enrolled at and that does not lead here any more."""
    return [
        f"{one.phones} phone(s) were enrolled at {one.origin}, which does not lead here any more. What they have not sent is "
        "still there: on the phone, *Still on this phone*, *Save it as a file*; then *Take in a file* at the new address."
        for one in moved(at)
    ]
