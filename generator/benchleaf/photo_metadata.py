"""A photo without what the camera noted beside it: where it was taken, by whom, with what, and its hidden preview.

Only the picture goes to the site: its pixels, its colours and which way up it is. Nothing is decoded; a file that is
not built as its format says comes back as it was.
"""

from __future__ import annotations

from collections.abc import Iterator

_KEPT_PNG = frozenset(
    {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"bKGD", b"pHYs"}
)
_APP0, _APP1, _APP2, _APP14, _APP15, _COM, _SOS, _EOI = 0xE0, 0xE1, 0xE2, 0xEE, 0xEF, 0xFE, 0xDA, 0xD9
_PNG = b"\x89PNG\r\n\x1a\n"
_ORIENTATION = 0x0112  # TIFF 6.0, section 8; Exif 2.3, 4.6.4


def without_metadata(data: bytes) -> bytes:
    """The picture alone, byte for byte the same pixels; other formats and broken files unchanged."""
    try:
        if data.startswith(b"\xff\xd8\xff"):
            return b"".join(_jpeg(data))
        if data.startswith(_PNG):
            return _PNG + b"".join(_png(data))
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return _webp(data)
    except (IndexError, ValueError):
        return data
    return data


def orientation(data: bytes) -> int:
    """Which way up a JPEG is to be shown, 1 to 8 (Exif 2.3, 4.6.4); 1 when it does not say or is none."""
    at = data.find(b"\xff\xe1", 2, 65_536)
    while at >= 0:
        size = int.from_bytes(data[at + 2 : at + 4], "big")
        if data[at + 4 : at + 10] == b"Exif\0\0":
            return _orientation(data[at + 10 : at + 2 + size])
        at = data.find(b"\xff\xe1", at + 2, 65_536)
    return 1


# ---- JPEG (ITU-T T.81, B.1.1: markers and segments)


def _jpeg(data: bytes) -> Iterator[bytes]:
    yield data[:2]
    at, turned = 2, 0
    while True:
        if data[at] != 0xFF:
            raise ValueError("no marker")
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        if marker == _EOI:
            yield data[at : at + 2]
            return
        if marker == 0x01 or 0xD0 <= marker <= 0xD7:
            yield data[at : at + 2]
            at += 2
            continue
        size = int.from_bytes(data[at + 2 : at + 4], "big")
        if size < 2:  # the length counts its own two bytes
            raise ValueError("no segment")
        end = at + 2 + size
        if end > len(data):
            raise ValueError("cut short")
        if marker == _APP1 and not turned and data[at + 4 : end].startswith(b"Exif\0\0"):
            turned = _orientation(data[at + 10 : end])
            if turned > 1:
                yield _only_orientation(turned)
        elif _is_picture(marker, data[at + 4 : end]):
            yield data[at:end]
        at = end
        if marker == _SOS:
            start, at = at, _end_of_scan(data, at)
            yield data[start:at]


def _is_picture(marker: int, content: bytes) -> bool:
    """Whether a segment has to do with the pixels: all but comments and what applications add, colours kept."""
    if marker == _COM:
        return False
    if _APP0 <= marker <= _APP15:
        kept = {_APP0: b"JFIF\0", _APP2: b"ICC_PROFILE\0", _APP14: b"Adobe"}.get(marker)
        return kept is not None and content.startswith(kept)
    return True


def _end_of_scan(data: bytes, at: int) -> int:
    """The marker after entropy-coded data: ``FF 00`` is a byte of it, restarts belong to it."""
    while True:
        at = data.index(b"\xff", at)
        following = data[at + 1]
        if following == 0x00 or 0xD0 <= following <= 0xD7:
            at += 2
        elif following == 0xFF:
            at += 1
        else:
            return at


def _orientation(tiff: bytes) -> int:
    """Which way up (1 to 8), from the first directory of Exif's TIFF; 1 when it does not say."""
    order = {b"II": "little", b"MM": "big"}.get(tiff[:2])
    if order is None:
        return 1

    def number(at: int, size: int) -> int:
        return int.from_bytes(tiff[at : at + size], "little" if order == "little" else "big")

    first = number(4, 4)
    for n in range(min(number(first, 2), 200)):
        entry = first + 2 + 12 * n
        if number(entry, 2) == _ORIENTATION:
            found = number(entry + 8, 2)
            return found if 1 <= found <= 8 else 1
    return 1


def _only_orientation(turned: int) -> bytes:
    """An Exif segment that says which way up and nothing else."""
    tiff = b"MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01" + turned.to_bytes(2, "big") + b"\0\0\0\0\0\0"
    content = b"Exif\0\0" + tiff
    return bytes((0xFF, _APP1)) + (len(content) + 2).to_bytes(2, "big") + content


# ---- PNG (W3C, third edition, 5.3: chunks) and WebP (RFC 9649, 2.3: RIFF)


def _png(data: bytes) -> Iterator[bytes]:
    at = len(_PNG)
    while at < len(data):
        end = at + 12 + int.from_bytes(data[at : at + 4], "big")
        if end > len(data):
            raise ValueError("cut short")
        kind = data[at + 4 : at + 8]
        if kind in _KEPT_PNG:
            yield data[at:end]
        if kind == b"IEND":
            return
        at = end
    raise ValueError("no end")


def _webp(data: bytes) -> bytes:
    kept, at = [], 12
    whole = 8 + int.from_bytes(data[4:8], "little")
    if whole <= at:
        raise ValueError("empty")
    while at < whole:
        size = int.from_bytes(data[at + 4 : at + 8], "little")
        end = at + 8 + size + size % 2
        if end > min(whole, len(data)):
            raise ValueError("cut short")
        kind, chunk = data[at : at + 4], data[at:end]
        if kind == b"VP8X":  # its flags no longer promise Exif or XMP
            chunk = chunk[:8] + bytes((chunk[8] & ~0x0C,)) + chunk[9:]
        if kind not in (b"EXIF", b"XMP "):
            kept.append(chunk)
        at = end
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + len(body).to_bytes(4, "little") + body
