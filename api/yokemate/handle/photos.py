"""A photo's bytes at the door: looked at before they are kept, and never taken again once withdrawn (R1)."""

from __future__ import annotations

import hashlib
import hmac
import io

from PIL import ExifTags, Image

from yokemate.rules.refusals import Refused
from yokemate.store import ledger, payloads
from yokemate.store.engine import Connection, Database

FORMATS = {"image/jpeg": "JPEG", "image/png": "PNG", "image/webp": "WEBP"}
MOST_PIXELS = 24_000_000  # the app sends 3 million; a picture that unfolds to more is not decoded
POSITION_WORDS = (b"gpslatitude", b"gpslongitude", b"gpsposition")  # as XMP has them
FILMS = (b"ftypmp4", b"ftypiso", b"ftypqt")  # a film hung on behind the picture, which may say where


def look_at(sha256: str, kind: str, body: bytes) -> None:
    """Refuse bytes that are not the photo named, can't be read to the end, are too large or say where it was taken."""
    if hashlib.sha256(body).hexdigest() != sha256:
        raise Refused("photo_differs")
    try:
        with Image.open(io.BytesIO(body), formats=[FORMATS[kind]]) as picture:
            width, height = picture.size
            if width * height > MOST_PIXELS:
                raise Refused("photo_too_large", limit_mpx=MOST_PIXELS // 1_000_000)
            single = picture.format == FORMATS[kind]  # a JPEG may turn out to hold several
            placed = _says_where(picture, body)
            picture.draft("L", (64, 64))  # a JPEG is read to its end at an eighth of its size
            picture.load()
    except Refused:
        raise
    except Exception as wrong:  # whatever a reader of foreign bytes stumbles over, they are no picture
        raise Refused("photo_unreadable") from wrong
    if not single:
        raise Refused("photo_unreadable")
    if placed:
        raise Refused("photo_says_where")


def _says_where(picture: Image.Image, body: bytes) -> bool:
    """EXIF has a directory of its own for positions; XMP and what hangs behind a picture are searched as bytes."""
    exif = picture.getexif()
    lowered = body.lower()
    return (
        bool(exif.get_ifd(ExifTags.IFD.GPSInfo))
        or any(word in lowered for word in POSITION_WORDS)
        or any(film in body for film in FILMS)
    )


def mark_of(secret: bytes, build: str, sha256: str) -> str:
    """What is remembered of a withdrawn photo: without the service's key it can't be held against a photo."""
    return hmac.digest(secret, f"photo\0{build}\0{sha256}".encode(), hashlib.sha256).hex()


def keep_photo(
    database: Database, secret: bytes, build: str, sha256: str, kind: str, body: bytes, by: str, now_ms: int
) -> bool:
    """Keep a photo's bytes once; False when they are here already. Refuses what was withdrawn."""
    look_at(sha256, kind, body)
    with database.write() as connection:
        # One at a time with whoever writes to this build: a withdrawal can't slip in between looking and keeping.
        ledger.lock_head(connection, build)
        if payloads.is_gone(connection, build, mark_of(secret, build, sha256)):
            raise Refused("withdrawn")
        return payloads.put_photo(connection, build, sha256, kind, body, by, now_ms)


def photo(connection: Connection, secret: bytes, build: str, sha256: str) -> tuple[str, bytes]:
    """A photo's kind and bytes; refused as withdrawn, or as not here yet."""
    found = payloads.photo(connection, build, sha256)
    if found is not None:
        return found
    gone = payloads.is_gone(connection, build, mark_of(secret, build, sha256))
    raise Refused("withdrawn" if gone else "not_sent_yet")
