"""The ledger page: every line says what opened it and what closes it; what cannot close says so."""

from __future__ import annotations

from tests.pages.library import demo_pages

from benchleaf.pages.kinds.ledger import STILL_OPEN
from benchleaf.pages.shown import Section, Table


def sections(procedure: str) -> dict[str, Section]:
    found: tuple[Section, ...] = demo_pages()[f"machine/fp420/procedure/{procedure}/ledger.html"].context["sections"]
    return {one.title: one for one in found}


def lines(procedure: str) -> Table:
    table = sections(procedure)["From step to step"].blocks[0]
    assert isinstance(table, Table)
    return table


def test_every_line_of_a_clean_teardown_is_opened_by_a_step_and_closed_on_the_way_back() -> None:
    rows = lines("replace-main-board").rows
    assert len(rows) > 30
    assert all(row.cells[2] != STILL_OPEN for row in rows)
    assert all(getattr(row.cells[1], "words", "").startswith("step ") for row in rows)


def test_a_missing_screw_stands_beside_the_ledger_not_in_it() -> None:
    found = sections("make-dead")["So when the machine came in"].blocks[0]
    assert isinstance(found, Table) and "0221" in str(found.rows[0].cells[0])


def test_a_prose_only_record_says_that_its_ledger_does_not_close() -> None:
    assert "It does not close" in sections("set-head-height")
    assert "It does not close" not in sections("replace-main-board")
