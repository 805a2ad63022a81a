"""What the first bytes of a picture say: its format and its size in pixels. No picture is decoded."""

from __future__ import annotations

import re

HEADER_BYTES = 65_536  # a camera's preview stands before the size in a JPEG; beyond that the size stays unknown
PICTURE_SUFFIXES = (".png", ".jpg", ".jpeg", ".webp", ".svg")

Header = tuple[str, int | None, int | None]
_NOTHING: Header = ("", None, None)

_SVG = re.compile(
    # Possessive, so that a long run of spaces is looked at once.
    rb"(?:\s++|<\?xml[^>]*+>|<!--.*?-->|<!DOCTYPE[^>\[]*+(?:\[[^\]]*+\]\s*+)?>)*+<svg[\s>]",
    re.DOTALL,
)
# Start-of-frame markers carry the size (ITU-T T.81, table B.1): C0..CF without DHT, JPG and DAC.
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


def read_header(data: bytes) -> Header:
    """Format (``png``, ``jpeg``, ``webp``, ``svg``, or empty), width and height in pixels as stored."""
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return _png(data)
    if data.startswith(b"\xff\xd8\xff"):
        return _jpeg(data)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return _webp(data)
    if _SVG.match(data.removeprefix(b"\xef\xbb\xbf")):
        return "svg", None, None
    return _NOTHING


def _png(data: bytes) -> Header:
    """PNG (W3C, third edition), 11.2.1: IHDR is the first chunk, width and height its first fields."""
    if data[12:16] != b"IHDR" or len(data) < 24:
        return _NOTHING
    return "png", int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")


def _jpeg(data: bytes) -> Header:
    """ITU-T T.81, B.1.1 and B.2.2: segments with their length until a start of frame."""
    at = 2
    while at + 9 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:  # fill byte
            at += 1
        elif marker in _FRAMES:
            return (
                "jpeg",
                int.from_bytes(data[at + 7 : at + 9], "big"),
                int.from_bytes(data[at + 5 : at + 7], "big"),
            )
        elif marker == 0x01 or 0xD0 <= marker <= 0xD8:  # these have no length
            at += 2
        else:
            at += 2 + max(int.from_bytes(data[at + 2 : at + 4], "big"), 2)
    return "jpeg", None, None


def _webp(data: bytes) -> Header:
    """RFC 9649 (WebP): 2.5 simple lossy (RFC 6386, 9.1), 3.4 lossless header, 2.7 extended header."""
    kind = data[12:16]
    if kind == b"VP8X" and len(data) >= 30:
        return "webp", 1 + int.from_bytes(data[24:27], "little"), 1 + int.from_bytes(data[27:30], "little")
    if kind == b"VP8 " and data[23:26] == b"\x9d\x01\x2a" and len(data) >= 30:
        width, height = int.from_bytes(data[26:28], "little"), int.from_bytes(data[28:30], "little")
        return "webp", width & 0x3FFF, height & 0x3FFF
    if kind == b"VP8L" and data[20:21] == b"\x2f" and len(data) >= 25:
        bits = int.from_bytes(data[21:25], "little")
        return "webp", 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return "webp", None, None
