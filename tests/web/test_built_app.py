"""The built web app: small on first load, nothing inline, and its service worker knows every file."""

from __future__ import annotations

import gzip
import json
import re

from support import web_app

FIRST_LOAD_BYTES = 60_000


def index() -> str:
    return (web_app.built() / "index.html").read_text()


def test_first_load_of_scripts_is_small() -> None:
    """The scripts that index.html asks for at once are at most 60 kB, compressed."""
    scripts = re.findall(r'(?:src|href)="(/assets/[^"]+\.js)"', index())

    assert scripts
    compressed = [len(gzip.compress((web_app.built() / path[1:]).read_bytes())) for path in scripts]
    assert sum(compressed) <= FIRST_LOAD_BYTES


def test_nothing_is_inline() -> None:
    """The page obeys the policy default-src 'self': no inline script or style, no data: address."""
    page = index()

    assert not re.search(r"<script(?![^>]*\bsrc=)", page)
    assert not re.search(r"<style|\sstyle=|\son\w+=", page)
    for path in web_app.built().rglob("*"):
        if path.suffix in {".html", ".css"}:
            assert "data:" not in path.read_text(), path.name


def test_the_service_worker_keeps_every_file_and_nothing_else() -> None:
    """The list inside sw.js is exactly the built files, the start page under its address."""
    worker = (web_app.built() / "sw.js").read_text()
    found = re.search(r'\["/",.*?\]', worker)
    assert found is not None
    listed = set(json.loads(found[0]))
    folder = web_app.built()
    files = {f"/{path.relative_to(folder).as_posix()}" for path in folder.rglob("*") if path.is_file()}

    assert listed == files - {"/sw.js", "/index.html", "/.sources"} | {"/"}
    assert not re.search(r"__SHELL_\w+__", worker)
