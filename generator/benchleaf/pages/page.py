"""A page before it is written: where it goes, which template draws it, and which records it was made from.

Page builders return these values and nothing else; they read no file, know no folder and no clock. A page
that knows its ``inputs`` can be left alone when none of them changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from typing import Any

from benchleaf.diagnostics import Finding
from benchleaf.frozen import dataclass
from benchleaf.pages.number_sources import NumberSources
from benchleaf.search.documents import Document
from benchleaf.source import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One HTML page of the manual.

    ``path`` is below the site's folder, with ``/`` and ending in ``.html`` (``machine/lc30/index.html``);
    ``template`` is a name below the theme's folder (``pages/machine.html``); ``context`` holds what the
    template asks for, no more; ``kind`` is the page kind (``machine``); ``inputs`` are the record files it
    was made from, below the content folder; ``documents`` is what the search knows of it (none: not searched).
    """

    path: str
    template: str
    title: str
    kind: str
    context: Mapping[str, Any] = field(default_factory=dict)
    inputs: tuple[str, ...] = ()
    documents: tuple[Document, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asset:
    """A file that is not a page: a drawing, a search shard, a photo.

    Either ``data`` holds its bytes, or ``source`` is the path of a file to be copied (photos are too many to
    hold).
    """

    path: str
    data: bytes | None = None
    source: str | None = None
    inputs: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if (self.data is None) == (self.source is None):
            raise ValueError(f"asset {self.path}: give either its bytes or the file to copy")


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What stands around every page of one manual.

    ``find`` is the path of the page that searches (``None``: no find box yet); ``menu`` holds title and path of the
    lists in the head of the page; ``scripts`` are further scripts by path; ``terms`` are the words that prose links to
    the place that explains them; ``numbers`` knows where the numbers in words come from (``None``: they are left as
    they are); ``home`` is where the name of the manual leads. ``serving`` is true under ``serve``
    only: pages then ask the server when to load themselves again.
    """

    name: str
    language: str = "en"
    home: str = "index.html"
    find: str | None = None
    menu: tuple[tuple[str, str], ...] = ()
    scripts: tuple[str, ...] = ()
    terms: tuple[tuple[str, str], ...] = ()
    numbers: NumberSources | None = None
    serving: bool = False


class PartedPages:
    """The pages of a manual one by one, or part by part for processes that share the work.

    What the search knows of each page is noted in ``documents`` on the way; a text that stands in many of them is kept
    once. Whoever has parts made elsewhere notes their documents here, and says when all are made (``let_go``).
    """

    def __init__(self, parts: Sequence[Callable[[], Iterable[Page]]]) -> None:
        self.parts: Sequence[Callable[[], Iterable[Page]]] = parts
        self.documents: list[Document] = []
        self._texts: dict[str, str] = {}

    def __iter__(self) -> Iterator[Page]:
        for part in self.parts:
            for page in part():
                self.note(page.documents)
                yield page
        self.let_go()

    def let_go(self) -> None:
        """Every page is made: the records behind the parts are let go, before the search index needs the memory."""
        self.parts = ()

    def note(self, documents: Iterable[Document]) -> None:
        """Keep what the search knows of a page."""
        once = self._texts.setdefault
        for one in documents:
            lines = tuple(once(text, text) for text in one.lines)
            headings = tuple(once(text, text) for text in one.headings)
            machine = once(one.machine, one.machine)
            self.documents.append(replace(one, lines=lines, headings=headings, machine=machine))


@dataclass(frozen=True, slots=True, kw_only=True)
class Manual:
    """A compiled manual, ready to be written. ``pages`` and ``assets`` may be made one by one; each is
    walked once, the assets after the pages: the search index among them is made of all of these.

    With an error among ``findings`` nothing is written and the last good site stays; ``sources`` are the texts
    that the findings point into.
    """

    frame: Frame
    pages: Iterable[Page]
    assets: Iterable[Asset] = ()
    findings: tuple[Finding, ...] = ()
    sources: tuple[Source, ...] = ()
