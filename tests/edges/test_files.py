"""The edge to the disk: what stands in a folder is read, refused or left alone, and never opened, followed or written
where it should not be."""

from __future__ import annotations

import base64
import os
import socket
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.edges import files
from benchleaf.edges.files import OutsideFolder, read_library, write_files
from benchleaf.file_names import shown_name
from benchleaf.parse import parse_front_matter, parse_yaml
from benchleaf.photo_headers import read_header
from benchleaf.source import AssetInfo, Source


def _put(folder: Path, path: str, data: bytes = b"a: b\n") -> Path:
    target = folder / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(data)
    return target


def _codes(folder: Path, **limits: int) -> list[tuple[str, str]]:
    return [(finding.code, finding.place.file) for finding in read_library(folder, **limits)[2]]


def test_records_come_in_order_of_their_paths_and_with_line_feeds_only(tmp_path: Path) -> None:
    _put(tmp_path, "shop.yaml", b"record: shop\r\nname: A\r")
    _put(tmp_path, "bc300/codes/e2.md", b"\xef\xbb\xbf---\ncode: E2\n---\n")
    _put(tmp_path, "bc300/machine.yaml", "name: Ofen, 12 Ω\n".encode())
    sources, assets, findings = read_library(tmp_path)
    assert findings == ()
    assert assets == ()
    assert sources == (
        Source("bc300/codes/e2.md", "---\ncode: E2\n---\n"),
        Source("bc300/machine.yaml", "name: Ofen, 12 Ω\n"),
        Source("shop.yaml", "record: shop\nname: A\n"),
    )


def test_hidden_files_and_folders_are_left_alone(tmp_path: Path) -> None:
    _put(tmp_path, ".git/config.yaml")
    _put(tmp_path, ".x.yaml")
    _put(tmp_path, "a.yaml")
    assert [source.path for source in read_library(tmp_path)[0]] == ["a.yaml"]


def test_other_files_are_listed_with_their_size(tmp_path: Path) -> None:
    _put(tmp_path, "notes.txt", b"12345")
    assert read_library(tmp_path)[1:] == ((AssetInfo("notes.txt", 5),), ())


@pytest.mark.parametrize("name", ["x.yml", "x.YAML", "x.Md"])
def test_another_ending_is_read_with_a_warning(tmp_path: Path, name: str) -> None:
    _put(tmp_path, name)
    sources, _, findings = read_library(tmp_path)
    assert [source.path for source in sources] == [name]
    assert [(finding.code, finding.severity) for finding in findings] == [("file-ending", Severity.WARNING)]


def test_a_huge_file_is_refused_without_being_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _put(tmp_path, "a.yaml")
    with (tmp_path / "big.yaml").open("wb") as big:
        big.truncate(200_000_000)
    opened: list[str] = []
    real_open = os.open

    def watched(path: str, flags: int, *rest: int) -> int:
        opened.append(Path(path).name)
        return real_open(path, flags, *rest)

    monkeypatch.setattr(files.os, "open", watched)
    sources, _, findings = read_library(tmp_path)
    assert [source.path for source in sources] == ["a.yaml"]
    assert opened == ["a.yaml"]
    assert [(finding.code, str(finding.place)) for finding in findings] == [("file-too-large", "big.yaml:1:1")]
    assert "200.0 MB" in findings[0].message


def test_a_file_that_grows_while_it_is_read_is_still_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = _put(tmp_path, "a.yaml", b"a: b\n")
    real_open = os.open

    def grows(path: str, flags: int, *rest: int) -> int:
        target.write_bytes(b"a: b\n" * 100)
        return real_open(path, flags, *rest)

    monkeypatch.setattr(files.os, "open", grows)
    assert _codes(tmp_path, limit_bytes=50) == [("file-too-large", "a.yaml")]


def test_a_library_that_is_too_large_together_is_not_read(tmp_path: Path) -> None:
    for number in range(5):
        _put(tmp_path, f"{number}.yaml", b"a: b\n")
    assert _codes(tmp_path, total_bytes=25) == []
    assert _codes(tmp_path, total_bytes=24) == [("library-too-large", ".")]
    assert read_library(tmp_path, total_bytes=24)[0] == ()


