"""What the certificates hold, against published limits, and judged by two verifiers that are not ours.

Sources: RFC 5280 (sections 4.1.2.5, 4.2.1.1, 4.2.1.2, 4.2.1.3, 4.2.1.6, 4.2.1.9, 4.2.1.10, 4.2.1.12); Apple's support
page 103769, *Requirements for trusted certificates in iOS 13 and macOS 10.15* (SAN, serverAuth, SHA-2, 825 days).
"""

from __future__ import annotations

import plistlib
import subprocess
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509.oid import ExtendedKeyUsageOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from yokemate.certificates.making import (
    Pair,
    fingerprint,
    make_authority,
    make_service,
    sorted_out,
    why_renew,
)
from yokemate.certificates.names import Names, good_name, is_private, local_name
from yokemate.certificates.profile import mobileconfig

NOW = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
LAN = ip_address("192.168.1.5")
NAMES = Names.of(["yokemate.local", "bench.local", "localhost"], [LAN, ip_address("fd12::5")])
APPLE_LONGEST = timedelta(days=825)
STRICT = ("verify", "-x509_strict", "-purpose", "sslserver", "-attime", str(int(NOW.timestamp())))


@pytest.fixture(scope="module")
def openssl(program: Callable[[str], str]) -> str:
    return program("openssl")


@pytest.fixture(scope="module")
def authority() -> Pair:
    return make_authority(NAMES.dns, NOW, "bench")


@pytest.fixture(scope="module")
def service(authority: Pair) -> Pair:
    return make_service(authority, NAMES, NOW)


def trusted(authority: Pair, leaf: x509.Certificate, host: str, at: datetime = NOW) -> bool:
    """The judgement of cryptography's own path validation (written after the rules of web browsers)."""
    said = x509.IPAddress(ip_address(host)) if host[0].isdigit() or ":" in host else x509.DNSName(host)
    verifier = PolicyBuilder().store(Store([authority.certificate])).time(at).build_server_verifier(said)
    try:
        verifier.verify(leaf, [])
    except VerificationError:
        return False
    return True


