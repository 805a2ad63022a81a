"""A small library that checks clean, to begin from. ``files()`` gives its texts; ``benchleaf new`` writes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib.resources import files as package_files
from importlib.resources.abc import Traversable


def files() -> Mapping[str, str]:
    """Path → text of every file of the starter library, by path."""
    return dict(sorted(_walk(package_files(__name__).joinpath("library"), "")))


def _walk(folder: Traversable, above: str) -> Iterator[tuple[str, str]]:
    for entry in folder.iterdir():
        path = f"{above}{entry.name}"
        if entry.is_dir():
            yield from _walk(entry, f"{path}/")
        else:
            yield path, entry.read_text(encoding="utf-8")
