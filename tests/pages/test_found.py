"""What a technician types at the demo's bench stands first, and the hit shows the line it was found by."""

from __future__ import annotations

from functools import cache

import pytest
from tests.pages.library import demo, demo_pages

from benchleaf.pages.book import Book
from benchleaf.pages.documents import KIND_WEIGHTS
from benchleaf.search import Filters, Index, build_index, open_index, search
from benchleaf.site import synonyms_of

FP, BC = "machine/fp420", "machine/bc300"
ASKED = (
    ("E1", f"{BC}/code/e1.html"),  # a lamp blinks E1; the two heaters called E1 come behind
    ("08", f"{FP}/code/08.html"),
    ("fp3001", f"{FP}/item/a1.html"),
    ("A1-J3:2", f"{BC}/connector/a1-j3.html"),
    ("j3", f"{BC}/connector/a1-j3.html"),
    ("W10", f"{FP}/cable/w10.html"),
    ("m4 x 8", f"{BC}/fasteners.html#fastener-bottom-screw"),
    ("feed motor", f"{FP}/procedure/replace-feed-motor/index.html"),
    ("repalce feed motr", f"{FP}/procedure/replace-feed-motor/index.html"),
    ("replace fan", f"{FP}/derived/m3/replace.html"),
    ("take off hood", f"{BC}/procedure/lift-hood/index.html"),
    ("remove lid", f"{FP}/derived/lid/replace.html"),
    ("won't switch on", f"{BC}/symptom/oven-dead.html"),
    ("ink washes out", f"{BC}/symptom/ink-not-cured.html"),
    ("beeps", f"{FP}/symptom/beeps-wont-feed.html"),
    ("psu", f"{FP}/item/ps1.html"),
    ("heating element", f"{FP}/item/e1.html"),
    ("solid state relay", f"{BC}/item/v1.html"),
    ("tighten hood screws", f"{BC}/fasteners.html#fastener-hood-screw"),
    ("what is still live", f"{BC}/live.html"),
    ("mains plug", f"{BC}/item/xp1.html"),
    ("lid", f"{FP}/item/lid.html"),
)


@cache
def index() -> Index:
    documents = [one for page in demo_pages().values() for one in page.documents]
    book = Book(demo().derived)
    return open_index(build_index(documents, synonyms_of(book), kind_weights=KIND_WEIGHTS))


@pytest.mark.parametrize(("query", "url"), ASKED, ids=[query for query, _ in ASKED])
def test_what_a_technician_types_stands_first(query: str, url: str) -> None:
    assert search(index(), query).hits[0].url == url


def test_a_part_number_is_shown_in_the_line_it_was_found_by() -> None:
    hit = search(index(), "FP-3001").hits[0]
    assert "".join(text for text, _ in hit.line).startswith("Part number FP-3001")
    assert ("FP-3001", True) in hit.line


def test_a_thing_of_one_variant_is_hidden_from_another() -> None:
    [(_, mk2)] = [(hit.url, hit.variants) for hit in search(index(), "FP-4510").hits if hit.kind == "item"]
    assert mk2 == ("mk2",)
    assert search(index(), "FP-4510", Filters(variant="mk1")).hidden > 0


def test_every_page_that_is_not_a_part_of_another_is_found_by_its_title() -> None:
    parts = {"home", "find", "finder", "step", "bench", "plugs", "codes", "symptoms"}
    found = {one.url.partition("#")[0] for page in demo_pages().values() for one in page.documents}
    assert {page.kind for page in demo_pages().values() if page.path not in found} <= parts
