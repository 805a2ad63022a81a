"""The search in the page gives what the search in Python gives, and can be used with a thumb or with keys alone."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.search.conftest import SCRIPTS, lay_site
from tests.search.manual import documents, files, index, queries
from tests.search.test_queries import JUNK
from tests.search.vectors import read_vectors

from benchleaf.search import Document, Filters, Index, build_index, open_index, page_script, search
from benchleaf.search.coding import number
from benchleaf.search.spelling import guesses
from benchleaf.search.words import fold, terms_of

ASK = """async ([query, filters]) => {
  window.opened = window.opened || await benchleafSearch.open(new URL("search/", location.href).href);
  return benchleafSearch.search(window.opened, query, filters);
}"""


def in_python(opened: Index, query: str, filters: Filters) -> dict[str, Any]:
    """The answer of the Python side in the page's shape."""
    answer = search(opened, query, filters)
    hits = [
        {
            "url": hit.url,
            "title": [list(piece) for piece in hit.title],
            "machine": hit.machine,
            "kind": hit.kind,
            "variants": list(hit.variants),
            "found": list(hit.found),
            "score": hit.score,
            "line": [list(piece) for piece in hit.line],
        }
        for hit in answer.hits
    ]
    return {
        "hits": hits,
        "total": answer.total,
        "hidden": answer.hidden,
        "readAs": [[typed, list(read)] for typed, read in answer.read_as],
        "unknown": list(answer.unknown),
    }


def test_both_tokenisers_make_the_same_of_the_vectors(open_page: Callable[..., Page]) -> None:
    made = open_page().evaluate(
        """(vectors) => {
          const { words } = benchleafSearch;
          return {
            tokens: vectors.tokens.map(([raw]) => {
              const text = words.normalise(raw);
              return [raw, words.tokenise(text).map((t) => [t.term, t.kind, text.slice(t.start, t.end)])];
            }),
            bases: vectors.bases.map(([word]) => [
              word, Array.from(words.bases(word)).sort(), words.familyPrefix(word)]),
            forms: vectors.forms.map(([one, other]) => [one, other, words.areForms(one, other)]),
          };
        }""",
        read_vectors(),
    )
    assert made == read_vectors()


def test_both_sides_fold_every_letter_that_python_knows_alike(open_page: Callable[..., Page]) -> None:
    signs = [chr(n) for n in range(0x80, 0xD800) if unicodedata.category(chr(n))[0] in "LNM"]
    made = open_page().evaluate("(signs) => signs.map((sign) => benchleafSearch.words.fold(sign))", signs)
    assert {sign: got for sign, got in zip(signs, made, strict=True) if fold(sign) != got} == {}


def test_the_page_ranks_and_shows_exactly_as_python_does(open_page: Callable[..., Page]) -> None:
    page = open_page()
    for asked in queries():
        assert page.evaluate(ASK, [asked.query, {}]) == in_python(index(), asked.query, Filters()), asked.query


def test_kinds_that_count_less_do_so_in_the_page_too(open_page: Callable[..., Page], tmp_path: Path) -> None:
    made = build_index(documents(), kind_weights={"procedure": 0.3, "item": 1.7})
    page, opened = open_page(lay_site(tmp_path, made)), open_index(made)
    for asked in queries()[1::4]:
        assert page.evaluate(ASK, [asked.query, {}]) == in_python(opened, asked.query, Filters()), asked.query


def test_filters_hide_the_same_pages_on_both_sides(open_page: Callable[..., Page]) -> None:
    page = open_page()
    for query in ("control board", "J1", "torque", "parts washer"):
        for narrowed in ({"machine": "Plover LC30 label cutter"}, {"kind": "procedure"}, {"variant": "mk2"}):
            assert page.evaluate(ASK, [query, narrowed]) == in_python(index(), query, Filters(**narrowed))


