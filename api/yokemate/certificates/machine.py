"""What this machine is called, and at which addresses others on its network find it. Nothing is sent."""

from __future__ import annotations

import socket
from contextlib import suppress
from ipaddress import ip_address

import ifaddr

from yokemate.certificates.names import LOOPBACK, Address, Names, good_name, local_name


def host_names() -> list[str]:
    """The machine's own name under `.local`, and its whole name where that can only be a private one."""
    found: set[str] = set()
    whole = socket.gethostname().lower()
    with suppress(ValueError):
        first = good_name(whole.split(".")[0])
        if first != LOOPBACK:
            found.add(f"{first}.local")
    with suppress(ValueError):
        found.add(local_name(whole))
    return sorted(found)


def addresses() -> list[Address]:
    """Of every network card; link-local IPv6 ones are left out, since no browser takes them."""
    found: set[Address] = set()
    for adapter in ifaddr.get_adapters():
        for one in adapter.ips:
            address = ip_address(one.ip if isinstance(one.ip, str) else one.ip[0])
            if not (address.version == 6 and address.is_link_local):
                found.add(address)
    return sorted(found, key=lambda one: (one.version, int(one)))


def names(called: list[str]) -> Names:
    """All that a certificate for this machine should say; `called` are the names it is given beside its own."""
    return Names.of([*called, *host_names(), LOOPBACK], addresses())


def lan_address() -> str | None:
    """The address by which others most likely reach this machine."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as looking:
        try:
            looking.connect(("192.0.2.1", 9))  # an address kept for documents (RFC 5737)
        except OSError:
            return None
        found = str(looking.getsockname()[0])
    return None if found.startswith("127.") or found == "0.0.0.0" else found
