"""The app's own files: compressed for those who take it, the same bytes for everybody."""

from __future__ import annotations

import dataclasses
import gzip
from pathlib import Path

import pytest

from support.phones import Garage
from yokemate.routes import web

SCRIPT = "export const lit = 'only what you hold';\n" * 40


@pytest.fixture
def folder(one: Garage, tmp_path: Path) -> Path:
    """An app of two files in place of the built one."""
    made = tmp_path / "web"
    (made / "assets").mkdir(parents=True)
    (made / "index.html").write_text("<h1>Yokemate</h1>")
    (made / "assets" / "main-1a2b.js").write_text(SCRIPT)
    (made / "icon-192.png").write_bytes(b"\x89PNG" + bytes(400))
    one.service.settings = dataclasses.replace(one.service.settings, web_folder=made)
    return made


def sent(one: Garage, path: str, **headers: str) -> tuple[dict[str, str], bytes]:
    """Headers and the bytes as they crossed the network."""
    with one.phone().http.stream("GET", path, headers=headers) as answer:
        assert answer.status_code == 200
        return dict(answer.headers), b"".join(answer.iter_raw())


def test_text_is_sent_compressed_to_those_who_take_it(one: Garage, folder: Path) -> None:
    packed, crossed = sent(one, "/assets/main-1a2b.js", **{"Accept-Encoding": "gzip, br"})
    plain, whole = sent(one, "/assets/main-1a2b.js", **{"Accept-Encoding": "identity"})

    assert packed["content-encoding"] == "gzip"
    assert (packed["vary"], plain["vary"]) == ("Accept-Encoding", "Accept-Encoding")
    assert gzip.decompress(crossed) == whole == SCRIPT.encode()
    assert len(crossed) < len(whole) / 2
    assert packed["content-type"].startswith("text/javascript")
    assert "immutable" in packed["cache-control"]


def test_a_file_that_changed_is_compressed_anew(one: Garage, folder: Path) -> None:
    """An editable install builds into the folder that is being served."""
    first = sent(one, "/", **{"Accept-Encoding": "gzip"})[1]
    (folder / "index.html").write_text("<h1>Another</h1>")
    second = sent(one, "/", **{"Accept-Encoding": "gzip"})[1]

    assert gzip.decompress(first) == b"<h1>Yokemate</h1>"
    assert gzip.decompress(second) == b"<h1>Another</h1>"


def test_pictures_are_sent_as_they_are(one: Garage, folder: Path) -> None:
    headers, crossed = sent(one, "/icon-192.png", **{"Accept-Encoding": "gzip"})

    assert "content-encoding" not in headers
    assert crossed == (folder / "icon-192.png").read_bytes()
    assert ".png" not in web.KINDS
