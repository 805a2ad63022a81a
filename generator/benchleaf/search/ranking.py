"""Which pages answer a query, in which order, and by which line: the twin of ``search-rank.js``.

Only sums, products and comparisons of doubles, in one order on both sides, so that both give the same ranking to the
last bit; a logarithm that differs in its last digit between two machines would not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field

from benchleaf.frozen import dataclass
from benchleaf.search.codes import ends_in, has_digit
from benchleaf.search.digest import ABOUT, ABOUT_TITLE, BODY, SHORT, STEPS, TITLE
from benchleaf.search.documents import Answer, Filters, Hit, Pieces
from benchleaf.search.plan import LONG_ONLY, PART, Alternative, Member, Slot, plan
from benchleaf.search.reader import Index
from benchleaf.search.words import Token, tokenise

MOST = 50
_BASE = {BODY: 0.0, TITLE: 0.5, ABOUT: 0.9, SHORT: 0.5, ABOUT_TITLE: 1.2}
_SPAN = {BODY: 1.0, TITLE: 0.75, ABOUT: 0.5, SHORT: 0.3, ABOUT_TITLE: 0.5}
GAINS = [_BASE[level // STEPS] + _SPAN[level // STEPS] * (level % STEPS + 1) / STEPS for level in range(5 * STEPS)]
EXACT, ALIAS = 1000.0, 500.0
READING, FIRST_READING = 100.0, 10.0  # the best page of each reading of a misspelt word; all pages of the first
TITLE_BONUS = 1.0
_SHORT_IS_SURE = 4  # a short form of so many signs counts as the code even beside other words


@dataclass(slots=True)
class _Found:
    """What a slot found: for each page the best weight, the best weight in its title, and what being the code adds."""

    weight: dict[int, float] = field(default_factory=dict)
    title: dict[int, float] = field(default_factory=dict)
    exact: dict[int, float] = field(default_factory=dict)


def search(index: Index, query: str, filters: Filters | None = None) -> Answer:
    """The pages that answer ``query``, best first, at most ``MOST``. Any text is a query; none raises."""
    filters = filters or Filters()
    made = plan(index, query)
    is_single = len(made.slots) == 1
    found = [_slot(index, slot, is_single) for slot in made.slots]
    scores = _scores(index, found)
    passing = [page for page in scores if _passes(index, page, filters)]
    order = sorted(passing, key=lambda page: (-scores[page], page))[:MOST]
    marks = [_marks(slot) for slot in made.slots]
    hits = []
    for page in order:
        typed = tuple(slot.typed for slot, (_, one) in zip(made.slots, found, strict=True) if page in one.weight)
        hits.append(_hit(index, page, scores[page], marks, typed))
    return Answer(
        hits=tuple(hits),
        total=len(passing),
        hidden=len(scores) - len(passing),
        read_as=tuple(made.read_as),
        unknown=tuple(made.unknown),
    )


def rarity(pages: int, found: int) -> float:
    """About the base-2 logarithm of ``pages / found``, plus one half: straight lines between the powers of two."""
    ratio = (pages + 1.0) / found
    whole = 0.0
    while ratio >= 2.0:
        ratio = ratio / 2.0
        whole += 1.0
    return whole + (ratio - 1.0) + 0.5


def _slot(index: Index, slot: Slot, is_single: bool) -> tuple[float, _Found]:
    """How much the slot counts (0 when it finds nothing), and what it found.

    It counts by the pages with the word itself where there are any: synonyms must not make a rare word common.
    """
    one = _Found()
    own = 0
    for at, alternative in enumerate(slot.alternatives):
        _add(index, alternative, is_single, one)
        if at + 1 == slot.own:
            own = len(one.weight)
    return (rarity(index.pages, own or len(one.weight)) if one.weight else 0.0), one


def _scores(index: Index, found: Sequence[tuple[float, _Found]]) -> dict[int, float]:
    total = 0.0
    for weight, _ in found:
        total += weight
    scores: dict[int, float] = {}
    for page in sorted({page for _, one in found for page in one.weight}):
        score = covered = in_title = exact = 0.0
        titled = 0
        for weight, one in found:
            if page in one.weight:
                score += weight * one.weight[page]
                covered += weight
                exact += one.exact.get(page, 0.0)
                if page in one.title:
                    in_title += weight * one.title[page]
                    titled += 1
        share = covered / total
        full = min(1.0, titled / index.title_lengths[page])
        match = score * share * share + TITLE_BONUS * in_title * full * share
        scores[page] = match * index.weight_of(page) + exact
    return scores


def _add(index: Index, alternative: Alternative, is_single: bool, one: _Found) -> None:
    """Adds what one alternative finds; of several families all must be on the page, and the weakest counts."""
    parts = [_family(index, family, is_single) for family in alternative.families]
    first = parts[0]
    best, best_weight = -1, 0.0
    for page in first.weight:
        if not all(page in part.weight for part in parts):
            continue
        weight = alternative.weight * min(part.weight[page] for part in parts)
        one.weight[page] = max(weight, one.weight.get(page, 0.0))
        if all(page in part.title for part in parts):
            title = alternative.weight * min(part.title[page] for part in parts)
            one.title[page] = max(title, one.title.get(page, 0.0))
        if len(parts) == 1 and page in first.exact:
            one.exact[page] = max(first.exact[page], one.exact.get(page, 0.0))
        if alternative.reading == 1:
            one.exact[page] = max(FIRST_READING, one.exact.get(page, 0.0))
        if weight > best_weight or (weight == best_weight and page < best):
            best, best_weight = page, weight
    if alternative.reading and best >= 0:
        one.exact[best] = max(READING - alternative.reading, one.exact.get(best, 0.0))


def _family(index: Index, family: Sequence[Member], is_single: bool) -> _Found:
    """The best of the terms of a family, page by page."""
    part = _Found()
    for member in family:
        term = member.entry.term
        is_code = member.weight == 1.0 and member.mode != PART and (is_single or has_digit(term))
        is_sure = is_single or len(term) >= _SHORT_IS_SURE
        for page, level in index.postings(member.entry):
            kind = level // STEPS
            if kind == SHORT and member.mode == LONG_ONLY:
                continue
            part.weight[page] = max(member.weight * GAINS[level], part.weight.get(page, 0.0))
            if kind in (TITLE, ABOUT_TITLE):
                part.title[page] = max(member.weight, part.title.get(page, 0.0))
            if is_code and (kind in (ABOUT, ABOUT_TITLE) or (kind == SHORT and is_sure)):
                adds = ALIAS if kind == SHORT or member.mode == LONG_ONLY else EXACT
                part.exact[page] = max(adds, part.exact.get(page, 0.0))
    return part


def _passes(index: Index, page: int, filters: Filters) -> bool:
    machine, kind, variants = index.sort_of(page)
    is_variant = filters.variant in ("", *variants) or (not variants and index.may_be(machine, filters.variant))
    return filters.machine in ("", machine) and filters.kind in ("", kind) and is_variant


def _marks(slot: Slot) -> dict[str, float]:
    """The terms that were looked for, with their weight: what is marked in a line."""
    terms: dict[str, float] = {}
    for alternative in slot.alternatives:
        for family in alternative.families:
            for member in family:
                weight = alternative.weight * member.weight
                terms[member.entry.term] = max(weight, terms.get(member.entry.term, 0.0))
    return terms


def _hit(index: Index, page: int, score: float, marks: Sequence[dict[str, float]], typed: tuple[str, ...]) -> Hit:
    url, title = index.page(page)
    machine, kind, variants = index.sort_of(page)
    best: Pieces = ()
    best_value = 0.0
    for line in index.lines(page):
        pieces, value = _marked(line, marks)
        if value > best_value:
            best, best_value = pieces, value
    return Hit(
        url=url,
        title=_marked(title, marks)[0],
        kind=kind,
        machine=machine,
        variants=variants,
        line=best,
        found=typed,
        score=score,
    )


def _marked(line: str, marks: Sequence[dict[str, float]]) -> tuple[Pieces, float]:
    """The line cut up for showing, and how much of the query it shows: the best weight of each slot in it."""
    best = [0.0] * len(marks)
    pieces: list[tuple[str, bool]] = []
    done = 0
    for token in tokenise(line):
        weights = [_mark_of(token, slot) for slot in marks]
        if any(weights):
            best = [max(pair) for pair in zip(best, weights, strict=True)]
            if token.start >= done:
                pieces += [(line[done : token.start], False), (line[token.start : token.end], True)]
                done = token.end
    pieces.append((line[done:], False))
    value = 0.0
    for weight in best:
        value += weight
    return tuple(piece for piece in pieces if piece[0]), value


def _mark_of(token: Token, slot: dict[str, float]) -> float:
    """How well a token is what the slot looks for; a code also by its end, as it is found by it."""
    if token.kind != "code" or token.term in slot:
        return slot.get(token.term, 0.0)
    return max((weight for term, weight in slot.items() if has_digit(term) and ends_in(token.term, term)), default=0.0)
