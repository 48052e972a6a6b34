"""Names and addresses: which ones a garage's authority may ever speak for, and which ones it speaks for now."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv4Network, IPv6Address, IPv6Network, ip_network

Address = IPv4Address | IPv6Address
Network = IPv4Network | IPv6Network

DEFAULT_NAME = "yokemate.local"
LOOPBACK = "localhost"
# Addresses that nobody owns beyond their own network: loopback (RFC 1122, RFC 4291), private use (RFC 1918),
# link-local (RFC 3927, RFC 4291), unique local (RFC 4193).
PRIVATE: tuple[Network, ...] = tuple(
    ip_network(one)
    for one in (
        "127.0.0.0/8",
        "10.0.0.0/8",
        "172.16.0.0/12",
        "192.168.0.0/16",
        "169.254.0.0/16",
        "::1/128",
        "fc00::/7",
        "fe80::/10",
    )
)
# Ends of names that mean a private network: multicast DNS (RFC 6762), home.arpa (RFC 8375), internal (reserved by
# ICANN in 2024), lan and home (never delegated; *common practice* of routers).
LOCAL_ENDS = ("local", "home.arpa", "internal", "lan", "home")
_LABEL = re.compile(r"(?!-)[a-z0-9-]{1,63}(?<!-)")  # RFC 1123, section 2.1


@dataclass(frozen=True)
class Names:
    """DNS names in lower case, and IP addresses, each sorted and named once."""

    dns: tuple[str, ...] = ()
    addresses: tuple[Address, ...] = ()

    @classmethod
    def of(cls, dns: Iterable[str], addresses: Iterable[Address]) -> Names:
        by_family = sorted(set(addresses), key=lambda one: (one.version, int(one)))
        return cls(tuple(sorted(set(dns))), tuple(by_family))

    def __str__(self) -> str:
        return ", ".join([*self.dns, *(str(one) for one in self.addresses)])


def good_name(text: str) -> str:
    """A host name as certificates carry it. ValueError names what is wrong."""
    name = text.strip().rstrip(".").lower()
    labels = name.split(".")
    if len(name) > 253 or not all(_LABEL.fullmatch(label) for label in labels) or labels[-1].isdigit():
        raise ValueError(
            f"{text!r} is no host name. Use letters, digits and hyphens, such as {DEFAULT_NAME}."
        )
    return name


def local_name(text: str) -> str:
    """A host name that can only mean a machine of a private network. ValueError names the way for another.

    A bare word is none: an authority that may speak for `dev` may speak for every name that ends in `.dev`.
    """
    name = good_name(text)
    if not any(name.endswith(f".{end}") for end in LOCAL_ENDS):
        raise ValueError(
            f"{text!r} is no name of a private network: give one that ends in .{', .'.join(LOCAL_ENDS)}, "
            "or bring a certificate for a public name with --cert and --key."
        )
    return name


def is_private(address: Address) -> bool:
    return any(address in network for network in PRIVATE if network.version == address.version)


def under(name: str, permitted: Iterable[str]) -> bool:
    """Whether a name is one of the permitted or ends in one (RFC 5280, section 4.2.1.10)."""
    return any(name == one or name.endswith(f".{one}") for one in permitted)
