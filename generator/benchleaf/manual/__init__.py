"""The texts that come with the program: the record language in prose. ``language()`` adds every key's table."""

from __future__ import annotations

from importlib.resources import files

from benchleaf.key_tables import whole_reference


def language() -> str:
    """The manual of the record language as Markdown: the prose, its examples, and the table of every key."""
    prose = files(__name__).joinpath("language.md").read_text(encoding="utf-8")
    return f"{prose}\n{whole_reference()}"
