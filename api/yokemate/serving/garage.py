"""HTTPS by this garage's own authority, kept good while the service runs."""

from __future__ import annotations

import ssl
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path

from yokemate.certificates import machine
from yokemate.certificates.announce import Announced, announce
from yokemate.certificates.files import AGAIN, Kept, keep
from yokemate.certificates.making import fingerprint
from yokemate.certificates.names import Address, Names
from yokemate.routes.service import Service
from yokemate.serving.addresses import at_port, host_of, left_behind, origin
from yokemate.serving.tls import Say, tls_context
from yokemate.settings import Reach


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
    context: ssl.SSLContext = field(default_factory=tls_context)
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
        known = at_port("https", [*kept.names.dns, *map(host_of, kept.names.addresses)], self.port)
        lan = machine.lan_address()
        usable = [one for one in self._listened(kept) if one in kept.names.addresses]
        usable.sort(key=lambda one: (str(one) != lan, int(one)))
        public = self.at.settings.public_url
        names = [one for one in self.called if self.announced is not None or not one.endswith(".local")]
        addresses = at_port("https", [*names, *map(host_of, usable[:3])], self.port)
        open_to = self._listened(kept)
        asked = next((one for one in open_to if str(one) == lan), open_to[0] if open_to else None)
        return Reach(
            addresses=tuple([public.rstrip("/"), *addresses] if public else addresses),
            origins=frozenset([*known, *([origin(public)] if public else [])]),
            join_page=f"http://{host_of(asked)}:{self.join_port}" if asked else None,
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
