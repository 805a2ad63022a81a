"""What a technician types finds the page; whatever else is typed breaks nothing."""

from __future__ import annotations

from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.search.manual import documents, files, index, queries

from benchleaf.search import Document, Filters, build_index, open_index, search

JUNK = (
    "", " ", "-", "--", "'", '"', "\\", "/", "(", ")", "[", "]", "{", "*", "+", "?", "^", "$", "|", "~", ":", "%", "&",
    "#",
    "title:", "+motor", "-motor", "motor~9", "mot*r", "*", "(motor OR", '"motor', "motor^", "__proto__", "constructor",
    "hasOwnProperty", "toString", "valueOf", "prototype x", "null", "undefined", "NaN", "<b>", "</script>", "&amp;",
    "%00",
    "\x00", "\t\n", "a" * 5000, "motor " * 500, "1" * 300, "1-" * 150, "E-" * 90, "é", "ß", "İ", "Ω", "\u00ad",
    "\u200b",
    "🔧", "🔧🔧 motor", "電源", "кабель", "٣٤", "𝟏𝟐", "½", "ﬁlter", "\u202emotor", "a\u0301" * 40, "x" * 30, "zzzzzzzz",
    "the", "the the", "of in", "m3 x", "x x x", "3 x 3 x 3", "- - -", "..", "J1-", "-J1", "0", "00", "000",
)  # fmt: skip


def urls(query: str, filters: Filters | None = None) -> list[str]:
    return [hit.url for hit in search(index(), query, filters).hits]


@given(st.text(max_size=60) | st.text(alphabet="aeot01-.: xM×", max_size=30))
@settings(max_examples=150, deadline=None)
def test_no_query_raises(query: str) -> None:
    search(index(), query, Filters(machine=query[:3]))


@pytest.mark.parametrize("junk", JUNK)
def test_junk_is_answered(junk: str) -> None:
    answer = search(index(), junk)
    assert len(answer.hits) <= 50 and answer.total >= len(answer.hits)


def test_the_hand_written_queries_are_answered_in_both_halves() -> None:
    by_sort: dict[tuple[str, str], list[float]] = defaultdict(list)
    for asked in queries():
        places = [place for place, url in enumerate(urls(asked.query)[:10], 1) if url in asked.expected]
        by_sort[asked.half, asked.sort].append(1 / places[0] if places else 0.0)
    for half in ("tune", "kept"):
        values = {sort: sum(found) / len(found) for (of, sort), found in by_sort.items() if of == half}
        assert len(values) == 14
        assert sum(values.values()) / len(values) >= 0.95, (half, values)
        assert all(values[sort] == 1.0 for sort in ("exact code", "code variants", "part number", "contact")), values


@pytest.mark.parametrize("code", [code for page in documents() for code in (*page.codes, *page.part_numbers)])
def test_every_code_and_part_number_comes_first_however_it_is_dashed(code: str) -> None:
    about = {page.url for page in documents() if code in (*page.codes, *page.part_numbers)}
    for typed in (
        code,
        code.lower(),
        code.replace("-", ""),
        code.replace("-", " "),
        code.replace("-", "."),
        f" {code} ",
    ):
        assert urls(typed)[0] in about, typed


def test_a_dash_keeps_two_codes_apart() -> None:
    pages = [
        Document(url="a.html", title="One", kind="connector", designations=("J1-12",)),
        Document(url="b.html", title="Two", kind="connector", designations=("J11-2",)),
        Document(url="c.html", title="Three", kind="connector", designations=("J112",)),
    ]
    opened = open_index(build_index(pages))
    assert [hit.url for hit in search(opened, "J1-12").hits] == ["a.html", "c.html"]
    assert [hit.url for hit in search(opened, "J11-2").hits] == ["b.html", "c.html"]
    assert [hit.url for hit in search(opened, "J112").hits] == ["c.html", "a.html", "b.html"]


def test_a_code_with_a_wrong_digit_is_not_corrected() -> None:
    answer = search(index(), "E-0416")
    assert not answer.hits and answer.unknown == ("E-0416",) and not answer.read_as


def test_a_known_word_is_not_corrected_and_an_unknown_one_says_what_it_was_read_as() -> None:
    assert search(index(), "contactor").read_as == ()
    assert search(index(), "contacter").read_as == (("contacter", ("contactor",)),)


def test_a_page_for_all_variants_passes_any_variant() -> None:
    pages = [
        Document(url="all.html", title="Brake", kind="procedure"),
        Document(url="old.html", title="Brake", kind="procedure", variants=("mk1",)),
        Document(url="new.html", title="Brake", kind="procedure", variants=("mk2",)),
    ]
    answer = search(open_index(build_index(pages)), "brake", Filters(variant="mk1"))
    assert {hit.url for hit in answer.hits} == {"all.html", "old.html"}
    assert (answer.total, answer.hidden) == (2, 1)


def test_a_kind_that_counts_less_stands_behind_what_matches_as_well_but_not_with_its_own_code() -> None:
    pages = [
        Document(url="a.html", title="Replace the fan", kind="derived procedure"),
        Document(url="b.html", title="Replace the fan", kind="procedure"),
        Document(url="c.html", title="Fan K1", kind="derived procedure", codes=("K1",)),
        Document(url="d.html", title="K1", kind="procedure", lines=("K1",)),
    ]
    opened = open_index(build_index(pages, kind_weights={"derived procedure": 0.5}))
    assert [hit.url for hit in search(opened, "replace fan").hits][:2] == ["b.html", "a.html"]
    assert [hit.url for hit in search(open_index(build_index(pages)), "replace fan").hits][:2] == ["a.html", "b.html"]
    assert [hit.url for hit in search(opened, "k1").hits] == ["c.html", "d.html"]


def test_a_page_of_a_machine_without_the_variant_does_not_pass() -> None:
    pages = [
        Document(url="all.html", title="Brake", kind="procedure", machine="B600"),
        Document(url="new.html", title="Brake", kind="procedure", machine="B600", variants=("mk2",)),
        Document(url="other.html", title="Brake", kind="procedure", machine="LC30"),
        Document(url="shop.html", title="Brake cleaner", kind="supply"),
    ]
    opened = open_index(build_index(pages))
    assert {hit.url for hit in search(opened, "brake", Filters(variant="mk2")).hits} == {
        "all.html", "new.html", "shop.html",
    }  # fmt: skip
    assert search(opened, "brake", Filters(machine="LC30", variant="mk2")).hidden == 4


def test_the_line_shown_holds_the_words_marked() -> None:
    hit = search(index(), "lime on rod").hits[0]
    assert "".join(text for text, _ in hit.line) == "Lime on the heating rod slows heating down."
    assert [text for text, is_marked in hit.line if is_marked] == ["Lime", "on", "rod"]


def test_lines_past_the_budget_are_left_out_but_still_found() -> None:
    small = open_index(build_index(documents(), lines_budget=2000))
    hit = search(small, "eccentric").hits[0]
    assert hit.url == "lc30/adjust-belt.html" and hit.line == () and hit.found == ("eccentric",)


def test_the_same_documents_in_any_order_give_the_same_bytes() -> None:
    assert build_index(reversed(documents())) == files()


def test_each_file_is_one_call_that_a_script_tag_can_read() -> None:
    for name, content in files().items():
        assert content.startswith(b'benchleafShard("' + name.removesuffix(".js").encode() + b'",')
        assert content.endswith(b");\n") and content.count(b"\n") == 1
