"""A whole machine's manual, and the files handed to the site."""

from __future__ import annotations

from functools import cache

from tests.paper.sheets import demo, demo_book, demo_pictures, pages_of

from benchleaf.edges.pdf import pdf_of
from benchleaf.paper import manual
from benchleaf.paper.sheet import Sheet
from benchleaf.paper.site_files import paper_files, paper_findings


@cache
def whole() -> Sheet:
    return manual.sheet(demo_book().machine("bc300"), demo_pictures, variant="two-bank")


@cache
def pages() -> list[str]:
    return pages_of(pdf_of(whole()))


def test_contents_name_every_procedure_with_the_sheet_it_begins_on() -> None:
    """The number in the contents is read and the sheet looked at."""
    import re

    titles = [chapter["title"] for chapter in whole().data["chapters"]]
    assert len(titles) >= 10
    for title in titles:
        found = re.search(re.escape(title) + r"[ .]*(\d+)", pages()[0])
        assert found is not None, title
        assert title in pages()[int(found.group(1)) - 1]


def test_every_sheet_of_a_chapter_bears_its_own_title_block() -> None:
    """Each names one procedure by its code, with its issue and proof."""
    codes = {f"bc300/{chapter['id']}" for chapter in whole().data["chapters"]}
    for page in pages()[1:-1]:
        assert len({code for code in codes if f"· {code}" in page}) == 1
        assert "Verified" in page or "Unverified" in page or "Withdrawn" in page


def test_the_index_names_items_with_their_steps() -> None:
    assert "Index" in pages()[-1]
    assert "E1 Front heater bank – " in pages()[-1]
    assert "replace-heater-bank step 1" in pages()[-1]


def test_the_same_bytes_twice() -> None:
    again = manual.sheet(demo_book().machine("bc300"), demo_pictures, variant="two-bank")
    assert pdf_of(whole()) == pdf_of(again)


def test_the_site_gets_every_sheet_that_holds_something_beside_the_procedure() -> None:
    procedure = demo_book().machine("fp420").machine.procedures["replace-print-head"]
    files = list(paper_files(demo_book(), "fp420", procedure, demo_pictures))
    assert files[0].path == "machine/fp420/procedure/replace-print-head/paper/replace-print-head-pack.pdf"
    assert files[1].path == "machine/fp420/procedure/replace-print-head/paper/replace-print-head-procedure.pdf"
    assert len({one.path for one in files}) == len(files) == 9  # the pack, and a sheet of each of 8 kinds
    assert not any(one.sheet.nothing for one in files)
    assert all(paper_findings(demo().derived, "fp420", one.sheet) == () for one in files)


def test_a_sheet_that_holds_nothing_is_not_linked() -> None:
    procedure = demo_book().machine("fp420").machine.procedures["save-settings"]
    kinds = {one.kind for one in paper_files(demo_book(), "fp420", procedure, demo_pictures)}
    assert "procedure" in kinds
    assert "ring-out" not in kinds
