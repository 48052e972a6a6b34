"""What the certificates hold. Pure: the same names at the same moment make the same certificate, but for its key.

The authority is constrained to this garage's names and to private addresses (RFC 5280, 4.2.1.10): a crew that trusts it
trusts it for nothing else, whoever may get hold of its key. The service's certificate keeps the published limits of
phones: subject alternative names, serverAuth, SHA-2, no longer than 825 days (Apple, support page 103769); ours 396.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from yokemate.certificates.names import LOOPBACK, PRIVATE, Names, is_private, under

Key = ec.EllipticCurvePrivateKey
AUTHORITY_LASTS = timedelta(days=3650)
AUTHORITY_ENDS_SOON = timedelta(days=180)
SERVICE_LASTS = timedelta(days=396)
RENEWED_BEFORE_END = timedelta(days=90)
EARLIER = timedelta(days=1)  # a phone's clock may be behind
SECOND = timedelta(seconds=1)  # both ends of a validity belong to it (RFC 5280, 4.1.2.5)


@dataclass(frozen=True)
class Pair:
    """A certificate and its private key."""

    certificate: x509.Certificate
    key: Key


def make_authority(dns: Iterable[str], now: datetime, place: str) -> Pair:
    """An authority for these names (and names under them), this machine itself, and private addresses only.

    `place` is said in its subject, so that a phone's owner can tell one garage's from another's.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Yokemate"),
            x509.NameAttribute(
                NameOID.COMMON_NAME, f"Yokemate garage {place[:24]} {now:%Y-%m-%d}"
            ),  # at most 64
        ]
    )
    permitted: list[x509.GeneralName] = [x509.DNSName(name) for name in sorted({*dns, LOOPBACK})]
    permitted += [x509.IPAddress(network) for network in PRIVATE]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - EARLIER)
        .not_valid_after(now - EARLIER + AUTHORITY_LASTS - SECOND)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    return Pair(certificate, key)


def make_service(authority: Pair, names: Names, now: datetime) -> Pair:
    """The service's certificate for exactly these names, which the authority must permit."""
    key = ec.generate_private_key(ec.SECP256R1())
    issuer = authority.certificate
    end = min(now - EARLIER + SERVICE_LASTS - SECOND, issuer.not_valid_after_utc)
    alternatives: list[x509.GeneralName] = [x509.DNSName(name) for name in names.dns]
    alternatives += [x509.IPAddress(address) for address in names.addresses]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Yokemate")]))
        .issuer_name(issuer.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(max(now - EARLIER, issuer.not_valid_before_utc))
        .not_valid_after(end)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False
        )
        .sign(authority.key, hashes.SHA256())
    )
    return Pair(certificate, key)


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def permitted_names(authority: x509.Certificate) -> list[str]:
    """The names that an authority may speak for; names under them as well."""
    constraints = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    return [one.value for one in constraints.permitted_subtrees or [] if isinstance(one, x509.DNSName)]


def sorted_out(authority: x509.Certificate, wanted: Names) -> tuple[Names, Names]:
    """What the authority may vouch for, and what has to be left out."""
    dns = permitted_names(authority)
    inside = Names.of(
        [one for one in wanted.dns if under(one, dns)],
        [one for one in wanted.addresses if is_private(one)],
    )
    outside = Names.of(
        set(wanted.dns) - set(inside.dns), [one for one in wanted.addresses if not is_private(one)]
    )
    return inside, outside


def names_in(certificate: x509.Certificate) -> Names:
    """What a certificate was made for."""
    said = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    addresses = said.get_values_for_type(x509.IPAddress)
    return Names.of(said.get_values_for_type(x509.DNSName), addresses)  # type: ignore[arg-type]


def why_renew(service: x509.Certificate, authority: x509.Certificate, wanted: Names, now: datetime) -> str:
    """Why the service's certificate must be made anew; empty when it is good as it is."""
    if service.issuer != authority.subject or not _signed(service, authority):
        return "another authority signs now"
    if now < service.not_valid_before_utc:
        return "it is not valid yet"
    end = service.not_valid_after_utc
    if now > end - RENEWED_BEFORE_END and end < authority.not_valid_after_utc:
        return f"it ends on {end:%Y-%m-%d}"
    if names_in(service) != wanted:
        return "names or addresses of this machine changed"
    return ""


def _signed(service: x509.Certificate, authority: x509.Certificate) -> bool:
    try:
        service.verify_directly_issued_by(authority)
    except Exception:
        return False
    return True


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 over the whole certificate, in pairs as phones show it: `AB:CD:…`."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()
