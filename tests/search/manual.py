"""The small manual as documents and as an index, and the hand-written queries asked of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.search.pages import PAGES

from benchleaf.search import Document, Index, build_index, open_index


@dataclass(frozen=True)
class Asked:
    """One hand-written query: its class, whether it was used for tuning, and the pages that answer it."""

    sort: str
    half: str
    query: str
    expected: frozenset[str]


@cache
def documents() -> tuple[Document, ...]:
    """The pages as documents."""
    return tuple(Document(**page) for page in PAGES)


@cache
def files() -> dict[str, bytes]:
    """The index files, with the default synonyms."""
    return build_index(documents())


@cache
def index() -> Index:
    """The index, opened."""
    return open_index(files())


def queries() -> list[Asked]:
    """The hand-written queries, in the order of the file."""
    rows = Path(__file__).with_name("queries.tsv").read_text(encoding="utf-8").splitlines()
    fields = [row.split("\t") for row in rows if not row.startswith("#")]
    return [Asked(sort, half, query, frozenset(urls.split())) for sort, half, query, urls in fields]
