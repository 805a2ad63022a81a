"""Index files read back: words by beginning, the pages they are on, and what is shown of a page.

The twin of ``search-index.js``; both read the same bytes, which is what keeps the page and the command line alike.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from typing import Any, cast

from benchleaf.frozen import dataclass
from benchleaf.search.coding import from_script, read_front_coded, read_number
from benchleaf.search.preview import read_line, read_words

RANGE_SHARDS = 4  # a beginning is followed through this many shards, no further


@dataclass(frozen=True, slots=True)
class Entry:
    """One word of the index: on how many pages, and where its list stands."""

    term: str
    pages: int
    shard: int
    start: int
    end: int


@dataclass(slots=True)
class Index:
    """An opened index. What has been read is kept; nothing else about it changes."""

    files: Mapping[str, bytes]
    root: dict[str, Any]
    sorts: list[int] = field(default_factory=list)  # for each page its combination of machine, kind, variants
    title_lengths: list[int] = field(default_factory=list)
    synonym_keys: dict[str, list[tuple[str, ...]]] | None = None
    _texts: dict[str, str] = field(default_factory=dict)
    _entries: dict[int, list[Entry]] = field(default_factory=dict)
    _words: list[str] | None = None

    @property
    def pages(self) -> int:
        """How many pages there are."""
        return cast(int, self.root["pages"])

    def text(self, name: str) -> str:
        """The text of one shard."""
        if name not in self._texts:
            self._texts[name] = cast(str, from_script(self.files[name + ".js"]))
        return self._texts[name]

    def beginning(self, prefix: str) -> list[Entry]:
        """The words that begin with ``prefix``, in order (from ``RANGE_SHARDS`` shards at most)."""
        starts: list[str] = self.root["terms"]
        at = max(0, bisect_right(starts, prefix) - 1)
        found: list[Entry] = []
        for shard in range(at, min(at + RANGE_SHARDS, len(starts))):
            if shard > at and not starts[shard].startswith(prefix):
                break
            found += [entry for entry in self._shard(shard) if entry.term.startswith(prefix)]
        return found

    def entry(self, term: str) -> Entry | None:
        """The word itself."""
        starts: list[str] = self.root["terms"]
        at = bisect_right(starts, term) - 1
        if at < 0:
            return None
        return next((entry for entry in self._shard(at) if entry.term == term), None)

    def postings(self, entry: Entry) -> Iterator[tuple[int, int]]:
        """(page, level) for each page of a word."""
        text = self.text(f"terms-{entry.shard:03d}")
        at = entry.start
        if entry.pages == 1:
            level, at = read_number(text, at)
            page, at = read_number(text, at)
            yield page, level
            return
        while at < entry.end:
            level, at = read_number(text, at)
            count, at = read_number(text, at)
            page = -1
            for _ in range(count):
                gap, at = read_number(text, at)
                page += gap + 1
                yield page, level

    def spelling(self, letters: Iterable[str]) -> Iterator[str]:
        """The spelling shards that may hold words beginning with one of the letters, in order."""
        starts: list[str] = self.root["spelling"]
        for shard, start in enumerate(starts):
            end = starts[shard + 1][0] if shard + 1 < len(starts) else "\uffff"
            if any(start[0] <= letter <= end for letter in letters):
                yield self.text(f"spelling-{shard:03d}")

    def page(self, number: int) -> tuple[str, str]:
        """Address and title of a page."""
        shard = bisect_right(self.root["pageStarts"], number) - 1
        text = self.text(f"pages-{shard:03d}")
        at, url, title = 0, "", ""
        for _ in range(number - self.root["pageStarts"][shard] + 1):
            url, at = read_front_coded(text, at, url)
            title, at = read_line(text, at, self._table())
        return url, title

    def lines(self, number: int) -> list[str]:
        """The lines kept of a page."""
        shard = bisect_right(self.root["lineStarts"], number) - 1
        text = self.text(f"lines-{shard:03d}")
        at = 0
        for _ in range(number - self.root["lineStarts"][shard]):
            length, at = read_number(text, at)
            at += length
        length, at = read_number(text, at)
        end = at + length
        found: list[str] = []
        while at < end:
            line, at = read_line(text, at, self._table())
            found.append(line)
        return found

    def sort_of(self, number: int) -> tuple[str, str, tuple[str, ...]]:
        """Machine, kind and variants of a page."""
        machine, kind, variants = self.root["sorts"][self.sorts[number]]
        return self.root["machines"][machine], self.root["kinds"][kind], tuple(variants)

    def may_be(self, machine: str, variant: str) -> bool:
        """Whether a page of a machine that is for all its variants is for this one; one of no machine is for any."""
        at = self.root["machines"].index(machine)
        return not machine or any(sort[0] == at and variant in sort[2] for sort in self.root["sorts"])

    def weight_of(self, number: int) -> float:
        """How much a page of its kind counts."""
        return cast(float, self.root["kindWeights"][self.root["sorts"][self.sorts[number]][1]])

    def _table(self) -> list[str]:
        if self._words is None:
            self._words = read_words(self.text("words"))
        return self._words

    def _shard(self, number: int) -> list[Entry]:
        if number not in self._entries:
            self._entries[number] = list(_entries(self.text(f"terms-{number:03d}"), number))
        return self._entries[number]


def open_index(files: Mapping[str, bytes]) -> Index:
    """An index from its files, as ``build_index`` gave them."""
    root = cast(dict[str, Any], from_script(files["root.js"]))
    sorts: list[int] = []
    at = 0
    while at < len(root["runs"]):
        sort, at = read_number(root["runs"], at)
        count, at = read_number(root["runs"], at)
        sorts += [sort] * count
    lengths = [read_number(sign, 0)[0] for sign in root["titleLengths"]]
    return Index(files, root, sorts, lengths)


def _entries(text: str, shard: int) -> Iterator[Entry]:
    at, term = 0, ""
    while at < len(text):
        term, at = read_front_coded(text, at, term)
        pages, at = read_number(text, at)
        if pages == 1:
            _, after = read_number(text, at)
            _, after = read_number(text, after)
            yield Entry(term, 1, shard, at, after)
            at = after
        else:
            length, at = read_number(text, at)
            yield Entry(term, pages, shard, at, at + length)
            at += length
