"""Documents to index files: which files there are, and what is in each.

    root.js          how many pages, filters, synonyms, where each shard begins: read before the first query
    terms-NNN.js     words in order with the pages they are on; about 25 KB each
    spelling-NNN.js  the words alone, read only for a word that is not among them
    words.js         table of frequent words for titles and lines
    pages-NNN.js     address and title of each page
    lines-NNN.js     the lines a hit can show

Pages are numbered by address, so that the pages of a machine stand together. Same documents, same bytes.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence

from benchleaf.search.codes import has_digit
from benchleaf.search.coding import as_script, front_coded, number, postings
from benchleaf.search.digest import Digest, digest
from benchleaf.search.documents import Document
from benchleaf.search.preview import choose_words, fair_share, shown_lines, tidy, write_line, write_words
from benchleaf.search.synonyms import SynonymRule, join_rules, read_synonyms
from benchleaf.search.trade_words import DEFAULT_SYNONYMS
from benchleaf.search.words import STOP_WORDS, are_forms, family_prefix

SHARD = 25_000
LEAST_SPELLING = 3  # words from four letters are corrected; shorter ones still show where two were run together
_PAGE_BITS = 24


def build_index(
    documents: Iterable[Document],
    synonyms: Sequence[SynonymRule] | None = None,
    *,
    kind_weights: Mapping[str, float] | None = None,
    digests: Mapping[Document, Digest] | None = None,
    lines_budget: int = 1_500_000,
) -> dict[str, bytes]:
    """File name → bytes of the index of ``documents``.

    ``synonyms`` default to the trade's; a shop passes ``read_synonyms((*DEFAULT_SYNONYMS, *its_own))[0]``.
    ``kind_weights`` say how much a page of a kind counts beside others that match as well (1 where nothing is said).
    ``digests`` may hold what ``digest`` gave earlier for some of the documents (it depends on the document alone).
    ``lines_budget`` bounds the bytes of the lines kept for showing: beyond it the long pages keep their headings and
    first lines only, and a hit further down says by which words it was found.
    """
    rules = read_synonyms(DEFAULT_SYNONYMS)[0] if synonyms is None else synonyms
    pages = sorted(documents, key=lambda page: (page.url, page.title, repr(page)))
    known = digests or {}
    made = [known.get(page) or digest(page) for page in pages]
    terms = _by_term(made)
    files: dict[str, bytes] = {}
    term_starts = _shards(files, "terms", _term_records(terms))
    words = [term for term in terms if len(term) >= LEAST_SPELLING and not has_digit(term)]
    spelling_starts = _shards(files, "spelling", ((word, number(len(terms[word]).bit_length())) for word in words))
    page_starts, line_starts = _show(files, pages, lines_budget)
    root = {
        "pages": len(pages),
        "terms": term_starts,
        "spelling": spelling_starts,
        "pageStarts": page_starts,
        "lineStarts": line_starts,
        "titleLengths": "".join(number(min(made_of.title_length, 60)) for made_of in made),
        "stopWords": sorted(STOP_WORDS),
        "synonyms": _useful(rules, terms),
        **_filters(pages, kind_weights or {}),
    }
    content = hashlib.sha256(b"".join(name.encode() + files[name] for name in sorted(files))).hexdigest()[:12]
    files["root.js"] = as_script("root", root | {"content": content})
    return {name: files[name] for name in sorted(files)}


def _by_term(made: Sequence[Digest]) -> dict[str, list[int]]:
    """For each term in order: level (highest first) and page number, packed and sorted."""
    found: dict[str, list[int]] = {}
    for page, one in enumerate(made):
        for term, level in one.levels.items():
            found.setdefault(term, []).append((63 - level) << _PAGE_BITS | page)
    for packed in found.values():
        packed.sort()
    return {term: found[term] for term in sorted(found)}


def _term_records(terms: Mapping[str, list[int]]) -> Iterable[tuple[str, str]]:
    mask = (1 << _PAGE_BITS) - 1
    for term, packed in terms.items():
        if len(packed) == 1:
            yield term, number(1) + number(63 - (packed[0] >> _PAGE_BITS)) + number(packed[0] & mask)
            continue
        groups: list[tuple[int, list[int]]] = []
        for value in packed:
            level = 63 - (value >> _PAGE_BITS)
            if not groups or groups[-1][0] != level:
                groups.append((level, []))
            groups[-1][1].append(value & mask)
        signs = postings(groups)
        yield term, number(len(packed)) + number(len(signs)) + signs


def _shards(files: dict[str, bytes], kind: str, records: Iterable[tuple[str, str]]) -> list[str]:
    """Writes front-coded records in shards; returns the first word of each."""
    starts: list[str] = []
    signs: list[str] = []
    size = 0
    before = ""
    for word, rest in records:
        if size > SHARD:
            _put(files, kind, len(starts) - 1, signs)
            signs, size, before = [], 0, ""
        if not signs:
            starts.append(word)
        signs.append(front_coded(word, before) + rest)
        size += len(signs[-1])
        before = word
    if signs:
        _put(files, kind, len(starts) - 1, signs)
    return starts


def _show(files: dict[str, bytes], pages: Sequence[Document], budget: int) -> tuple[list[int], list[int]]:
    """Writes addresses, titles and lines; returns the first page of each shard of either sort."""
    titles = [tidy(page.title) for page in pages]
    lines = [shown_lines(page) for page in pages]
    words = choose_words(text for texts in (titles, *lines) for text in texts)
    ranks = {word: rank for rank, word in enumerate(words)}
    files["words.js"] = as_script("words", write_words(words))
    coded = [[write_line(line, ranks) for line in texts] for texts in lines]
    share = fair_share([sum(map(len, texts)) for texts in coded], budget)
    kept = ["".join(_within(texts, share)) for texts in coded]
    line_starts = _runs(files, "lines", [number(len(text)) + text for text in kept], [])
    # the address is front-coded against the page before, but written out for the first page of a shard
    short, whole, before = [], [], ""
    for page, title in zip(pages, titles, strict=True):
        coded_title = write_line(title, ranks)
        short.append(front_coded(page.url, before) + coded_title)
        whole.append(front_coded(page.url, "") + coded_title)
        before = page.url
    return _runs(files, "pages", short, whole), line_starts


def _within(texts: Sequence[str], share: int) -> Iterable[str]:
    """The texts in order as far as they fit; a later short one still goes in where a long one did not."""
    for text in texts:
        if len(text) <= share:
            share -= len(text)
            yield text


def _runs(files: dict[str, bytes], kind: str, records: Sequence[str], first: Sequence[str]) -> list[int]:
    """Writes one record a page in shards; ``first`` holds the records as they are at the start of one."""
    starts: list[int] = []
    signs: list[str] = []
    size = 0
    for at, record in enumerate(records):
        if size > SHARD or not starts:
            if signs:
                _put(files, kind, len(starts) - 1, signs)
            starts.append(at)
            signs, size = [], 0
        signs.append(first[at] if first and not signs else record)
        size += len(signs[-1])
    if signs:
        _put(files, kind, len(starts) - 1, signs)
    return starts


def _put(files: dict[str, bytes], kind: str, at: int, signs: Sequence[str]) -> None:
    name = f"{kind}-{at:03d}"
    files[name + ".js"] = as_script(name, "".join(signs))


def _filters(pages: Sequence[Document], weights: Mapping[str, float]) -> dict[str, object]:
    """Machines, kinds with their weights, variants, and which combination each page has, as runs."""
    machines = sorted({page.machine for page in pages})
    kinds = sorted({page.kind for page in pages})
    sorts = sorted({(page.machine, page.kind, tuple(sorted(page.variants))) for page in pages})
    rank = {sort: at for at, sort in enumerate(sorts)}
    runs: list[list[int]] = []
    for page in pages:
        at = rank[page.machine, page.kind, tuple(sorted(page.variants))]
        if runs and runs[-1][0] == at:
            runs[-1][1] += 1
        else:
            runs.append([at, 1])
    return {
        "machines": machines,
        "kinds": kinds,
        "kindWeights": [weights.get(kind, 1.0) for kind in kinds],
        "sorts": [[machines.index(machine), kinds.index(kind), list(variants)] for machine, kind, variants in sorts],
        "runs": "".join(number(at) + number(count) for at, count in runs),
    }


def _useful(rules: Sequence[SynonymRule], terms: Mapping[str, object]) -> dict[str, list[str]]:
    """The rules without finds that no page can have; phrases as words joined by spaces."""
    by_prefix: dict[str, list[str]] = {}
    wanted = {family_prefix(word) for rule in rules for phrase in rule.finds for word in phrase}
    lengths = sorted({len(prefix) for prefix in wanted})
    for term in terms:
        for length in lengths:
            if term[:length] in wanted and len(term) >= length:
                by_prefix.setdefault(term[:length], []).append(term)

    def is_known(word: str) -> bool:
        return any(are_forms(word, term) for term in by_prefix.get(family_prefix(word), ()))

    useful: dict[str, list[str]] = {}
    for asked, finds in join_rules(rules).items():
        kept = [" ".join(phrase) for phrase in finds if all(is_known(word) for word in phrase)]
        if kept:
            useful[" ".join(asked)] = kept
    return useful
