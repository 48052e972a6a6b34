"""The service's name on its own network, by multicast DNS (RFC 6762). Some networks drop it: then addresses remain."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from ipaddress import IPv4Address

from zeroconf import AddressResolverIPv4, Error, IPVersion, ServiceInfo, Zeroconf

from yokemate.certificates.names import Address

KIND = "_https._tcp.local."
LISTENS_MS = 1500


class Announced:
    """A name that this machine answers to until `close`."""

    def __init__(self, zeroconf: Zeroconf, name: str) -> None:
        self._zeroconf = zeroconf
        self.name = name

    def close(self) -> None:
        with suppress(Error, OSError):
            self._zeroconf.unregister_all_services()
        self._zeroconf.close()


def announce(name: str, addresses: Iterable[Address], port: int, listens_ms: int = LISTENS_MS) -> Announced:
    """Answer to `name` (which ends in `.local`). ValueError says in one sentence why that can't be."""
    ours = _packed(addresses)
    if not ours:
        raise ValueError(f"{name} is not announced: this machine has no IPv4 address on a network.")
    try:
        zeroconf = Zeroconf(ip_version=IPVersion.V4Only)
    except OSError as error:
        raise ValueError(f"{name} is not announced: {error.strerror or error}.") from None
    try:
        there = AddressResolverIPv4(f"{name}.")
        if there.request(zeroconf, listens_ms) and not set(there.addresses) <= set(ours):
            others = ", ".join(str(IPv4Address(one)) for one in there.addresses)
            raise ValueError(
                f"{name} is not announced: {others} answers to it already. Choose another --name."
            )
        first = name.removesuffix(".local")
        info = ServiceInfo(
            KIND, f"Yokemate {first}.{KIND}", port=port, addresses=ours, server=f"{name}.", properties={}
        )
        zeroconf.register_service(info, allow_name_change=True)
    except (Error, OSError) as error:
        zeroconf.close()
        raise ValueError(f"{name} is not announced: {error!s}.") from None
    except BaseException:
        zeroconf.close()
        raise
    return Announced(zeroconf, name)


def _packed(addresses: Iterable[Address]) -> list[bytes]:
    return [one.packed for one in addresses if one.version == 4 and not one.is_loopback]
