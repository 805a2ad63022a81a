"""The index files: of the size, names and bytes that a page from a stick can rely on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.search.manual import documents, files

from benchleaf.search import Document, build_index, open_index, search
from benchleaf.search.coding import as_script, from_script, front_coded, number, read_front_coded, read_number
from benchleaf.search.digest import digest
from benchleaf.search.preview import choose_words, fair_share, read_line, write_line


@given(st.integers(min_value=0, max_value=10**9))
def test_a_number_comes_back_and_needs_no_escaping(value: int) -> None:
    text = number(value)
    assert read_number(text + "~~", 0) == (value, len(text))
    assert text.isprintable() and not set(text) & set('"\\')


@given(st.text(st.characters(max_codepoint=0xFFFF, exclude_categories=["Cs"])), st.text(alphabet="ab"))
def test_a_front_coded_word_and_a_script_come_back(word: str, before: str) -> None:
    text = front_coded(word, before)
    assert read_front_coded(text, 0, before) == (word, len(text))
    assert from_script(as_script("name", word)) == word


@given(st.lists(st.text(alphabet='ab ."\\é', min_size=1).map(lambda t: " ".join(t.split())).filter(bool), min_size=1))
def test_a_line_comes_back_whether_or_not_its_words_are_in_the_table(lines: list[str]) -> None:
    words = choose_words(lines * 4, most=3)
    ranks = {word: rank for rank, word in enumerate(words)}
    for line in lines:
        text = write_line(line, ranks)
        assert read_line(text, 0, words) == (line, len(text))


def test_short_pages_leave_their_share_to_long_ones() -> None:
    assert fair_share([10, 10, 500], 100) == 80
    assert fair_share([1, 2, 3], 100) >= 3
    assert fair_share([], 100) == 100
    assert fair_share([50, 50], 60) == 30


def test_all_titles_addresses_and_lines_come_back() -> None:
    opened = open_index(files())
    for at, page in enumerate(sorted(documents(), key=lambda page: page.url)):
        assert opened.page(at) == (page.url, page.title)
        assert set(opened.lines(at)) >= {" ".join(line.split()) for line in (*page.headings, *page.lines)}
        assert opened.sort_of(at) == (page.machine, page.kind, tuple(sorted(page.variants)))


def test_shards_stay_near_25_kilobytes(monkeypatch: pytest.MonkeyPatch) -> None:
    many = [
        replace(page, url=f"copy{n}/{page.url}", title=f"{page.title} word{n}", lines=(*page.lines, f"only{n}here{n}"))
        for n in range(12)
        for page in documents()
    ]
    made = build_index(many)
    shards = [len(content) for name, content in made.items() if name.startswith(("terms", "pages", "lines"))]
    assert len(shards) > 6 and max(shards) < 35_000


def test_digests_made_earlier_give_the_same_bytes() -> None:
    kept = {page: digest(page) for page in documents()[::2]}
    assert build_index(documents(), digests=kept) == files()


def test_a_page_whose_words_change_changes_the_stamp_that_scripts_are_asked_for_with() -> None:
    changed = (replace(documents()[0], title="Something else"), *documents()[1:])
    before, after = open_index(files()).root, open_index(build_index(changed)).root
    assert before["content"] != after["content"]


def test_two_pages_of_one_address_are_both_found() -> None:
    pages = [Document(url="a.html", title=title, kind="article") for title in ("Belt", "Chain")]
    opened = open_index(build_index(pages))
    assert search(opened, "belt").total == search(opened, "chain").total == 1


def test_words_outside_the_first_plane_neither_break_the_index_nor_the_order() -> None:
    page = Document(url="a.html", title="𝟏𝟐 𐐀𐐁 🔧 Ｆan ﬁlter", kind="article", codes=("𝟏𝟐-🔧",))
    opened = open_index(build_index([page]))
    for query in ("12", "fan", "filter", "🔧", "𐐀"):
        search(opened, query)
    assert search(opened, "12").total == 1 and search(opened, "filter").total == 1
