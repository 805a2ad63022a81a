"""Sheets set in another process: the same bytes, the same refusals, and a process that ends is no crash."""

from __future__ import annotations

import pytest
from tests.paper.sheets import demo_sheet

from benchleaf.diagnostics import Place
from benchleaf.edges import pdf_worker
from benchleaf.edges.pdf import NotPrinted, pdf_of
from benchleaf.edges.pdf_worker import PdfWorker
from benchleaf.paper.sheet import Sheet

BROKEN = Sheet(
    name="broken",
    title="Broken",
    template="alone.typ",
    data={"file": "photo-1.svg"},
    files={"photo-1.svg": b"<svg"},
    places={"photo-1.svg": Place("lc/teardown/look.yaml", 8, 21)},
)


def test_the_bytes_are_those_of_this_process_before_and_after_it_is_renewed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_worker, "RENEWED_AFTER", 1)
    sheets = [demo_sheet("bc300", name, "job-sheet") for name in ("lift-hood", "make-dead")]
    with PdfWorker() as worker:
        assert [worker.pdf_of(one) for one in sheets] == [pdf_of(one) for one in sheets]


def test_a_sheet_that_cannot_be_set_is_refused_as_here_and_the_next_one_is_set() -> None:
    with pytest.raises(NotPrinted) as here:
        pdf_of(BROKEN)
    with PdfWorker() as worker:
        with pytest.raises(NotPrinted) as there:
            worker.pdf_of(BROKEN)
        assert worker.pdf_of(demo_sheet("bc300", "make-dead", "job-sheet")).startswith(b"%PDF")
    assert (str(there.value), there.value.picture) == (str(here.value), "photo-1.svg")


def test_a_process_that_ends_is_a_refusal_and_a_new_one_takes_its_place() -> None:
    sheet = demo_sheet("bc300", "make-dead", "job-sheet")
    with PdfWorker() as worker:
        worker.pdf_of(sheet)
        assert worker._process is not None
        worker._process.kill()
        worker._process.wait()
        with pytest.raises(NotPrinted, match="has ended"):
            worker.pdf_of(sheet)
        assert worker.pdf_of(sheet) == pdf_of(sheet)