def verdict(program: str, folder: Path, authority: Pair, leaf: x509.Certificate, host: str) -> str:
    """What `openssl verify` says in strict mode; empty when it is content."""
    for name, one in (("ca.pem", authority.certificate), ("leaf.pem", leaf)):
        (folder / name).write_bytes(one.public_bytes(Encoding.PEM))
    named = "-verify_ip" if host[0].isdigit() else "-verify_hostname"
    done = subprocess.run(
        [program, *STRICT, "-CAfile", "ca.pem", named, host, "leaf.pem"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    return "" if done.returncode == 0 else done.stderr


def forged(authority: Pair, *names: x509.GeneralName) -> x509.Certificate:
    """A certificate as a thief of the authority's key would make it: our own making leaves such names out."""
    key = ec.generate_private_key(ec.SECP256R1())
    return (
        x509.CertificateBuilder()
        .subject_name(x509.Name([]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(NOW)
        .not_valid_after(NOW + timedelta(days=30))
        .add_extension(x509.BasicConstraints(False, None), True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), False)
        .add_extension(x509.SubjectAlternativeName(names), True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), False)
        .sign(authority.key, hashes.SHA256())
    )


def test_the_service_keeps_what_phones_ask(service: Pair) -> None:
    """Apple: names in the SAN, serverAuth, SHA-2, at most 825 days; RFC 5280: no authority, key usage marked critical."""
    made = service.certificate
    of = made.extensions.get_extension_for_class
    names = of(x509.SubjectAlternativeName).value

    assert set(names.get_values_for_type(x509.DNSName)) == {"yokemate.local", "bench.local", "localhost"}
    assert set(names.get_values_for_type(x509.IPAddress)) == {LAN, ip_address("fd12::5")}
    assert list(of(x509.ExtendedKeyUsage).value) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert isinstance(made.signature_hash_algorithm, hashes.SHA256)
    # Both ends of a validity belong to it (RFC 5280, 4.1.2.5), hence the second.
    lasts = made.not_valid_after_utc - made.not_valid_before_utc + timedelta(seconds=1)
    assert lasts == timedelta(days=396) <= APPLE_LONGEST
    assert made.not_valid_before_utc == NOW - timedelta(days=1)
    assert of(x509.BasicConstraints).critical and not of(x509.BasicConstraints).value.ca
    usage = of(x509.KeyUsage)
    assert usage.critical and usage.value.digital_signature and not usage.value.key_cert_sign
    key = made.public_key()
    assert isinstance(key, ec.EllipticCurvePublicKey) and key.curve.name == "secp256r1"


def test_the_authority_is_bound_to_this_garage(authority: Pair, service: Pair) -> None:
    """RFC 5280: basic constraints, key usage and name constraints critical, no authority below it, identifiers that meet."""
    of = authority.certificate.extensions.get_extension_for_class
    bound = of(x509.NameConstraints)

    assert of(x509.BasicConstraints).critical
    assert (of(x509.BasicConstraints).value.ca, of(x509.BasicConstraints).value.path_length) == (True, 0)
    assert of(x509.KeyUsage).critical and of(x509.KeyUsage).value.key_cert_sign
    assert bound.critical
    permitted = bound.value.permitted_subtrees or []
    assert {one.value for one in permitted if isinstance(one, x509.DNSName)} == set(NAMES.dns)
    assert all(one.value.is_private for one in permitted if isinstance(one, x509.IPAddress))
    identifier = of(x509.SubjectKeyIdentifier).value.digest
    pointed = service.certificate.extensions.get_extension_for_class(x509.AuthorityKeyIdentifier).value
    assert pointed.key_identifier == identifier


@pytest.mark.parametrize("host", ["yokemate.local", "bench.local", "192.168.1.5", "fd12::5"])
def test_other_verifiers_trust_it(authority: Pair, service: Pair, host: str) -> None:
    assert trusted(authority, service.certificate, host)


def test_openssl_trusts_it_in_strict_mode(
    authority: Pair, service: Pair, tmp_path: Path, openssl: str
) -> None:
    assert verdict(openssl, tmp_path, authority, service.certificate, "yokemate.local") == ""
    assert verdict(openssl, tmp_path, authority, service.certificate, "192.168.1.5") == ""
    assert (
        "hostname mismatch"
        in verdict(openssl, tmp_path, authority, service.certificate, "other.local").lower()
    )


@pytest.mark.parametrize(
    ("host", "name"),
    [
        ("bank.example", x509.DNSName("bank.example")),
        ("local", x509.DNSName("local")),
        ("other.local", x509.DNSName("other.local")),
        ("8.8.8.8", x509.IPAddress(ip_address("8.8.8.8"))),
        ("2001:4860:4860::8888", x509.IPAddress(ip_address("2001:4860:4860::8888"))),
    ],
)
def test_whoever_takes_the_key_can_speak_for_nothing_else(
    authority: Pair, tmp_path: Path, openssl: str, host: str, name: x509.GeneralName
) -> None:
    """RFC 5280, 4.2.1.10: both verifiers refuse a name or an address outside what the authority permits."""
    leaf = forged(authority, name)

    assert not trusted(authority, leaf, host)
    assert "permitted subtree violation" in verdict(openssl, tmp_path, authority, leaf, host)


def test_a_forgery_inside_the_bounds_would_pass(authority: Pair, tmp_path: Path, openssl: str) -> None:
    """The refusals above come from the names alone: the same certificate for a permitted name is taken."""
    leaf = forged(authority, x509.DNSName("yokemate.local"))

    assert trusted(authority, leaf, "yokemate.local")
    assert verdict(openssl, tmp_path, authority, leaf, "yokemate.local") == ""


def test_it_is_not_valid_before_or_after(authority: Pair, service: Pair) -> None:
    assert trusted(authority, service.certificate, "yokemate.local", NOW + timedelta(days=394))
    assert not trusted(authority, service.certificate, "yokemate.local", NOW + timedelta(days=396))
    assert not trusted(authority, service.certificate, "yokemate.local", NOW - timedelta(days=2))


def test_names_and_addresses_outside_are_left_out(authority: Pair) -> None:
    """A public address or a foreign name never gets into the certificate: it would be refused as a whole."""
    wanted = Names.of([*NAMES.dns, "garage.example.org"], [LAN, ip_address("203.0.113.9")])
    inside, outside = sorted_out(authority.certificate, wanted)

    assert (inside.dns, inside.addresses) == (NAMES.dns, (LAN,))
    assert str(outside) == "garage.example.org, 203.0.113.9"


def test_when_it_is_renewed(authority: Pair, service: Pair) -> None:
    """Ninety days before its end, when a name or address changed, when another authority signs; else not."""
    leaf, ca = service.certificate, authority.certificate
    other = make_authority(NAMES.dns, NOW, "other").certificate

    assert why_renew(leaf, ca, NAMES, NOW) == ""
    assert why_renew(leaf, ca, NAMES, NOW + timedelta(days=300)) == ""
    assert "ends on 2027-12-25" in why_renew(leaf, ca, NAMES, NOW + timedelta(days=306))
    assert "changed" in why_renew(leaf, ca, Names.of(NAMES.dns, [ip_address("192.168.1.6")]), NOW)
    assert "another authority" in why_renew(leaf, other, NAMES, NOW)


def test_the_service_never_outlives_its_authority(authority: Pair) -> None:
    late = NOW + timedelta(days=3600)
    made = make_service(authority, NAMES, late).certificate

    assert made.not_valid_after_utc == authority.certificate.not_valid_after_utc
    assert why_renew(made, authority.certificate, NAMES, late + timedelta(days=10)) == ""


@pytest.mark.parametrize("name", ["dev", "com", "garage.example.org", "local", "a b.local", "-x.local", ""])
def test_names_that_may_belong_to_somebody_else_are_refused(name: str) -> None:
    """An authority for `dev` could speak for every name under it, and for a public name others may be the owner."""
    with pytest.raises(ValueError, match=r"no host name|no name of a private network"):
        local_name(name)


def test_names_are_taken_as_hosts_write_them() -> None:
    assert local_name("Garage.Local.") == "garage.local"
    assert good_name("Bench-2") == "bench-2"


@pytest.mark.parametrize(
    ("address", "private"),
    [  # RFC 1918, 3927, 4193, 4291 and the first address beyond each
        ("10.255.255.255", True),
        ("11.0.0.0", False),
        ("172.31.255.255", True),
        ("172.32.0.0", False),
        ("192.168.255.255", True),
        ("192.169.0.0", False),
        ("169.254.1.1", True),
        ("fdff::1", True),
        ("fe00::1", False),
        ("fe80::1", True),
        ("2001:db8::1", False),
    ],
)
def test_what_counts_as_private(address: str, private: bool) -> None:
    assert is_private(ip_address(address)) is private


def test_the_profile_for_ios_holds_the_authority_and_nothing_else(authority: Pair) -> None:
    """Apple's *Configuration Profile Reference*: a root payload with the certificate in DER; the same one each time."""
    made = plistlib.loads(mobileconfig(authority.certificate))
    [payload] = made["PayloadContent"]

    assert (made["PayloadType"], payload["PayloadType"]) == ("Configuration", "com.apple.security.root")
    assert x509.load_der_x509_certificate(payload["PayloadContent"]) == authority.certificate
    assert made["PayloadUUID"] != payload["PayloadUUID"]
    assert mobileconfig(authority.certificate) == mobileconfig(authority.certificate)


def test_the_fingerprint_is_what_openssl_says(authority: Pair, tmp_path: Path, openssl: str) -> None:
    (tmp_path / "ca.pem").write_bytes(authority.certificate.public_bytes(Encoding.PEM))
    said = subprocess.run(
        [openssl, "x509", "-noout", "-fingerprint", "-sha256", "-in", "ca.pem"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    ).stdout

    assert said.strip().partition("=")[2] == fingerprint(authority.certificate)
