"""Pictures as cameras and editors write them, for the tests of photos."""

from __future__ import annotations

import hashlib
import io

from PIL import ExifTags, Image

XMP = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" {said}/></rdf:RDF></x:xmpmeta>'
)  # fmt: skip
XMP_PLACE = XMP.format(said='exif:GPSLatitude="51,30.0N"').encode()
XMP_PLAIN = XMP.format(said='exif:ColorSpace="1"').encode()


def picture(
    kind: str = "JPEG", size: tuple[int, int] = (80, 60), *, gps: bool = False, xmp: bytes | None = None
) -> bytes:
    """A picture with a camera's name in it; with `gps` also where it was taken (EXIF 2.3, GPS IFD)."""
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "Field camera"
    if gps:
        exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] = "N"
        exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (51.0, 30.0, 0.0)
    out = io.BytesIO()
    more = {"xmp": xmp} if xmp is not None and kind != "PNG" else {}
    Image.effect_noise(size, 40).convert("RGB").save(out, kind, exif=exif, **more)
    return out.getvalue()


def name_of(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()
