"""A Chromium to test with: named in YOKEMATE_BROWSER, on PATH, fetched by Playwright, or Debian's package."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Browser, Playwright
from playwright.sync_api import Error as PlaywrightError

from . import debian

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# A test browser runs as root in a container, on few cores, and must ask nothing of the network.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
]


def launch(playwright: Playwright) -> tuple[Browser, str]:
    """A running browser, and one line that says where it came from. Raises LookupError when there is none."""
    chosen = os.environ.get("YOKEMATE_BROWSER")
    if chosen and not Path(chosen).is_file():
        raise LookupError(f"browser: YOKEMATE_BROWSER names {chosen}, which is not there.")
    if path := chosen or on_path():
        return start(playwright, path), f"browser: {path}"
    if Path(playwright.chromium.executable_path).exists() or downloaded():
        try:
            return start(playwright, None), "browser: Playwright's own Chromium"
        except PlaywrightError:
            pass  # downloaded, but libraries of the system are missing: go on to Debian's package
    failed = debian.install("chromium")
    if failed is None and (path := on_path()):
        return start(playwright, path), f"browser: installed Debian's package, {path}"
    raise LookupError(
        "browser: no browser found, install chromium (or name one in YOKEMATE_BROWSER). "
        f"Fetching one failed: {failed or 'the package brought no chromium'}."
    )


def on_path() -> str | None:
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def downloaded() -> bool:
    """Ask Playwright to download its Chromium; whether that worked."""
    try:
        done = subprocess.run(
            [sys.executable, "-m", "playwright", "install", "chromium"],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=240,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def start(playwright: Playwright, path: str | None) -> Browser:
    return playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
