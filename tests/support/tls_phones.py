"""Phones that trust a garage: a Chromium with the garage's authority in its store, and its name leading here."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding
from playwright.sync_api import Browser

from .browser import ARGUMENTS, on_path
from .web_phones import WebPhone

SENDS = """async ([method, path, body]) => {
  const headers = { "X-Yokemate": "1", "Content-Type": "application/json" };
  const answer = await fetch(path, { method, headers, ...(body === null ? {} : { body: JSON.stringify(body) }) });
  return [answer.status, await answer.text()];
}"""


@contextmanager
def trusting_browser(
    browser: Browser, certutil: str, home: Path, authority: x509.Certificate, *names: str
) -> Iterator[Browser]:
    """Another browser of the same make. `home` is thrown away with what it trusts; `names` lead to this machine."""
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    (home / "authority.pem").write_bytes(authority.public_bytes(Encoding.PEM))
    for arguments in (
        ["-N", "--empty-password"],
        ["-A", "-t", "C,,", "-n", "garage", "-i", str(home / "authority.pem")],
    ):
        subprocess.run(
            [certutil, *arguments[:1], "-d", f"sql:{store}", *arguments[1:]], check=True, capture_output=True
        )
    rules = ", ".join(f"MAP {name} 127.0.0.1" for name in names)
    started = browser.browser_type.launch(
        executable_path=os.environ.get("YOKEMATE_BROWSER") or on_path(),
        args=[*ARGUMENTS, f"--host-resolver-rules={rules}"],
        env={**os.environ, "HOME": str(home)},
    )
    try:
        yield started
    finally:
        started.close()


class TlsPhone(WebPhone):
    """Sends what a test needs from inside the page: only the browser trusts the garage."""

    def post(self, path: str, body: Any) -> Any:
        return self._sent("POST", path, body)

    def get(self, path: str) -> Any:
        return self._sent("GET", path, None)

    def _sent(self, method: str, path: str, body: Any) -> Any:
        if not self.page.url.startswith(self.url):
            self.open("/robots.txt")
        status, text = self.page.evaluate(SENDS, [method, path, body])
        assert status == 200, f"{path}: {status} {text}"
        return json.loads(text)


NewTlsPhone = Callable[..., TlsPhone]