def test_a_variant_hides_the_pages_of_machines_without_it_on_both_sides(
    open_page: Callable[..., Page], tmp_path: Path
) -> None:
    pages = [
        Document(url=f"{n}.html", title="Brake", kind="item", machine=machine, variants=variants)
        for n, (machine, variants) in enumerate((("B600", ()), ("B600", ("mk2",)), ("LC30", ()), ("", ())))
    ]
    made = build_index(pages)
    page, opened = open_page(lay_site(tmp_path, made)), open_index(made)
    for narrowed, urls in (({"variant": "mk2"}, ["0", "1", "3"]), ({"variant": "mk1"}, ["3"]), ({}, list("0123"))):
        found = page.evaluate(ASK, ["brake", narrowed])
        assert found == in_python(opened, "brake", Filters(**narrowed))
        assert sorted(hit["url"][0] for hit in found["hits"]) == urls


def test_junk_throws_nothing_in_the_page_and_is_answered_alike(open_page: Callable[..., Page]) -> None:
    page = open_page()
    for junk in JUNK:
        assert page.evaluate(ASK, [junk, {}]) == in_python(index(), junk, Filters()), junk
    page.evaluate(ASK, ["\ud800 half a character \udc00", {}])
    field = page.get_by_label("Code, part number")
    for junk in JUNK[:20]:
        field.fill(junk)
    page.evaluate("() => { document.querySelector('[data-search-words]').value = '\\ud83d'; }")
    field.dispatch_event("input")


def test_an_index_of_many_shards_is_read_alike(
    open_page: Callable[..., Page], tmp_path: Path, monkeypatch: Any
) -> None:
    monkeypatch.setattr("benchleaf.search.index.SHARD", 400)
    made = build_index(documents())
    assert len(made) > 60
    page, opened = open_page(lay_site(tmp_path, made)), open_index(made)
    for asked in queries()[::3]:
        assert page.evaluate(ASK, [asked.query, {}]) == in_python(opened, asked.query, Filters()), asked.query


def test_both_sides_guess_the_same_words_for_misspelt_ones(open_page: Callable[..., Page]) -> None:
    shards = list(index().spelling("abcdefghijklmnopqrstuvwxyz"))
    random = Random(7)
    known = sorted({term for page in documents() for line in page.lines for term in terms_of(line) if term.isalpha()})
    letters = "abcdefghijklmnopqrstuvwxyz"
    typed = ["conveyormotor", "thermocoupleheater", "aaaaaaaaaaaa", "zzzz", "étau", "moteur" * 5]
    for word in known:
        at = random.randrange(len(word))
        typed += [word[:at] + word[at + 1 :], word[:at] + random.choice(letters) * 2 + word[at:], word[::-1]]
    made = open_page().evaluate(
        """([typed, shards]) => typed.map((word) => {
          const { best, joint } = benchleafSearch.guesses(word, shards);
          return [best.map((guess) => [guess.word, guess.cost, guess.common]), joint];
        })""",
        [typed, shards],
    )
    for word, got in zip(typed, made, strict=True):
        best, joint = guesses(word, shards)
        assert got == [[[g.word, g.cost, g.common] for g in best], list(joint) if joint else None], word
    assert sum(bool(best) for best, _ in made) > 100


def test_an_empty_manual_answers_with_nothing(open_page: Callable[..., Page], tmp_path: Path) -> None:
    made = build_index(())
    page = open_page(lay_site(tmp_path, made))
    for query in ("anything", "E-0417", ""):
        assert page.evaluate(ASK, [query, {}]) == in_python(open_index(made), query, Filters())


def test_one_script_with_the_root_in_it_does_for_all(open_page: Callable[..., Page], tmp_path: Path) -> None:
    site = lay_site(tmp_path, files())
    texts = {name: (tmp_path / name).read_text(encoding="utf-8") for name in SCRIPTS}
    (tmp_path / "search" / "page.js").write_bytes(page_script(texts, files()))
    (tmp_path / "search" / "root.js").unlink()  # it is in the script
    words = site.read_text(encoding="utf-8")
    head = words[: words.index("<script")] + '<script defer src="search/page.js"></script></head>'
    site.write_text(head + words[words.index("<body") :], encoding="utf-8")
    page = open_page(site)
    page.keyboard.type("E-0417")
    page.locator(".search-group a").first.wait_for()
    assert page.locator(".search-title").first.inner_text().startswith("E-0417")