@pytest.mark.parametrize(
    ("data", "line", "column"),
    [
        (b"a: b\nc: \xb0C\n", 2, 4),
        (b"a: \xce\xa9 \xff\n", 1, 6),
        (b"\xef\xbb\xbfa: \xe9\n", 1, 4),
        (b"a: b\r\nc: d\rx \xed\xa0\x80\n", 3, 3),
        (b"a: \xc0\x80\n", 1, 4),
        ("a: b\n".encode("utf-16"), 1, 1),
        (b"a: b\xce", 1, 5),
    ],
)
def test_the_first_byte_that_is_no_utf_8_is_named_with_its_place(
    tmp_path: Path, data: bytes, line: int, column: int
) -> None:
    _put(tmp_path, "x.yaml", data)
    sources, _, findings = read_library(tmp_path)
    assert sources == ()
    assert [(f.code, f.place.line, f.place.column) for f in findings] == [("not-utf-8", line, column)]


def test_a_byte_of_an_older_encoding_is_named_as_the_letter_it_may_have_been(tmp_path: Path) -> None:
    _put(tmp_path, "x.yaml", b"a: 180 \xb0C\n")
    assert "B0 (perhaps '°'" in read_library(tmp_path)[2][0].message


def test_a_link_out_of_the_folder_is_refused_and_not_read(tmp_path: Path) -> None:
    outside = _put(tmp_path, "outside/secret.yaml")
    content = tmp_path / "content"
    _put(content, "a.yaml")
    (content / "b.yaml").symlink_to(outside)
    (content / "c.yaml").symlink_to("../outside/secret.yaml")
    (content / "d").symlink_to(tmp_path / "outside")
    (content / "e.yaml").symlink_to("d/secret.yaml")
    sources, _, findings = read_library(content)
    assert [source.path for source in sources] == ["a.yaml"]
    assert [(f.code, f.place.file) for f in findings] == [
        ("link-leaves-content", name) for name in ("b.yaml", "c.yaml", "d", "e.yaml")
    ]


def test_a_folder_beside_with_a_longer_name_is_outside_too(tmp_path: Path) -> None:
    _put(tmp_path, "content-old/x.yaml")
    content = tmp_path / "content"
    content.mkdir()
    (content / "x.yaml").symlink_to("../content-old/x.yaml")
    assert _codes(content) == [("link-leaves-content", "x.yaml")]


def test_a_link_to_a_file_inside_is_read(tmp_path: Path) -> None:
    _put(tmp_path, "photos/a.txt", b"12")
    (tmp_path / "b.txt").symlink_to("photos/a.txt")
    assert read_library(tmp_path)[1:] == ((AssetInfo("b.txt", 2), AssetInfo("photos/a.txt", 2)), ())


def test_the_content_folder_itself_may_be_a_link(tmp_path: Path) -> None:
    _put(tmp_path, "real/a.yaml")
    (tmp_path / "content").symlink_to("real")
    assert [source.path for source in read_library(tmp_path / "content")[0]] == ["a.yaml"]


def test_links_in_a_circle_or_to_nowhere_are_named_and_not_followed(tmp_path: Path) -> None:
    _put(tmp_path, "a/x.yaml")
    (tmp_path / "a" / "up").symlink_to("..")
    (tmp_path / "a" / "self").symlink_to("self")
    (tmp_path / "a" / "gone.yaml").symlink_to("gone2.yaml")
    assert _codes(tmp_path) == [("dead-link", "a/gone.yaml"), ("dead-link", "a/self"), ("folder-link", "a/up")]


def test_pipes_and_sockets_are_named_and_never_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    monkeypatch.chdir(tmp_path)  # the path of a socket is short
    with socket.socket(socket.AF_UNIX) as made:
        made.bind("socket.md")
        assert _codes(tmp_path) == [("not-a-file", "pipe.yaml"), ("not-a-file", "socket.md")]


