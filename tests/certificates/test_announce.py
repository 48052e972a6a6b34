"""The name on this network: resolved by another resolver, given up in a sentence, never taken from somebody else."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from ipaddress import ip_address
from typing import TypeVar

import pytest
from zeroconf import AddressResolverIPv4, IPVersion, Zeroconf

from support.untried import Tell, unavailable
from yokemate.certificates import machine
from yokemate.certificates.announce import Announced, announce

ADDRESSES = [one for one in machine.addresses() if one.version == 4 and not one.is_loopback]
T = TypeVar("T")


def apart(work: Callable[[], T]) -> T:
    """In a thread of its own: the browser tests leave an event loop running in this one, where the library may not wait."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(work).result()


def announced(name: str, tell: Tell) -> Announced:
    """A machine whose network has no multicast cannot try it: told, and a failure where CI is set."""
    try:
        return apart(lambda: announce(name, ADDRESSES, 8420, listens_ms=300))
    except ValueError as why:
        unavailable(tell, f"multicast DNS: {why}")


def resolved(name: str) -> set[bytes]:
    return apart(lambda: _resolved(name))


def _resolved(name: str) -> set[bytes]:
    asking = Zeroconf(ip_version=IPVersion.V4Only)
    try:
        there = AddressResolverIPv4(f"{name}.")
        there.request(asking, 2000)
        return set(there.addresses)
    finally:
        asking.close()


def test_the_name_leads_to_this_machine(tell: Tell) -> None:
    found = announced("yokemate-test-a.local", tell)
    try:
        assert resolved("yokemate-test-a.local") == {one.packed for one in ADDRESSES}
    finally:
        apart(found.close)


def test_a_name_that_somebody_has_is_not_taken(tell: Tell) -> None:
    """Two garages on one network: the second is told who answers, and to choose another name."""
    first = announced("yokemate-test-b.local", tell)
    try:
        with pytest.raises(ValueError, match=r"answers to it already\. Choose another --name"):
            apart(lambda: announce("yokemate-test-b.local", [ip_address("192.168.77.7")], 8420))
    finally:
        apart(first.close)


def test_without_a_network_it_says_so() -> None:
    with pytest.raises(ValueError, match="no IPv4 address on a network"):
        announce("yokemate-test-c.local", [ip_address("127.0.0.1")], 8420)
