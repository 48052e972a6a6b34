"""Programs of the system that some tests judge by: on PATH, or Debian's package where the tests may install it."""

from __future__ import annotations

import shutil

from . import debian

PACKAGES = {"openssl": "openssl", "certutil": "libnss3-tools"}


def program(name: str) -> str:
    """Where the program is. Raises LookupError with what to install."""
    if found := shutil.which(name):
        return found
    failed = debian.install(PACKAGES[name])
    if failed is None and (found := shutil.which(name)):
        return found
    raise LookupError(
        f"{name}: not found, install Debian's {PACKAGES[name]} or the like. Fetching it failed: {failed}."
    )
