"""Has a diagram drawn by the program that came with the package, and keeps what was drawn.

The program is looked for beside the running Python only, never on PATH, so that every workshop gets the
same picture. When it is missing, fails or takes too long, the reader still gets the table: the problem is
handed back in words.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import sysconfig
import tempfile
from pathlib import Path
from typing import Protocol

from benchleaf.drawings.diagram_values import Diagram
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.redraw import redraw
from benchleaf.frozen import dataclass

PROGRAM = "graphviz-pure"
TIMEOUT = 20.0  # seconds
REMEDY = "install it again with: pip install --force-reinstall graphviz-pure"


class Cache(Protocol):
    """Where drawn pictures are kept between builds."""

    def get(self, key: str) -> str | None: ...

    def put(self, key: str, text: str) -> None: ...


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawing, or none and the ``problem`` in words with its remedy."""

    drawing: Drawing | None
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Folder:
    """A cache in a folder: one file a key, written whole or not at all."""

    path: Path

    def get(self, key: str) -> str | None:
        try:
            return self._file(key).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            return None

    def put(self, key: str, text: str) -> None:
        self.path.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("w", encoding="utf-8", newline="\n", dir=self.path, delete=False) as file:
            file.write(text)
        Path(file.name).replace(self._file(key))

    def _file(self, key: str) -> Path:
        return self.path / f"{hashlib.sha256(key.encode()).hexdigest()}.svg"


def find_program() -> Path | None:
    """The drawing program beside the running Python; none when it is not there."""
    suffix = ".exe" if os.name == "nt" else ""
    for folder in (Path(sys.executable).parent, Path(sysconfig.get_path("scripts"))):
        program = folder / f"{PROGRAM}{suffix}"
        if program.is_file():
            return program
    return None


def content_key(diagram: Diagram) -> str:
    """A key that changes whenever anything that goes into the picture does."""
    return hashlib.sha256(repr(diagram).encode("utf-8", "surrogatepass")).hexdigest()


def draw(
    diagram: Diagram,
    *,
    key: str = "",
    cache: Cache | None = None,
    program: Path | None = None,
    timeout: float = TIMEOUT,
) -> Drawn:
    """``diagram`` drawn, from ``cache`` when it holds ``key`` (the caller's; default :func:`content_key`).

    ``program``: another one that reads DOT and takes ``-Tsvg``, outside the promise of same bytes.
    """
    key = key or content_key(diagram)
    kept = cache.get(key) if cache is not None else None
    if kept is not None:
        return Drawn(_kept(diagram, kept))
    chosen = program or find_program()
    if chosen is None:
        return Drawn(None, f"'{diagram.title}' cannot be drawn: {PROGRAM} is not beside this Python; {REMEDY}")
    written = _run(chosen, diagram.dot, timeout)
    if written.problem:
        return Drawn(None, f"'{diagram.title}' cannot be drawn: {written.problem}")
    try:
        drawing = redraw(diagram, written.svg)
    except ValueError as wrong:
        return Drawn(None, f"'{diagram.title}' cannot be drawn: {wrong}")
    if cache is not None:
        cache.put(key, drawing.svg)
    return Drawn(drawing)


def drawn(diagram: Diagram) -> Drawing | str:
    """A diagram drawn by the program that came with the package, or the problem in words: what a ``Book`` asks for."""
    made = draw(diagram)
    return made.drawing if made.drawing is not None else made.problem


def _kept(diagram: Diagram, picture: str) -> Drawing:
    return Drawing(svg=picture, title=diagram.title, description=diagram.description, table=diagram.table)


@dataclass(frozen=True, slots=True)
class _Written:
    svg: str
    problem: str = ""


def _run(program: Path, dot: str, timeout: float) -> _Written:
    """The program's answer to ``dot``. Its surroundings are empty: no setting of the reader changes the
    picture.
    """
    environment = {key: value for key, value in os.environ.items() if key.upper() == "SYSTEMROOT"}
    try:
        done = subprocess.run(
            [str(program), "-Tsvg"],
            input=dot.encode("utf-8", "replace"),
            capture_output=True,
            timeout=timeout,
            env=environment,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return _Written("", f"{program.name} took longer than {timeout:g} s; draw fewer boxes at once")
    except OSError as wrong:
        return _Written("", f"{program.name} does not start ({wrong.strerror}); {REMEDY}")
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().splitlines()
        return _Written("", f"{program.name} stopped with: {said[0] if said else done.returncode}")
    return _Written(done.stdout.decode("utf-8", "replace"))
