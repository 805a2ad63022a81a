"""From checked records to a manual ready to be written: pages, pictures, signs, search. The MkDocs plugin writes it."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import benchleaf_theme
from benchleaf.drawings.safety_sign import safety_sign
from benchleaf.edges.graphviz_edge import drawn
from benchleaf.pages.book import Book
from benchleaf.pages.documents import KIND_WEIGHTS
from benchleaf.pages.finder_files import finder_assets
from benchleaf.pages.kinds.glossary import terms
from benchleaf.pages.number_sources import number_sources
from benchleaf.pages.page import Asset, Frame, Manual, PartedPages
from benchleaf.pages.page_kinds import page_parts
from benchleaf.pages.papers import NO_PAPERS, Papers
from benchleaf.pages.pictures import picture_assets
from benchleaf.photo_metadata import without_metadata
from benchleaf.pipeline import Checked
from benchleaf.search import DEFAULT_SYNONYMS, Document, SynonymRule, build_index, page_script, read_synonyms, rules_of
from benchleaf.search.bundle import SCRIPTS
from benchleaf.source import Source


def manual_of(checked: Checked, content: Path, papers: Papers = NO_PAPERS) -> Manual:
    """The whole manual, leading to the PDFs there are. With an error among the findings nothing is made but the
    findings themselves."""
    if checked.has_errors:
        frame = Frame(name="Workshop manual")
        return Manual(frame=frame, pages=(), findings=checked.findings, sources=checked.sources)
    book = Book(checked.derived, drawn, papers)
    pages = PartedPages(page_parts(book))
    return Manual(
        frame=frame_of(book, checked.sources),
        pages=pages,
        assets=assets(book, content, pages.documents),
        findings=checked.findings,
        sources=checked.sources,
    )


MENU = (
    ("Codes", "codes.html"), ("Symptoms", "symptoms.html"), ("Spares", "spares.html"), ("Safety", "safety.html"),
    ("Glossary", "glossary.html"),
)  # fmt: skip


def frame_of(book: Book, sources: Iterable[Source] = ()) -> Frame:
    """What stands around every page."""
    return Frame(
        name=book.name,
        language=str(book.shop.language or "en"),
        find=book.at.find,
        menu=MENU,
        scripts=("js/search-recent.js",),
        terms=terms(book),
        numbers=number_sources(sources),
    )


def assets(book: Book, content: Path, documents: list[Document]) -> Iterator[Asset]:
    """Pictures, safety signs, what the finder reads, and last the search index, which is made of all pages."""
    for picture in picture_assets(book, content.as_posix()):
        yield replace(picture, source=None, data=without_metadata(Path(picture.source or "").read_bytes()))
    symbols = {str(one.symbol) for one in book.library.safety.values() if one.symbol is not None}
    made = {book.at.sign(symbol): symbol for symbol in sorted(symbols)}
    for path, symbol in sorted(made.items()):
        yield Asset(path=path, data=safety_sign(symbol, captioned=False).svg.encode(), inputs=("safety.yaml",))
    yield from finder_assets(book)
    synonyms = synonyms_of(book)
    del book  # the index of many pages takes about half the memory of their records, which nothing needs any more
    gc.collect()
    index = build_index(documents, synonyms, kind_weights=KIND_WEIGHTS)
    for name, data in index.items():
        yield Asset(path=f"search/{name}", data=data)
    scripts = Path(benchleaf_theme.__file__).parent / "js"
    texts = {name: (scripts / name).read_text(encoding="utf-8") for name in SCRIPTS}
    yield Asset(path="search/page.js", data=page_script(texts, index))


def synonyms_of(book: Book) -> tuple[SynonymRule, ...]:
    """The trade's other words and the shop's own; a group of words finds each by every other."""
    return (*read_synonyms(DEFAULT_SYNONYMS)[0], *rules_of(book.shop.synonyms))
