"""What kind of picture some bytes are, by the bytes themselves: what they are called is not asked."""

from __future__ import annotations

JPEG, PNG, WEBP, HEIC = "image/jpeg", "image/png", "image/webp", "image/heic"
ENDINGS = {JPEG: "jpg", PNG: "png", WEBP: "webp", HEIC: "heic"}
"""The types that are taken, each with the ending of its files."""

_HEIC_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})


def photo_type(content: bytes) -> str | None:
    """The type of a photo, or None for anything else.

    JPEG begins with its start marker and another (ITU-T T.81, B.1.1.3), PNG with its signature and its
    header chunk (ISO/IEC 15948, 5.2 and 11.2.2), WebP with its RIFF header (RFC 9649, 2.4), HEIC with a file
    type box that names one of its brands (ISO/IEC 23008-12, 10.2; ISO/IEC 14496-12, 4.3). The clauses are
    named from memory.

    >>> photo_type(b"\\x89PNG\\r\\n\\x1a\\n\\x00\\x00\\x00\\rIHDR")
    'image/png'
    >>> photo_type(b"<svg onload='...'>")
    """
    if content.startswith(b"\xff\xd8\xff"):
        return JPEG
    if content.startswith(b"\x89PNG\r\n\x1a\n") and content[12:16] == b"IHDR":
        return PNG
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP" and content[12:15] == b"VP8":
        return WEBP
    if content[4:8] == b"ftyp" and _heic_brands(content):
        return HEIC
    return None


def _heic_brands(content: bytes) -> bool:
    size = int.from_bytes(content[:4], "big")
    if not 16 <= size <= 256:
        return False
    brands = [content[8:12], *(content[at : at + 4] for at in range(16, size, 4))]
    return any(brand in _HEIC_BRANDS for brand in brands)
