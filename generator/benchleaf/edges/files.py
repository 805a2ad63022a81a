"""The edge to the disk: the author's folder as sources, photo facts and findings; our files written.

Nothing in a content folder can make it hang, crash, use up memory, or read or write outside: sizes are
looked at before reading, pipes and devices are never opened, links that lead out are refused, links to
folders are not followed.
"""

from __future__ import annotations

import errno
import os
import stat
import unicodedata
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path

from benchleaf.diagnostics import Finding, Place, Severity, in_order
from benchleaf.file_names import odd_name, shown_name
from benchleaf.frozen import dataclass
from benchleaf.photo_headers import HEADER_BYTES, PICTURE_SUFFIXES, read_header
from benchleaf.source import FILE_LIMIT, AssetInfo, Source

LIBRARY_LIMIT = 400_000_000  # bytes of text in one library; 10,000 records of 2 kB are 20 MB
FOLDER_DEPTH = 12

_RECORD_SUFFIXES = (".yaml", ".yml", ".md")
_BLOCK = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
_BINARY = getattr(os, "O_BINARY", 0)


class OutsideFolder(ValueError):
    """A file was to be written outside the folder it belongs in: a mistake of ours; nothing was written."""


def read_library(
    folder: Path, limit_bytes: int = FILE_LIMIT, total_bytes: int = LIBRARY_LIMIT
) -> tuple[tuple[Source, ...], tuple[AssetInfo, ...], tuple[Finding, ...]]:
    """Every record file and every other file below ``folder``, in order of their paths; hidden ones left out.

    ``limit_bytes`` is for one record file, ``total_bytes`` for all of them; both are looked at before
    anything is read. Never raises for what stands in the folder; a folder that is not there is the finding
    ``content-missing``.
    """
    walk = _Walk(Path(os.path.realpath(folder)))
    walk.run()
    findings = walk.findings
    sources: list[Source] = []
    readable: list[_Entry] = []
    for entry in walk.records:
        if entry.size > limit_bytes:
            findings.append(_too_large(entry.path, entry.size, limit_bytes))
        else:
            readable.append(entry)
    if sum(entry.size for entry in readable) > total_bytes:
        message = f"the records are more than {_megabytes(total_bytes)} together"
        findings.append(Finding("library-too-large", message, Place(".", 1, 1), "split the library into two folders"))
        readable = []
    for entry in readable:
        read = _read_text(entry, limit_bytes)
        if isinstance(read, Source):
            sources.append(read)
        else:
            findings.append(read)
    assets: list[AssetInfo] = []
    for entry in walk.others:
        looked = _look_at(entry)
        if isinstance(looked, AssetInfo):
            assets.append(looked)
            if not looked.kind and entry.path.lower().endswith(PICTURE_SUFFIXES):
                message = "this is not a picture, whatever its name says"
                help = "export it again as PNG, JPEG, WebP or SVG"
                findings.append(Finding("not-a-picture", message, Place(entry.path, 1, 1), help))
        else:
            findings.append(looked)
    return (
        tuple(sorted(sources, key=lambda source: source.path)),
        tuple(sorted(assets, key=lambda asset: asset.path)),
        in_order(findings),
    )


