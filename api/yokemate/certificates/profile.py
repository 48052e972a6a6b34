"""The authority as a profile that iOS installs. It holds one certificate and sets nothing else."""

from __future__ import annotations

import plistlib
import uuid

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding

from yokemate.certificates.making import fingerprint


def mobileconfig(authority: x509.Certificate) -> bytes:
    """The same authority makes the same profile, so that installing it again replaces it."""
    print_ = fingerprint(authority)
    name = str(authority.subject.get_attributes_for_oid(x509.NameOID.COMMON_NAME)[0].value)

    def identity(what: str) -> dict[str, object]:
        made = uuid.uuid5(uuid.NAMESPACE_URL, f"urn:yokemate:{what}:{print_}")
        return {
            "PayloadIdentifier": f"app.yokemate.{what}.{made}",
            "PayloadUUID": str(made).upper(),
            "PayloadVersion": 1,
        }

    certificate = identity("authority") | {
        "PayloadType": "com.apple.security.root",
        "PayloadDisplayName": name,
        "PayloadCertificateFileName": "yokemate-garage.crt",
        "PayloadContent": authority.public_bytes(Encoding.DER),
    }
    whole = identity("profile") | {
        "PayloadType": "Configuration",
        "PayloadDisplayName": name,
        "PayloadDescription": "Lets this phone trust this garage's own service, and nothing else.",
        "PayloadContent": [certificate],
    }
    return plistlib.dumps(whole)
