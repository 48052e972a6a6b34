"""The last resort of the test set-up: Debian's package, where the tests run as root and there is apt."""

from __future__ import annotations

import os
import shutil
import subprocess

from .one_at_a_time import one_at_a_time


def install(package: str) -> str | None:
    """Install a Debian package; None when it is there now, else one line that says why not."""
    with one_at_a_time("install"):
        return _install(package)


def _install(package: str) -> str | None:
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        return "not root, so no system package can be installed"
    if not shutil.which("apt-get"):
        return "no apt-get on this machine"
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for command in (["apt-get", "update"], ["apt-get", "install", "-y", "--no-install-recommends", package]):
        try:
            done = subprocess.run(
                command,
                env=environment,
                stdin=subprocess.DEVNULL,
                capture_output=True,
                text=True,
                timeout=300,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return f"{' '.join(command)} took longer than five minutes"
        if done.returncode:
            last = (done.stderr.strip() or done.stdout.strip() or "no message").splitlines()[-1]
            return f"{' '.join(command)}: {last}"
    return None