def write_files(folder: Path, files: Mapping[str, str | bytes]) -> tuple[Path, ...]:
    """Write ``files`` (path below ``folder`` with forward slashes → content) and return the paths, in order.

    Text is written as UTF-8, its line ends as they are. All paths are looked at before the first is
    written: ``OutsideFolder`` for one that is absolute, has ``..`` or an odd name, leads out through a
    link, or differs from another by upper and lower case only.
    """
    root = Path(os.path.realpath(folder))
    seen: dict[str, str] = {}
    targets: list[tuple[Path, bytes]] = []
    for name in sorted(files):
        parts = name.split("/")
        if any(part in ("", ".", "..") or odd_name(part) for part in parts):
            raise OutsideFolder(f"not a path below the folder: {shown_name(name)!r}")
        for depth in range(1, len(parts) + 1):
            part = "/".join(parts[:depth])
            other = seen.setdefault(_folded(part), part)
            if other != part:
                raise OutsideFolder(f"{shown_name(part)!r} and {shown_name(other)!r} are one file on some systems")
        content = files[name]
        targets.append((root.joinpath(*parts), content if isinstance(content, bytes) else content.encode("utf-8")))
    sound: set[Path] = {root}
    for target, _ in targets:
        parent = target.parent
        if parent not in sound:
            if not Path(os.path.realpath(parent)).is_relative_to(root):
                raise OutsideFolder(f"a link leads out of the folder: {shown_name(str(target.relative_to(root)))!r}")
            sound.add(parent)
        if target.is_symlink():
            raise OutsideFolder(f"a link stands where a file is to be written: {shown_name(target.name)!r}")
    for parent in sorted(sound):
        parent.mkdir(parents=True, exist_ok=True)
    for target, data in targets:
        target.write_bytes(data)
    return tuple(target for target, _ in targets)


@dataclass(frozen=True, slots=True)
class _Entry:
    path: str  # as shown, below the folder
    real: str  # where to open it
    size: int


@dataclass(slots=True)
class _Walk:
    """Goes through a folder once, without recursion and without following any link to a folder."""

    root: Path
    records: list[_Entry] = field(default_factory=list)
    others: list[_Entry] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def run(self) -> None:
        if not self.root.is_dir():
            message = "there is no such folder"
            help = "say where the records are; 'benchleaf new DIR' makes a new library"
            self._say("content-missing", ".", message, help)
            return
        waiting = [(str(self.root), "", 0)]
        while waiting:
            real, shown, depth = waiting.pop()
            try:
                with os.scandir(real) as entries:
                    children = sorted(entries, key=lambda entry: entry.name)
            except OSError as error:
                self._say("unreadable-file", shown or ".", f"the folder cannot be read: {_reason(error)}", _RIGHTS)
                continue
            names: dict[str, str] = {}
            for child in children:
                if child.name.startswith("."):
                    continue
                path = f"{shown}/{shown_name(child.name)}" if shown else shown_name(child.name)
                first = names.setdefault(_folded(child.name), path)
                if first != path:
                    message = f"'{path}' and '{first}' are one and the same file on some systems"
                    related = ((Place(first, 1, 1), "the other one"),)
                    self._say("names-clash", path, message, "rename one of them", related=related)
                odd = odd_name(child.name)
                if odd:
                    help = "use letters, digits, hyphens, underscores and dots"
                    self._say("odd-file-name", path, odd, help)
                    if shown_name(child.name) != child.name:
                        continue
                folder = self._entry(child, path)
                if folder and depth >= FOLDER_DEPTH:
                    message = f"folders are more than {FOLDER_DEPTH} deep here"
                    self._say("folder-too-deep", path, message, "move the files further up")
                elif folder:
                    waiting.append((child.path, path, depth + 1))

    def _entry(self, child: os.DirEntry[str], path: str) -> bool:
        """Files the entry where it belongs; true when it is a folder to go into."""
        real = child.path
        try:
            if child.is_symlink():
                real = os.path.realpath(child.path, strict=True)
                if not Path(real).is_relative_to(self.root):
                    message = "this link leads out of the content folder"
                    self._say("link-leaves-content", path, message, "put the file itself here")
                    return False
                if Path(real).is_dir():
                    message = "a link to a folder is not followed"
                    self._say("folder-link", path, message, "put the files themselves here, or delete the link")
                    return False
            facts = Path(real).lstat()
        except OSError as error:
            dead = error.errno in (errno.ENOENT, errno.ELOOP)
            message = "this link leads nowhere" if dead else f"the file cannot be read: {_reason(error)}"
            self._say("dead-link" if dead else "unreadable-file", path, message, "delete it, or put the file here")
            return False
        if stat.S_ISDIR(facts.st_mode):
            return True
        if not stat.S_ISREG(facts.st_mode):
            self._say("not-a-file", path, "this is a pipe, a socket or a device, not a file", "delete it")
            return False
        entry = _Entry(path, real, facts.st_size)
        suffix = Path(path).suffix
        if suffix.lower() in _RECORD_SUFFIXES:
            self.records.append(entry)
            right = ".md" if suffix.lower() == ".md" else ".yaml"
            if suffix != right:
                message = f"the name ends in '{suffix}'; records end in '{right}'"
                self._say("file-ending", path, message, f"rename it to end in '{right}'", Severity.WARNING)
        else:
            self.others.append(entry)
        return False

    def _say(
        self,
        code: str,
        path: str,
        message: str,
        help: str,
        severity: Severity = Severity.ERROR,
        related: tuple[tuple[Place, str], ...] = (),
    ) -> None:
        self.findings.append(Finding(code, message, Place(path, 1, 1), help, severity, related))


