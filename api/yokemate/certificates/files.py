"""The certificates of a data folder: made when there are none, renewed when due, keys readable by their owner only."""

from __future__ import annotations

import os
import stat
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from yokemate.certificates.making import (
    AUTHORITY_ENDS_SOON,
    Pair,
    make_authority,
    make_service,
    permitted_names,
    sorted_out,
    why_renew,
)
from yokemate.certificates.names import LOOPBACK, Names, under

FOLDER = "certificates"
OTHERS = stat.S_IRWXG | stat.S_IRWXO
AGAIN = "`serve --new-authority` makes another; then every phone must trust that one anew."


@dataclass(frozen=True)
class Kept:
    """`file` holds the service's certificate and key together, so that they are replaced together."""

    authority: x509.Certificate
    file: Path
    names: Names
    left_out: Names
    new_authority: bool
    renewed: str  # why; empty when the certificate was good as it was
    warnings: tuple[str, ...]


def keep(
    data: Path, called: Sequence[str], machine: Names, now: datetime, *, new_authority: bool = False
) -> Kept:
    """See to it that the folder holds an authority and a good certificate for this machine.

    `called`: names that were asked for; ValueError when the authority may not speak for one of them.
    Names and addresses of the machine beyond that are left out, which the answer says.
    """
    folder = data / FOLDER
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    warnings: list[str] = []
    authority, made = _authority(folder, called, machine, now, new_authority, warnings)
    missing = [name for name in called if not under(name, permitted_names(authority.certificate))]
    if missing:
        may = ", ".join(permitted_names(authority.certificate))
        raise ValueError(f"what the phones trust speaks for {may}, not for {', '.join(missing)}. {AGAIN}")
    inside, outside = sorted_out(authority.certificate, machine)
    file = folder / "service.pem"
    there = _read(file, warnings, "remove it; it is made anew") if file.exists() else None
    why = (
        "there was none"
        if there is None
        else why_renew(there.certificate, authority.certificate, inside, now)
    )
    if why:
        _write(file, make_service(authority, inside, now))
    if authority.certificate.not_valid_after_utc - now < AUTHORITY_ENDS_SOON:
        warnings.append(
            f"What the phones trust ends on {authority.certificate.not_valid_after_utc:%Y-%m-%d}. {AGAIN}"
        )
    return Kept(authority.certificate, file, inside, outside, made, why, tuple(warnings))


def _authority(
    folder: Path,
    called: Sequence[str],
    machine: Names,
    now: datetime,
    anew: bool,
    warnings: list[str],
) -> tuple[Pair, bool]:
    file = folder / "authority.pem"
    if anew or not file.exists():
        own = [name for name in machine.dns if name not in called and name != LOOPBACK]
        made = make_authority(
            {*called, *machine.dns}, now, min(own, key=len, default="machine").split(".")[0]
        )
        _write(file, made)
        return made, True
    found = _read(file, warnings, f"put it back from a backup. Or: {AGAIN}")
    if now < found.certificate.not_valid_before_utc:
        raise ValueError(
            f"this machine's clock says {now:%Y-%m-%d %H:%M} UTC, before {file} was made. Set the clock."
        )
    if now > found.certificate.not_valid_after_utc:
        raise ValueError(
            f"what the phones trust ended on {found.certificate.not_valid_after_utc:%Y-%m-%d}. {AGAIN}"
        )
    return found, False


def _read(file: Path, warnings: list[str], remedy: str) -> Pair:
    _close(file, warnings)
    try:
        held = file.read_bytes()
        key = load_pem_private_key(held, None)
        certificate = x509.load_pem_x509_certificate(held)
    except (ValueError, TypeError) as broken:
        raise ValueError(f"{file} holds no certificate with its key: {remedy}") from broken
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        raise ValueError(f"{file}: the key is not that of the certificate: {remedy}")
    return Pair(certificate, key)


def _close(file: Path, warnings: list[str]) -> None:
    """A key that others could read is closed, and it is said: they may have a copy."""
    if os.name != "posix" or not (file.stat().st_mode & OTHERS):
        return
    try:
        file.chmod(0o600)
    except PermissionError:
        raise ValueError(
            f"{file}: others can read this key, and it belongs to somebody else, so that can't be put right here. "
            f"Do: chmod 600 {file}"
        ) from None
    warnings.append(
        f"{file} could be read by others; now only by you. If somebody may have copied it: {AGAIN}"
    )


def _write(file: Path, pair: Pair) -> None:
    """All of it or nothing, and never readable by others, not even for a moment."""
    held = pair.certificate.public_bytes(Encoding.PEM) + pair.key.private_bytes(
        Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()
    )
    beside = file.with_name(f".{file.name}.new")
    beside.unlink(missing_ok=True)
    opened = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(opened, "wb") as writing:
        writing.write(held)
        writing.flush()
        os.fsync(writing.fileno())
    os.replace(beside, file)