def test_half_a_code_typed_leads_to_its_page_with_the_code_marked(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.keyboard.type("E-04")
    first = page.locator(".search-group a").first
    first.wait_for()
    assert first.get_attribute("href", timeout=1000).endswith("/lc30/code-e-0417.html")  # type: ignore[union-attr]
    assert page.locator(".search-title mark").first.inner_text() == "E-0417"


def test_keys_alone_lead_from_the_field_through_the_hits_and_back(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.keyboard.type("feed motor")
    page.locator(".search-group a").nth(1).wait_for()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    links = page.locator(".search-group li:not([hidden]) > a")
    assert links.nth(1).evaluate("(link) => link === document.activeElement")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    assert page.evaluate("() => document.activeElement.matches('[data-search-words]')")
    page.keyboard.press("Enter")
    assert links.first.evaluate("(link) => link === document.activeElement")
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    assert page.get_by_label("Code, part number").input_value() == ""
    page.locator("h1").click()
    page.keyboard.press("/")
    assert page.evaluate("() => document.activeElement.matches('[data-search-words]')")


def test_enter_opens_the_page_of_a_code_typed_whole(open_page: Callable[..., Page], search_site: Path) -> None:
    target = search_site.parent / "wd20" / "code-f07.html"
    target.parent.mkdir(exist_ok=True)
    target.write_text("<!doctype html><title>F07</title><h1>F07</h1>", encoding="utf-8")
    page = open_page()
    page.keyboard.type("f-07")
    page.keyboard.press("Enter")
    page.wait_for_url("**/wd20/code-f07.html")


def test_a_filter_that_hides_everything_offers_the_whole_manual(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.locator("summary").click()
    page.get_by_label("Machine").select_option("Ostler B600 tunnel oven")
    page.get_by_label("Code, part number").fill("E-0417")
    page.get_by_role("button", name="Search the whole manual").click()
    page.locator(".search-group a").first.wait_for()
    assert page.locator("summary").inner_text() == "Narrow down"


def test_nothing_found_says_which_words_and_what_to_try(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.get_by_label("Code, part number").fill("qqqqzz E-9999")
    page.get_by_role("heading", name="Nothing found").wait_for()
    said = page.locator(".search-results").inner_text()
    assert "qqqqzz" in said and "E-9999" in said and "beginning" in said


def test_an_unknown_code_is_not_corrected_but_codes_like_it_are_offered(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.get_by_label("Code, part number").fill("E-0416")
    page.get_by_text("A code is never guessed at").wait_for()
    offered = page.locator(".search-near button").all_inner_texts()
    assert offered[0].startswith("E041") and "E0417" in offered
    assert all(code.startswith("E0") for code in offered)
    page.get_by_role("button", name="E0417").click()
    page.locator(".search-group a").first.wait_for()
    assert page.locator(".search-title").first.inner_text().startswith("E-0417")
    page.get_by_label("Code, part number").fill("qqqqzz")
    page.get_by_role("heading", name="Nothing found").wait_for()
    assert page.locator(".search-near").count() == 0


def test_on_a_phone_the_field_goes_to_the_top_at_the_first_key(open_page: Callable[..., Page], tmp_path: Path) -> None:
    site = lay_site(tmp_path, files())
    words = site.read_text(encoding="utf-8")
    site.write_text(words.replace("<h1>Search</h1>", "<h1>Search</h1>" + "<p>menu</p>" * 12), encoding="utf-8")
    page = open_page(site)
    field = page.get_by_label("Code, part number")
    assert field.bounding_box()["y"] > 300  # type: ignore[index]
    page.keyboard.type("e-0417")
    hit = page.locator(".search-group a").first
    hit.wait_for()
    assert field.bounding_box()["y"] < 60 and hit.bounding_box()["y"] < 300  # type: ignore[index]


def test_a_long_line_is_cut_down_to_what_was_found(open_page: Callable[..., Page], tmp_path: Path) -> None:
    long = " ".join(f"word{n}" for n in range(90)).replace("word60 ", "sprocket ")
    pages = [Document(url="a.html", title="One", kind="item", lines=(long,))]
    page = open_page(lay_site(tmp_path, build_index(pages)))
    page.get_by_label("Code, part number").fill("sprocket")
    line = page.locator(".search-line mark")
    line.wait_for()
    said = page.locator(".search-line").inner_text()
    assert line.inner_text() == "sprocket" and len(said) <= 156
    assert said.startswith("… word") and said.endswith(" …") and set(said.split()) <= {*long.split(), "…"}


def test_what_a_query_or_a_page_says_is_never_markup(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.get_by_label("Code, part number").fill("<img src=x onerror=alert(1)> zzzzqq")
    page.get_by_role("heading", name="Nothing found").wait_for()
    assert page.locator(".search-results img").count() == 0


def test_pages_opened_lately_stand_below_the_empty_field(open_page: Callable[..., Page], search_site: Path) -> None:
    folder = search_site.parent / "b600"
    folder.mkdir(exist_ok=True)
    script = '<script defer src="../search-recent.js" data-top="."></script>'
    headings = {"grease": "<h1>About grease</h1>", "tension": "<h1><span>Step 5</span><span>Set tension</span></h1>"}
    for name, heading in headings.items():
        crumbs = '<ol class="crumbs"><li><a href="x">Shop</a><li><a href="y">Ostler B600</a><li>Here</ol>'
        words = f"<!doctype html><meta charset=utf-8><title>x</title>{crumbs}{heading}{script}"
        (folder / f"{name}.html").write_text(words, encoding="utf-8")
        open_page(folder / f"{name}.html")
    page = open_page()
    page.locator(".search-group a").first.wait_for()
    assert page.locator(".search-title").all_inner_texts()[:2] == ["Step 5 Set tension", "About grease"]
    assert page.locator(".search-where").all_inner_texts()[:2] == ["Ostler B600", "Ostler B600"]


def test_the_address_keeps_the_query_for_the_way_back(open_page: Callable[..., Page], search_site: Path) -> None:
    page = open_page(search_site, "?q=drain%20tank")
    page.locator(".search-group a").first.wait_for()
    page.get_by_label("Code, part number").fill("grease")
    page.wait_for_url("**#q=grease")
    page.reload()
    page.locator(".search-group a").first.wait_for()
    assert page.get_by_label("Code, part number").input_value() == "grease"


def test_everything_to_touch_is_large_and_nothing_is_wider_than_the_phone(open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.get_by_label("Code, part number").fill("motor")
    page.locator(".search-more").first.wait_for()
    boxes = page.locator("input, button:visible, summary, .search-group li:not([hidden]) > a")
    heights = [box.bounding_box()["height"] for box in boxes.all() if box.bounding_box()]  # type: ignore[index]
    assert min(heights) >= 48
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390


def test_a_missing_file_of_the_index_is_said_not_thrown(browser: Any, tmp_path: Path) -> None:
    site = lay_site(tmp_path, build_index(documents()))
    (tmp_path / "search" / "terms-000.js").unlink()
    page = browser.new_page()
    thrown: list[str] = []
    page.on("pageerror", lambda error: thrown.append(str(error)))
    page.goto(site.as_uri())
    page.get_by_label("Code, part number").fill("motor")
    page.get_by_text("could not be read (missing terms-000)").wait_for()
    page.close()
    assert thrown == []


@pytest.mark.parametrize("value", [0, 1, 63, 64, 65, 1919, 1920, 55743, 55744, 10_000_000])
def test_numbers_of_any_size_are_read_alike(open_page: Callable[..., Page], value: int) -> None:
    text = json.dumps(number(1) + number(1) + "x" + number(1) + number(3) + number(value))
    page = open_page()
    got = page.evaluate(
        f"""async () => {{
          const index = new benchleafSearch.Index("");
          index.texts.set("terms-000", Promise.resolve({text}.slice(1)));
          const found = [];
          index.postings({{ pages: 1, text: {text}, start: 4 }}, (page, level) => found.push(page, level));
          return found;
        }}"""
    )
    assert got == [value, 3]