def test_a_pipe_put_in_the_place_of_a_file_is_not_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = _put(tmp_path, "a.yaml")
    real_open = os.open

    def exchanged(path: str, flags: int, *rest: int) -> int:
        target.unlink()
        os.mkfifo(target)
        return real_open(path, flags, *rest)

    monkeypatch.setattr(files.os, "open", exchanged)
    assert _codes(tmp_path) == [("unreadable-file", "a.yaml")]


def test_what_the_system_does_not_let_us_read_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _put(tmp_path, "a.yaml")
    _put(tmp_path, "p.png")
    _put(tmp_path, "shut/b.yaml")
    real_scan = os.scandir

    def refuse(path: str, *rest: int) -> int:
        raise PermissionError(13, "Permission denied")

    def refuse_shut(path: str) -> object:
        return refuse(path) if path.endswith("shut") else real_scan(path)

    monkeypatch.setattr(files.os, "open", refuse)
    monkeypatch.setattr(files.os, "scandir", refuse_shut)
    assert _codes(tmp_path) == [("unreadable-file", name) for name in ("a.yaml", "p.png", "shut")]


def test_a_folder_that_is_not_there_is_a_finding(tmp_path: Path) -> None:
    assert _codes(tmp_path / "none") == [("content-missing", ".")]
    assert _codes(_put(tmp_path, "file")) == [("content-missing", ".")]


def test_folders_in_folders_without_end_are_not_gone_into(tmp_path: Path) -> None:
    _put(tmp_path, "/".join("x" * 12) + "/a.yaml")
    assert [source.path for source in read_library(tmp_path)[0]] == ["/".join("x" * 12) + "/a.yaml"]
    _put(tmp_path, "/".join("x" * 13) + "/a.yaml")
    assert _codes(tmp_path) == [("folder-too-deep", "/".join("x" * 13))]


# (name as bytes, name as it is shown)
ODD = [
    (b"-rf.yaml", "-rf.yaml"),
    (b"a .yaml ", "a .yaml "),
    (b" a.yaml", " a.yaml"),
    (b"a.", "a."),
    (b"a\nb.yaml", "a\\nb.yaml"),
    (b"a\x1b[31m.yaml", "a\\x1b[31m.yaml"),
    (b"\xff.yaml", "\\xff.yaml"),
    ("a\u202egnp.yaml".encode(), "a\\u202egnp.yaml"),
    (b"a\\b.yaml", "a\\b.yaml"),
    (b"a:b.yaml", "a:b.yaml"),
    (b"a?.yaml", "a?.yaml"),
    (b"CON.yaml", "CON.yaml"),
    (b"nul", "nul"),
    (b"Com1.md", "Com1.md"),
    (b"a" * 220 + b".yaml", "a" * 220 + ".yaml"),
]


@pytest.mark.parametrize(("name", "shown"), ODD, ids=[shown[:20] for _, shown in ODD])
def test_a_name_that_does_not_work_everywhere_is_named(tmp_path: Path, name: bytes, shown: str) -> None:
    Path(os.fsdecode(os.fsencode(tmp_path) + b"/" + name)).write_bytes(b"a: b\n")
    found = [finding for finding in read_library(tmp_path)[2] if finding.code == "odd-file-name"]
    assert [finding.place.file for finding in found] == [shown]
    shown.encode("utf-8")


@pytest.mark.parametrize("name", ["e12.md", "Größe 2.yaml", "rear_guard.v2.yaml", "console.yaml", "日本.yaml", "a.b"])
def test_a_name_that_works_everywhere_is_not_named(tmp_path: Path, name: str) -> None:
    _put(tmp_path, name)
    assert _codes(tmp_path) == []


@pytest.mark.parametrize(
    ("first", "second"),
    [("E12.md", "e12.md"), ("a/x.yaml", "A/y.yaml"), ("\xe9.yaml", "e\u0301.yaml"), ("straße.md", "STRASSE.md")],
)
def test_names_that_some_systems_take_for_one_are_named(tmp_path: Path, first: str, second: str) -> None:
    _put(tmp_path, first)
    _put(tmp_path, second)
    findings = read_library(tmp_path)[2]
    assert [finding.code for finding in findings] == ["names-clash"]
    places = {findings[0].place.file, findings[0].related[0][0].file}
    assert places == {first.split("/")[0], second.split("/")[0]}


