"""Sheets set in a process of their own, renewed now and then: what Typst remembers of the sheets before goes with it.

Run as a module it is that process: it reads sheets from its standard input and writes PDFs, or why there is none, to
its standard output, until the input ends.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
from typing import IO, Any

from benchleaf.diagnostics import Place
from benchleaf.edges.pdf import NotPrinted, pdf_of
from benchleaf.paper.sheet import Sheet

RENEWED_AFTER = 40
"""Sheets one process sets, for a fifth of a second a start."""
_LENGTH = 8


class PdfWorker:
    """``pdf_of`` in another process. To be used with ``with``; the process starts with the first sheet."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._set = 0

    def __enter__(self) -> PdfWorker:
        return self

    def __exit__(self, *_: object) -> None:
        self._end()

    def pdf_of(self, sheet: Sheet) -> bytes:
        """The sheet as PDF/UA-1, the same bytes as ``pdf.pdf_of`` gives. Raises ``NotPrinted``."""
        if self._set >= RENEWED_AFTER:
            self._end()
        if self._process is None:
            command = [sys.executable, "-m", "benchleaf.edges.pdf_worker"]
            self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        assert self._process.stdin is not None and self._process.stdout is not None
        self._set += 1
        plain = (sheet.name, sheet.title, sheet.template, dict(sheet.data), dict(sheet.files), sorted(sheet.places))
        try:
            _write(self._process.stdin, plain)
            made, problem = _read(self._process.stdout)
        except (OSError, EOFError) as error:
            self._end()
            raise NotPrinted(f"{sheet.title}: the process that sets it has ended.") from error
        if problem is not None:
            raise NotPrinted(*problem)
        assert isinstance(made, bytes)
        return made

    def _end(self) -> None:
        process, self._process, self._set = self._process, None, 0
        if process is None:
            return
        try:
            process.communicate(timeout=10)  # the end of its input is the end of its work
        except (subprocess.TimeoutExpired, OSError):
            process.kill()
            process.communicate()


def _write(stream: IO[bytes], value: Any) -> None:
    data = pickle.dumps(value)
    stream.write(len(data).to_bytes(_LENGTH, "big") + data)
    stream.flush()


def _read(stream: IO[bytes]) -> Any:
    """The next value; ``EOFError`` when there is none."""
    size = int.from_bytes(_exactly(stream, _LENGTH), "big")
    return pickle.loads(_exactly(stream, size))


def _exactly(stream: IO[bytes], count: int) -> bytes:
    data = stream.read(count)
    if len(data) < count:
        raise EOFError
    return data


def _serve(source: IO[bytes], target: IO[bytes]) -> None:
    while True:
        try:
            name, title, template, data, files, pictures = _read(source)
        except EOFError:
            return
        places = dict.fromkeys(pictures, Place("", 1, 1))
        sheet = Sheet(name=name, title=title, template=template, data=data, files=files, places=places)
        try:
            _write(target, (pdf_of(sheet), None))
        except NotPrinted as error:
            _write(target, (None, (str(error), error.reason, error.picture)))


if __name__ == "__main__":
    _serve(sys.stdin.buffer, sys.stdout.buffer)
