"""The measurement of the search says what it could not measure, and how to make it able to."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import bench.search
import pytest


@pytest.mark.parametrize("module", ["spellchecker", "codespell_lib"])
def test_without_its_word_lists_it_measures_nothing_and_says_what_to_install(monkeypatch: Any, module: str) -> None:
    monkeypatch.setattr(bench.search, "find_spec", lambda name: None if name == module else True)
    [line] = bench.search.run()
    assert "not measured" in line and "pip install -e '.[dev,bench]'" in line
    assert ("pyspellchecker" in line) is (module == "spellchecker")


def test_without_the_other_search_the_comparison_is_said_to_be_not_measured(monkeypatch: Any, tmp_path: Path) -> None:
    monkeypatch.setattr(bench.search, "find_spec", lambda name: None if name.startswith("pagefind") else True)
    found, [line] = bench.search.rivals(None, tmp_path, bench.search.Manual((), {}, {}), ())
    assert found == {} and "not measured" in line and "pip install" in line


def test_the_place_of_a_right_page_counts_from_one_and_ends_at_ten() -> None:
    urls = [f"{n}.html" for n in range(12)]
    assert bench.search.place(urls, frozenset({"0.html"})) == 1
    assert bench.search.place(urls, frozenset({"9.html", "11.html"})) == 10
    assert bench.search.place(urls, frozenset({"10.html"})) == 0
