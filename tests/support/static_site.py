"""Serves the built web app as the real server does, policy included, for tests of the shell alone."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from . import web_app


class Handler(SimpleHTTPRequestHandler):
    def translate_path(self, path: str) -> str:
        """A file of the app, or for every other address the page that picks the screen."""
        found = super().translate_path(path)
        return found if Path(found).is_file() else str(Path(self.directory, "index.html"))

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", "default-src 'self'")
        super().end_headers()

    def log_message(self, *_arguments: object) -> None:
        """Says nothing: the test run's output is for failures."""


@contextmanager
def serve() -> Iterator[str]:
    """Serve on a free port of this machine; the address without a closing slash."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(web_app.built()))) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        try:
            yield f"http://localhost:{server.server_port}"
        finally:
            server.shutdown()
            thread.join()
