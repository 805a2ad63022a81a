"""Queries for the large invented manual, in fifteen classes, each with the pages that answer it.

Misspellings of one word are real ones, from codespell's list, imported when the benchmark runs; no part of the program.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from bench.search_pages import COMPOUNDS, SHORT, SIZES, TROUBLES, VERBS, Manual, text_of
from benchleaf.search import Document


@dataclass(frozen=True)
class Query:
    """One query with the pages that answer it."""

    sort: str
    text: str
    relevant: frozenset[str]


@cache
def misspellings() -> dict[str, list[str]]:
    """Right word -> how it is really misspelt, from codespell's list (entries with one correction, letters only)."""
    import codespell_lib

    found: dict[str, list[str]] = {}
    lines = (Path(codespell_lib.__file__).parent / "data" / "dictionary.txt").read_text(encoding="utf-8").splitlines()
    for line in lines:
        wrong, _, right = line.partition("->")
        if wrong.isalpha() and right.isalpha() and wrong.isascii() and right.isascii() and len(right) > 4:
            found.setdefault(right.lower(), []).append(wrong.lower())
    return found


def queries(made: Manual, half: str, each: int) -> list[Query]:
    """``each`` queries of each of the fifteen classes.

    ``half`` is ``tune`` or ``kept``: other draws; of real misspellings every second one; of the tables of other words
    every second one too, where there are several.
    """
    rng = random.Random(f"queries {half}")
    turn = half == "kept"
    documents = made.documents
    by_title: dict[str, set[str]] = {}
    for page in documents:
        by_title.setdefault(page.title.lower(), set()).add(page.url)
    procedures = [page for page in documents if page.kind == "procedure"]
    items = [page for page in documents if page.kind == "item"]
    codes = [page for page in documents if page.kind == "code"]
    connectors = [page for page in documents if page.kind == "connector"]
    symptoms = [page for page in documents if page.kind == "symptom"]
    texts = {page.url: text_of(page) for page in documents}
    on_pages: dict[str, set[str]] = {}
    for url, text in texts.items():
        for word in set(re.findall("[a-z]+", text.lower())):
            on_pages.setdefault(word, set()).add(url)

    def declared(field: str, test: Callable[[str], bool]) -> frozenset[str]:
        return frozenset(page.url for page in documents if any(test(value) for value in getattr(page, field)))

    def titled(page: Document) -> frozenset[str]:
        return frozenset(by_title[page.title.lower()])

    def exact_code() -> tuple[str, frozenset[str]]:
        code = rng.choice(codes).codes[0]
        return code, declared("codes", code.__eq__)

    def code_variant() -> tuple[str, frozenset[str]]:
        code = rng.choice(codes).codes[0]
        how: list[Callable[[str], str]] = [
            lambda c: c.replace("-", ""),
            str.lower,
            lambda c: c.lower().replace("-", " "),
            lambda c: c.replace("-", "_"),
            lambda c: c.lower().replace("-", ""),
        ]
        return rng.choice(how)(code), declared("codes", code.__eq__)

    def part_joined() -> tuple[str, frozenset[str]]:
        part = rng.choice(items).part_numbers[0]
        return rng.choice((part.replace("-", ""), part.replace("-", " "))), declared("part_numbers", part.__eq__)

    def part_partial() -> tuple[str, frozenset[str]]:
        part = rng.choice(items).part_numbers[0]
        first, middle, last = part.split("-")
        typed = rng.choice((f"{first}-{middle}", f"{middle}-{last}", f"{first}{middle}", middle + last))
        return typed, declared("part_numbers", lambda value: typed.replace("-", "") in value.replace("-", ""))

    def contact() -> tuple[str, frozenset[str]]:
        one = rng.choice(rng.choice(connectors).contacts)
        return rng.choice((one, one.lower(), one.replace(":", "."), one.replace("-", ""))), declared(
            "contacts", one.__eq__
        )

    sizes = [one for one in SIZES if any(one in text for text in texts.values())]

    def size() -> tuple[str, frozenset[str]]:
        one = rng.choice(sizes)
        short = one.replace(" × ", "x")
        typed = rng.choice((short, one, short.lower(), one.replace("×", "x"), short + " screw"))
        return typed, frozenset(url for url, text in texts.items() if re.search(re.escape(one) + r"\b", text))

    def title() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        return page.title.lower(), titled(page)

    def prefix() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        words = page.title.lower().replace(" the ", " ").split()
        typed = " ".join(words[:-1]) + " " + words[-1][: rng.randrange(2, 5)]
        return typed, frozenset(
            url for name, urls in by_title.items() if name.replace(" the ", " ").startswith(typed) for url in urls
        )

    def inflected() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        verb, _, rest = page.title.partition(" the ")
        return f"{rng.choice(VERBS[verb][0])} {rest}" + rng.choice(("", "s")), titled(page)

    def typo_several() -> tuple[str, frozenset[str]]:
        page = rng.choice(
            [page for page in rng.sample(procedures, 50) if sum(len(w) > 4 for w in page.title.split()) > 1]
        )
        words = page.title.lower().replace(" the ", " ").split()
        wrong = rng.sample([at for at, word in enumerate(words) if len(word) > 4], 2)
        return " ".join(misspell(word, rng) if at in wrong else word for at, word in enumerate(words)), titled(page)

    def typo_one() -> tuple[str, frozenset[str]]:
        right, wrong = rng.choice(known)
        return wrong, frozenset(on_pages[right])

    # every second real misspelling for either half
    pairs = [
        (right, wrong)
        for right in sorted(misspellings())
        if right in on_pages
        for wrong in sorted(misspellings()[right])
    ]
    known = [(right, wrong) for right, wrong in pairs[turn::2] if wrong not in on_pages]
    short_pages = [page for page in procedures if made.items[page.url].split(" ", 1)[1] in SHORT]

    def abbreviation() -> tuple[str, frozenset[str]]:
        page = rng.choice(short_pages)
        full = made.items[page.url].split(" ", 1)[1]
        return page.title.lower().replace(" the ", " ").replace(full, rng.choice(_of_half(SHORT[full], turn))), titled(
            page
        )

    def lay_symptom() -> tuple[str, frozenset[str]]:
        page = rng.choice(symptoms)
        recorded, others = TROUBLES[made.troubles[page.url]]
        words = rng.choice((*recorded, *_of_half(others, turn), *_of_half(others, turn)))
        name = made.items[page.url]
        return rng.choice((f"{name} {words}", f"{words} {name}")), titled(page)

    def synonym() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        verb, _, rest = page.title.partition(" the ")
        return f"{rng.choice(_of_half(VERBS[verb][1], turn))} {rest}", titled(page)

    compound_pages = [page for page in procedures if made.items[page.url].split(" ", 1)[1] in COMPOUNDS]

    def compound() -> tuple[str, frozenset[str]]:
        page = rng.choice(compound_pages)
        full = made.items[page.url].split(" ", 1)[1]
        return page.title.lower().replace(" the ", " ").replace(full, COMPOUNDS[full]), titled(page)

    classes: dict[str, Callable[[], tuple[str, frozenset[str]]]] = {
        "exact code": exact_code,
        "code variants": code_variant,
        "part number joined": part_joined,
        "part number in part": part_partial,
        "contact": contact,
        "fastener size": size,
        "title": title,
        "prefix": prefix,
        "inflected": inflected,
        "typos, several words": typo_several,
        "real typo, one word": typo_one,
        "abbreviation": abbreviation,
        "symptom, lay words": lay_symptom,
        "verb synonym": synonym,
        "compound": compound,
    }
    return [Query(sort, *ask()) for sort, ask in classes.items() for _ in range(each)]


def _of_half(words: Sequence[str], turn: bool) -> Sequence[str]:
    return words[turn::2] or words


def misspell(word: str, rng: random.Random) -> str:
    """The word with one slip of the hand: two letters changed over, one left out, doubled or hit beside."""
    at = rng.randrange(1, len(word) - 1)
    kind = rng.randrange(4)
    if kind == 0:
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    if kind == 1:
        return word[:at] + word[at + 1 :]
    if kind == 2:
        return word[:at] + word[at] + word[at:]
    return word[:at] + rng.choice("abcdefghijklmnopqrstuvwxyz") + word[at + 1 :]