_RIGHTS = "give yourself the right to read it"


def _folded(name: str) -> str:
    """Names with the same folded form are one file on systems that ignore case or compose accents."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def _reason(error: OSError) -> str:
    return (error.strerror or "the system gives no reason").lower()


def _megabytes(size: int) -> str:
    return f"{size / 1_000_000:,.1f} MB"


def _too_large(path: str, size: int, limit: int) -> Finding:
    message = f"the file has {_megabytes(size)}; a record has at most {_megabytes(limit)}"
    return Finding("file-too-large", message, Place(path, 1, 1), "split it: one record a file")


def _read_bytes(entry: _Entry, count: int) -> bytes:
    """At most ``count`` bytes of a regular file; never waits, whatever was put in its place meanwhile."""
    handle = os.open(entry.real, os.O_RDONLY | _BLOCK | _BINARY)
    try:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "not a file any more")
        pieces = []
        while count > 0:
            piece = os.read(handle, min(count, 1 << 20))
            if not piece:
                break
            pieces.append(piece)
            count -= len(piece)
        return b"".join(pieces)
    finally:
        os.close(handle)


def _read_text(entry: _Entry, limit: int) -> Source | Finding:
    try:
        data = _read_bytes(entry, limit + 1)
    except OSError as error:
        message = f"the file cannot be read: {_reason(error)}"
        return Finding("unreadable-file", message, Place(entry.path, 1, 1), _RIGHTS)
    if len(data) > limit:
        return _too_large(entry.path, len(data), limit)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        message = "the file is saved as UTF-16"
        return Finding("not-utf-8", message, Place(entry.path, 1, 1), "save it as UTF-8")
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        return _not_utf8(entry.path, data, error.start)
    return Source(entry.path, text.replace("\r\n", "\n").replace("\r", "\n"))


def _not_utf8(path: str, data: bytes, start: int) -> Finding:
    before = data[:start].decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
    column = len(before) - before.rfind("\n")
    place = Place(path, before.count("\n") + 1, column, column + 1)
    guess = data[start : start + 1].decode("cp1252", "replace")
    meant = f" (perhaps '{guess}' from an older encoding)" if guess.isprintable() and guess != "\ufffd" else ""
    message = f"the byte {data[start]:02X}{meant} is no UTF-8 text"
    return Finding("not-utf-8", message, place, "save the file as UTF-8")


def _look_at(entry: _Entry) -> AssetInfo | Finding:
    if not entry.path.lower().endswith(PICTURE_SUFFIXES):
        return AssetInfo(entry.path, entry.size)
    try:
        kind, width, height = read_header(_read_bytes(entry, HEADER_BYTES))
    except OSError as error:
        message = f"the file cannot be read: {_reason(error)}"
        return Finding("unreadable-file", message, Place(entry.path, 1, 1), _RIGHTS)
    return AssetInfo(entry.path, entry.size, kind, width, height)
