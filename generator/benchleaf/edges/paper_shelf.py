"""A folder of PDFs beside the site: what did not change since the last build is not set again.

A PDF is kept under a hash of the sheet and of the program that sets it. A list is kept under a hash of everything the
sheets are made from: while that is the same, not even the sheets are made. The folder may be deleted at any time.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
from collections.abc import Callable, Collection, Iterable, Iterator
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

import benchleaf
from benchleaf.edges.pdf import pdf_of
from benchleaf.paper.sheet import Sheet

_PROGRAM = ("*.py", "*.typ", "*.txt", "*.ttf")


@lru_cache(maxsize=1)
def program_digest() -> bytes:
    """What sets the sheets, as a hash: every module, template and font of the package, and Typst's version."""
    made = hashlib.sha256(version("typst").encode())
    folder = Path(benchleaf.__file__).parent
    for file in sorted(file for form in _PROGRAM for file in folder.rglob(form)):
        made.update(f"{file.relative_to(folder).as_posix()}\n".encode())
        made.update(file.read_bytes())
    return made.digest()


def key_of(parts: Iterable[bytes | str]) -> str:
    """A key for the parts in their order and for the program; no two lists of parts run into each other."""
    made = hashlib.sha256(program_digest())
    for part in parts:
        data = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
        made.update(len(data).to_bytes(8, "big") + data)
    return made.hexdigest()


def sheet_key(sheet: Sheet) -> str:
    """The key of a PDF: everything that goes into it."""

    def parts() -> Iterator[bytes | str]:
        yield sheet.template
        yield json.dumps(sheet.data, ensure_ascii=True)
        for name in sorted(sheet.files):
            yield name
            yield sheet.files[name]

    return key_of(parts())


class Shelf:
    """The folder, and what sets a sheet. ``made`` counts the PDFs that were set, ``kept`` those that were there."""

    def __init__(self, folder: Path, pdf_of: Callable[[Sheet], bytes] = pdf_of) -> None:
        self.folder = folder
        self._pdf_of = pdf_of
        self.made = self.kept = 0

    def pdf(self, key: str) -> Path:
        return self.folder / f"{key}.pdf"

    def shelve(self, sheet: Sheet) -> str:
        """The key under which the sheet's PDF stands, set when it was not there. Raises ``NotPrinted`` like
        ``pdf_of``."""
        key = sheet_key(sheet)
        if self.pdf(key).is_file():
            self.kept += 1
        else:
            self._write(self.pdf(key), self._pdf_of(sheet))
            self.made += 1
        return key

    def listed(self, key: str) -> list[dict[str, Any]] | None:
        """The list kept under a key; ``None`` when there is none or a PDF it names (``pdf``) is gone."""
        try:
            found = json.loads((self.folder / f"{key}.json").read_text(encoding="utf-8"))
            whole = all(self.pdf(one["pdf"]).is_file() for one in found)
        except (OSError, ValueError, TypeError, KeyError):
            return None
        return found if whole else None

    def keep(self, key: str, rows: list[dict[str, Any]]) -> None:
        """Keep a list, and of the PDFs only those it names."""
        self._write(self.folder / f"{key}.json", json.dumps(rows, ensure_ascii=False).encode())
        self._clear({f"{key}.json", *(self.pdf(one["pdf"]).name for one in rows)})

    def _write(self, target: Path, data: bytes) -> None:
        """Whole or not at all, whoever else builds at the same time."""
        self.folder.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=self.folder, prefix=".", delete=False) as file:
            file.write(data)
        Path(file.name).replace(target)

    def _clear(self, wanted: Collection[str]) -> None:
        for file in sorted((*self.folder.glob("*.pdf"), *self.folder.glob("*.json"))):
            if file.name not in wanted:
                file.unlink(missing_ok=True)
