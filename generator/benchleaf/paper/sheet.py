"""A sheet before it is set: which template, which data, which pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any, Literal

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass

Paper = Literal["a4", "us-letter"]
PAPERS: Mapping[str, Paper] = {"a4": "a4", "letter": "us-letter"}
"""What the command takes, and what Typst calls it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One document.

    ``name`` is the stem of its file, ``template`` a file of ``paper/templates``; ``data`` is what the template reads
    as JSON; ``files`` are pictures by the plain name the data gives them, ``places`` where the records name them.
    ``nothing`` says why the sheet holds nothing
    (empty: it holds something); a pack leaves such a sheet out and says so.
    """

    name: str
    title: str
    template: str
    data: Mapping[str, Any]
    files: Mapping[str, bytes] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)
    nothing: str = ""
