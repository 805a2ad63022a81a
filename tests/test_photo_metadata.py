"""A photo on the site says nothing about where, when or by whom it was taken, and shows the same pixels."""

from __future__ import annotations

import struct
import zlib

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.photo_metadata import without_metadata

SCAN = b"\x12\x34\xff\x00\x56\xff\xd0\x78"  # a stuffed byte and a restart belong to the picture


def segment(marker: int, content: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(content) + 2) + content


def exif(orientation: int, place: bytes = b"GPS 52.1 N 4.3 E") -> bytes:
    entries = struct.pack("<HHIHH", 0x0112, 3, 1, orientation, 0) + struct.pack("<HHII", 0x8825, 4, 1, 99)
    return b"Exif\0\0II*\0" + struct.pack("<I", 8) + struct.pack("<H", 2) + entries + b"\0\0\0\0" + place


def jpeg(*extra: bytes, after: bytes = b"") -> bytes:
    body = segment(0xE0, b"JFIF\0\x01\x02") + b"".join(extra)
    frame = segment(0xDB, b"table") + segment(0xC0, b"\x08\x00\x10\x00\x20\x01") + segment(0xC4, b"codes")
    return b"\xff\xd8" + body + frame + segment(0xDA, b"\x01") + SCAN + b"\xff\xd9" + after


def test_place_comment_preview_and_what_hides_behind_the_end_go() -> None:
    secret = (segment(0xE1, exif(1)), segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0who"), segment(0xFE, b"by RV"))
    cleaned = without_metadata(jpeg(*secret, segment(0xED, b"Photoshop 3.0\0where"), after=b"\xff\xd8second picture"))
    assert cleaned == jpeg()


def test_colours_stay() -> None:
    profile = segment(0xE2, b"ICC_PROFILE\0\x01\x01colours")
    adobe = segment(0xEE, b"Adobe\0\x64")
    assert without_metadata(jpeg(profile, adobe)) == jpeg(profile, adobe)
    assert without_metadata(jpeg(segment(0xE2, b"MPF\0more pictures"))) == jpeg()


def test_which_way_up_stays_and_nothing_else_of_the_exif() -> None:
    cleaned = without_metadata(jpeg(segment(0xE1, exif(6))))
    assert b"GPS" not in cleaned and b"\x88\x25" not in cleaned
    assert cleaned.count(b"Exif\0\0MM\0*") == 1
    start = cleaned.index(b"\x01\x12\x00\x03\x00\x00\x00\x01")
    assert cleaned[start + 8 : start + 10] == b"\x00\x06"
    assert without_metadata(cleaned) == cleaned
    behind_another = jpeg(segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0who"), segment(0xE1, exif(6)))
    assert without_metadata(behind_another) == cleaned


def chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def test_a_png_keeps_its_pixels_and_loses_its_notes() -> None:
    head = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", b"\0" * 13)
    pixels = chunk(b"IDAT", b"pixels")
    noted = head + chunk(b"tEXt", b"Author\0RV") + chunk(b"eXIf", b"II*\0GPS") + chunk(b"iTXt", b"where") + pixels
    assert without_metadata(noted + chunk(b"IEND", b"") + b"more") == head + pixels + chunk(b"IEND", b"")


def riff(*chunks: tuple[bytes, bytes]) -> bytes:
    made = [kind + struct.pack("<I", len(content)) + content + b"\0" * (len(content) % 2) for kind, content in chunks]
    body = b"WEBP" + b"".join(made)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def test_a_webp_loses_its_notes_and_no_longer_promises_them() -> None:
    noted = riff((b"VP8X", b"\x2c" + b"\0" * 9), (b"VP8 ", b"pixels!"), (b"EXIF", b"GPS"), (b"XMP ", b"<who/>"))
    assert without_metadata(noted) == riff((b"VP8X", b"\x20" + b"\0" * 9), (b"VP8 ", b"pixels!"))


def test_what_is_no_picture_or_cut_short_comes_back_as_it_was() -> None:
    for data in (
        b"",
        b"text",
        b"<svg/>",
        jpeg()[:-12],
        b"\xff\xd8\xff",
        b"\x89PNG\r\n\x1a\n\0\0",
        b"RIFF\0\0\0\0WEBPEXIF\xff\xff",
    ):
        assert without_metadata(data) == data


@settings(max_examples=80, deadline=None)
@given(st.binary(max_size=200), st.sampled_from([b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\x10\0\0\0WEBP", b""]))
def test_no_bytes_make_it_fail_or_grow(rest: bytes, start: bytes) -> None:
    data = start + rest
    assert len(without_metadata(data)) <= len(data) + 40