# One pixel by one, as bytes, from memory of what image programs write; the sizes in the parametrized cases below are
# set by hand in the fields that the formats' specifications name.
PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)
WEBP_LOSSY = base64.b64decode("UklGRiIAAABXRUJQVlA4IBYAAAAwAQCdASoBAAEADsD+JaQAA3AAAAAA")
WEBP_LOSSLESS = base64.b64decode("UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA==")


def _segment(marker: int, body: bytes) -> bytes:
    return bytes([0xFF, marker]) + (len(body) + 2).to_bytes(2, "big") + body


def _frame(marker: int, width: int, height: int) -> bytes:
    return _segment(marker, b"\x08" + height.to_bytes(2, "big") + width.to_bytes(2, "big") + b"\x01\x01\x11\x00")


def _extended(width: int, height: int) -> bytes:
    body = b"\x10\0\0\0" + (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    return b"RIFF" + (4 + 8 + len(body)).to_bytes(4, "little") + b"WEBPVP8X" + (10).to_bytes(4, "little") + body


HEADERS = [
    ("png", PNG, 1, 1),
    ("png", PNG[:16] + (4032).to_bytes(4, "big") + (3024).to_bytes(4, "big") + PNG[24:], 4032, 3024),
    ("webp", WEBP_LOSSY, 1, 1),
    (
        "webp",
        WEBP_LOSSY[:26] + (640 | 0x4000).to_bytes(2, "little") + (480).to_bytes(2, "little") + b"\0" * 4,
        640,
        480,
    ),
    ("webp", WEBP_LOSSLESS, 1, 1),
    ("webp", WEBP_LOSSLESS[:21] + (639 | 479 << 14).to_bytes(4, "little"), 640, 480),
    ("webp", _extended(4032, 3024), 4032, 3024),
    ("jpeg", b"\xff\xd8" + _segment(0xE0, b"JFIF\0") + _frame(0xC0, 640, 480), 640, 480),
    ("jpeg", b"\xff\xd8" + _segment(0xE1, b"\xff\xc0" * 20_000) + b"\xff" + _frame(0xC2, 4032, 3024), 4032, 3024),
    ("jpeg", b"\xff\xd8" + _segment(0xC4, b"\0" * 40) + _frame(0xC1, 7, 9), 7, 9),
    ("svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>', None, None),
    (
        "svg",
        b"\xef\xbb\xbf<?xml version='1.0'?>\n<!-- <svg> -->\n<!DOCTYPE svg [<!ENTITY a 'b'>]>\n<svg\n>",
        None,
        None,
    ),
    ("", b"<html><svg>", None, None),
    ("", b"GIF89a\1\0\1\0", None, None),
    ("", b"\x89PNG\r\n\x1a\n", None, None),
    ("", b"", None, None),
    ("", b" " * 65_536, None, None),
    ("", b"<!DOCTYPE" + b" " * 65_000, None, None),
    ("", b"<!---->" * 9_000, None, None),
]


@pytest.mark.parametrize(("kind", "data", "width", "height"), HEADERS, ids=range(len(HEADERS)))
def test_a_picture_is_known_by_its_first_bytes(kind: str, data: bytes, width: int | None, height: int | None) -> None:
    assert read_header(data) == (kind, width, height)


@settings(max_examples=200, deadline=None)
@given(st.sampled_from([case[1] for case in HEADERS]), st.integers(0, 80), st.binary(max_size=40))
def test_a_broken_picture_is_a_picture_or_none(data: bytes, cut: int, more: bytes) -> None:
    kind, width, height = read_header(data[:cut] + more)
    assert kind in ("", "png", "jpeg", "webp", "svg")
    assert (width is None) == (height is None)


def test_a_picture_is_listed_and_one_that_is_none_is_named(tmp_path: Path) -> None:
    _put(tmp_path, "a.jpg", PNG)
    _put(tmp_path, "b.PNG", b"MZ")
    _, assets, findings = read_library(tmp_path)
    assert assets == (AssetInfo("a.jpg", len(PNG), "png", 1, 1), AssetInfo("b.PNG", 2))
    assert [(finding.code, finding.place.file) for finding in findings] == [("not-a-picture", "b.PNG")]


@settings(max_examples=100, deadline=None)
@given(st.dictionaries(st.text("abA./\\-é\n ", min_size=1, max_size=6), st.binary(max_size=40), max_size=4))
def test_junk_bytes_under_any_name_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, junk: dict[str, bytes]
) -> None:
    folder = tmp_path_factory.mktemp("junk")
    names = set()
    for number, (name, data) in enumerate(sorted(junk.items())):
        names.add(f"{number}{name.replace('/', '_')}.{'md' if number % 2 else 'yaml'}")
        _put(folder, max(names), data)
    sources, _, findings = read_library(folder)
    met = {source.path for source in sources} | {finding.place.file for finding in findings}
    assert met == {shown_name(name) for name in names}
    for source in sources:
        assert "\r" not in source.text
        parse_yaml(source)
        parse_front_matter(source)


def test_the_same_folder_gives_the_same_values(tmp_path: Path) -> None:
    for name in ("b.yaml", "a/z.md", "a/b.yml", "c.png", "-x.yaml"):
        _put(tmp_path, name)
    assert read_library(tmp_path) == read_library(tmp_path)


def test_files_are_written_below_the_folder_and_read_again(tmp_path: Path) -> None:
    written = write_files(tmp_path / "new", {"b/c.yaml": "a: Ω\n", "a.bin": b"\r\n\0"})
    assert [path.relative_to(tmp_path).as_posix() for path in written] == ["new/a.bin", "new/b/c.yaml"]
    assert (tmp_path / "new/a.bin").read_bytes() == b"\r\n\0"
    assert read_library(tmp_path / "new")[0] == (Source("b/c.yaml", "a: Ω\n"),)


BAD_TARGETS = [
    *["../x", "a/../../x", "/etc/x", "", ".", "a//b", "a/", "./a", "a\\..\\b", "C:x", "a\0b", "a\nb", "-a", "a/nul.md"],
    "a" * 300,
]


@pytest.mark.parametrize("name", BAD_TARGETS, ids=repr)
def test_nothing_is_written_when_one_path_leads_outside_or_is_odd(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "site"
    with pytest.raises(OutsideFolder):
        write_files(folder, {"0.txt": "fine", name: "x"})
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("names", [("E12.html", "e12.html"), ("A/x", "a/y"), ("\xe9", "e\u0301")])
def test_paths_that_some_systems_take_for_one_are_not_written(tmp_path: Path, names: tuple[str, str]) -> None:
    with pytest.raises(OutsideFolder):
        write_files(tmp_path, dict.fromkeys(names, ""))
    assert list(tmp_path.iterdir()) == []


def test_a_link_in_the_way_is_not_written_through(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    _put(outside, "f.txt", b"kept")
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "out").symlink_to(outside)
    (folder / "f.txt").symlink_to(outside / "f.txt")
    for name in ("out/new.txt", "out/deep/new.txt", "f.txt"):
        with pytest.raises(OutsideFolder):
            write_files(folder, {"fine.txt": "", name: "x"})
    assert [path.name for path in outside.iterdir()] == ["f.txt"]
    assert (outside / "f.txt").read_bytes() == b"kept"
    assert not (folder / "fine.txt").exists()


def test_a_finding_of_a_file_is_an_error_with_a_way_out(tmp_path: Path) -> None:
    _put(tmp_path, "-x.yaml")
    assert read_library(tmp_path)[2] == (
        Finding(
            "odd-file-name",
            "the file name begins with a hyphen, which commands take for a switch",
            Place("-x.yaml", 1, 1),
            "use letters, digits, hyphens, underscores and dots",
        ),
    )
