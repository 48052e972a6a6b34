"""Photos: bytes that travel apart from the commands that name them."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from PIL import Image

from support.phones import Garage, Phone
from support.pictures import XMP_PLACE, XMP_PLAIN, name_of, picture
from yokemate.handle.photos import MOST_PIXELS

KINDS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}


def put(phone: Phone, body: bytes, kind: str = "image/jpeg", name: str | None = None) -> Any:
    return phone.http.put(
        f"{phone.home}/photos/{name or name_of(body)}", content=body, headers={"Content-Type": kind}
    )


def unfolding() -> bytes:
    """A small file that unfolds to more pixels than are taken."""
    out = io.BytesIO()
    Image.new("1", (6001, MOST_PIXELS // 6000)).save(out, "PNG")
    return out.getvalue()


def several() -> bytes:
    """A JPEG with a second picture behind it (CIPA DC-007)."""
    out = io.BytesIO()
    first, second = (Image.effect_noise((40, 30), 40) for _ in range(2))
    first.save(out, "MPO", save_all=True, append_images=[second])
    return out.getvalue()


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_is_kept_once_and_shown_to_the_crew(one: Garage, kind: str) -> None:
    """R3: sent twice it is kept once; a browser that has it asks whether it still may show it."""
    bram, kofi = one.phones["bram"], one.phones["kofi"]
    body = picture(kind, xmp=XMP_PLAIN)

    assert put(bram, body, KINDS[kind]).json() == {"sha256": name_of(body), "new": True}
    assert put(kofi, body, KINDS[kind]).json()["new"] is False

    got = kofi.ask("GET", f"{kofi.home}/photos/{name_of(body)}")
    assert (got.status_code, got.content, got.headers["content-type"]) == (200, body, KINDS[kind])
    assert got.headers["cache-control"] == "private, no-cache"
    again = kofi.ask(
        "GET", f"{kofi.home}/photos/{name_of(body)}", headers={"If-None-Match": got.headers["etag"]}
    )
    assert (again.status_code, again.content) == (304, b"")


REFUSED: dict[str, tuple[Callable[[], bytes], str, str]] = {
    "a position in EXIF": (lambda: picture(gps=True), "image/jpeg", "photo_says_where"),
    "a position in a PNG": (lambda: picture("PNG", gps=True), "image/png", "photo_says_where"),
    "a position in a WebP": (lambda: picture("WEBP", gps=True), "image/webp", "photo_says_where"),
    "a position in XMP": (lambda: picture(xmp=XMP_PLACE), "image/jpeg", "photo_says_where"),
    "a film behind it": (lambda: picture() + b"\0\0\0\x18ftypmp42", "image/jpeg", "photo_says_where"),
    "cut short": (lambda: picture(size=(640, 480))[:-900], "image/jpeg", "photo_unreadable"),
    "another kind than it says": (lambda: picture("PNG"), "image/jpeg", "photo_unreadable"),
    "no picture": (lambda: b"\xff\xd8\xff" + b"words" * 50, "image/jpeg", "photo_unreadable"),
    "nothing": (lambda: b"", "image/jpeg", "photo_unreadable"),
    "several in one": (several, "image/jpeg", "photo_unreadable"),
    "unfolding without end": (unfolding, "image/png", "photo_too_large"),
}


@pytest.mark.parametrize(("made", "kind", "code"), REFUSED.values(), ids=REFUSED.keys())
def test_what_is_no_photo_or_says_where_is_refused(
    one: Garage, made: Callable[[], bytes], kind: str, code: str
) -> None:
    """R32: a clear word, and nothing is kept."""
    bram, body = one.phones["bram"], made()

    answer = put(bram, body, kind)

    assert (answer.status_code, answer.json()["code"]) == (422, code)
    assert answer.json()["way_on"]
    assert bram.get(f"{bram.home}/photos/{name_of(body)}", 404)["code"] == "not_sent_yet"


def test_bytes_under_another_name_and_from_who_only_looks(one: Garage) -> None:
    bram, vera, body = one.phones["bram"], one.phones["vera"], picture()
    assert put(bram, body, name="0" * 64).json()["code"] == "photo_differs"
    assert put(vera, body).json()["code"] == "viewer"


def test_r1_a_withdrawn_photo_is_gone_and_never_taken_again(garage: Garage) -> None:
    """R1: bytes, name and caches go; a phone that still holds them can't bring them back. On each engine."""
    ines, bram = garage.phones["ines"], garage.phones["bram"]
    other, body = picture(size=(90, 60)), picture()
    for one in (body, other):
        put(bram, one)
    bram.act("/snags", 200, what_text="scratched", photo=name_of(body))
    (payload,) = photo_payloads(garage)
    assert ines.get(f"{ines.home}/payloads/{payload}")["photo"] == name_of(body)

    done = ines.act(f"/payloads/{payload}/withdraw", 200, reason="other")

    assert done["status"] == "accepted"
    told = bram.sync()["rows"]
    assert [one["id"] for one in told if one["kind"] == "withdrawal"] == [payload]
    assert bram.get(f"{bram.home}/photos/{name_of(body)}", 410)["code"] == "withdrawn"
    assert (put(bram, body).status_code, put(bram, body).json()["code"]) == (410, "withdrawn")
    assert bram.get(f"{bram.home}/payloads/{payload}", 410)["code"] == "withdrawn"
    assert bram.ask("GET", f"{bram.home}/photos/{name_of(other)}").content == other
    with garage.service.database.read() as connection:
        gone = connection.exec_driver_sql("SELECT mark FROM gone_photos").scalar()
    assert gone is not None
    assert name_of(body) not in gone


def test_r1_a_photo_that_two_entries_show_stays_until_both_are_withdrawn(one: Garage) -> None:
    """R1: and a photo that never came is refused just so when its note was withdrawn first."""
    ines, bram, body = one.phones["ines"], one.phones["bram"], picture()
    for words in ("scratched", "the other side"):
        bram.act("/snags", 200, what_text=words, photo=name_of(body))
    first, second = photo_payloads(one)
    ines.act(f"/payloads/{first}/withdraw", 200, reason="other")
    assert put(bram, body).status_code == 200
    ines.act(f"/payloads/{second}/withdraw", 200, reason="other")
    assert bram.get(f"{bram.home}/photos/{name_of(body)}", 410)["code"] == "withdrawn"


def photo_payloads(garage: Garage) -> list[str]:
    with garage.service.database.read() as connection:
        found = connection.exec_driver_sql("SELECT id FROM payloads WHERE kind = 'photo'").all()
    return [row[0] for row in found]
