"""Labels at their places: measured on a rendering, long names and many labels included."""

from __future__ import annotations

import io

import numpy
import pypdf
import pytest
import zxingcpp
from tests.paper.sheets import MM_PER_INCH, demo_sheet, demo_subject, ink_of, pictures_of

from benchleaf.paper.label_formats import LABEL_FORMATS, LabelFormat
from benchleaf.paper.labels import Flag, label_pages, sheet
from benchleaf.paper.sheet import Sheet

DPI = 600
WITHIN = 0.3
"""Millimetres a label may lie beside its place."""
LONG = "Wagenmotorkabel-mit-Schirm-und-Zugentlastung-zum-Hauptbrett9"


def dots(mm: float, dpi: float = DPI) -> float:
    return mm * dpi / MM_PER_INCH


def with_flags(flags: list[Flag], made: LabelFormat) -> Sheet:
    """A label sheet of the demo's title block with other labels in it."""
    base = sheet(demo_subject("fp420", "replace-print-head"), made.paper, made)
    data, files = label_pages(tuple(flags), made)
    return Sheet(
        name="labels", title="Labels", template="labels.typ", data={**base.data, **data}, files={**base.files, **files}
    )


def flag(number: int, name: str = "Fan cable", page: str | None = "https://shop.example/w1.html") -> Flag:
    return Flag(number=number, letter="A", shape="circle", own="A1-J3", goes_to="M1", cable="W12", name=name, page=page)


@pytest.mark.parametrize("name", sorted(LABEL_FORMATS))
def test_every_format_lies_on_its_paper(name: str) -> None:
    made = LABEL_FORMATS[name]
    wide, high = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}[made.paper]  # ISO 216; ANSI/ASME Y14.1
    for x, y in made.places():
        assert x >= 0 and y >= 0
        assert x + made.width <= wide + 0.01 and y + made.height <= high + 0.01
    assert made.across >= made.width and made.down >= made.height, "labels do not overlap"


def test_frames_lie_within_three_tenths_of_a_millimetre_of_their_places() -> None:
    made = LABEL_FORMATS["a4-2x8"]
    page = ink_of(pictures_of(with_flags([flag(1)], made), DPI)[1])
    for x, y in made.places():
        across = page[int(dots(y + 3)) : int(dots(y + made.height - 3)), :].mean(axis=0)
        down = page[:, int(dots(x + 3)) : int(dots(x + 20))].mean(axis=1)
        for edge, profile in ((x, across), (x + made.width, across), (y, down), (y + made.height, down)):
            near = profile[int(dots(edge - 1.5)) : int(dots(edge + 1.5))]
            found = (int(near.argmax()) + int(dots(edge - 1.5)) + 0.5) * MM_PER_INCH / DPI
            assert near.max() > 0.9, "there is a line"
            assert abs(found - edge) <= WITHIN


def test_fold_marks_lie_in_the_middle_of_every_label() -> None:
    made = LABEL_FORMATS["a4-2x8"]
    page = ink_of(pictures_of(with_flags([flag(n) for n in range(1, 17)], made), DPI)[2])
    for x, y in made.places():
        middle = x + made.width / 2
        rows = slice(int(dots(y + 0.3)), int(dots(y + 1.6)))
        columns = slice(int(dots(middle - 3)), int(dots(middle + 3)))
        found = page[rows, columns].mean(axis=0)
        assert found.max() > 0.9
        assert abs((int(found.argmax()) + columns.start + 0.5) * MM_PER_INCH / DPI - middle) <= WITHIN


@pytest.mark.parametrize("name", sorted(LABEL_FORMATS))
def test_nothing_runs_off_a_label(name: str) -> None:
    """Ink of a label keeps 0.8 mm from its edge, for a name of 60 characters in one word as well."""
    assert len(LONG) == 60
    made, dpi = LABEL_FORMATS[name], 200
    flags = [flag(n, LONG if n % 2 else f"{LONG[:30]} {LONG[30:]}") for n in range(1, made.per_page + 1)]
    page = ink_of(pictures_of(with_flags(flags, made), dpi)[-1])
    outside = numpy.ones_like(page)
    for x, y in made.places():
        left, right = dots(x + 0.8, dpi), dots(x + made.width - 0.8, dpi)
        outside[int(dots(y + 0.8, dpi)) : int(dots(y + made.height - 0.8, dpi)), int(left) : int(right)] = False
        middle = int(dots(x + made.width / 2, dpi))
        outside[:, middle - 4 : middle + 5] = False  # the fold marks, and what lies round the cable
    assert page.any()
    assert not (page & outside).any()


def test_five_hundred_labels_take_as_many_sheets_as_they_need() -> None:
    from benchleaf.edges.pdf import pdf_of

    made = LABEL_FORMATS["a4-3x8"]
    pdf = pypdf.PdfReader(io.BytesIO(pdf_of(with_flags([flag(n) for n in range(1, 501)], made))))
    sheets = -(-500 // made.per_page)
    texts = [page.extract_text().replace("\n", " ") for page in pdf.pages]
    assert "500 labels in all on 21 sheets" in texts[0]
    listed = "".join(texts[: -sheets - 1])
    assert all(f" {n} " in listed for n in range(1, 501))
    assert "Alignment page: print on plain paper first." in texts[-sheets - 1]
    assert "500" in pdf.pages[-1].extract_text()


def test_the_code_on_a_label_leads_to_its_cable() -> None:
    dpi = 300
    page = pictures_of(demo_sheet("fp420", "replace-print-head", "labels"), dpi)[2]
    first = page.crop((0, 0, int(dots(70, dpi)), int(dots(40, dpi))))
    found = {one.text for one in zxingcpp.read_barcodes(first)}
    assert found == {"https://manual.tollgate.example/machine/fp420/cable/w11.html"}


def test_a_code_that_would_be_too_fine_is_left_out() -> None:
    small = LabelFormat(
        name="x", paper="a4", columns=5, rows=10, width=38, height=15, left=5, top=10, across=40, down=16, fold=6
    )
    data, _ = label_pages((flag(1, page="https://shop.example/" + "x" * 80),), small)
    assert "qr" not in data["labels"][0]


def test_both_ends_of_every_cable_that_is_opened_have_a_label() -> None:
    labels = demo_sheet("fp420", "replace-print-head", "labels").data["labels"]
    ends = {(one["cable"], one["own"]) for one in labels}
    assert ("W11", "H1-J1") in ends
    assert ("W11", "A2-J2") in ends


def test_marks_of_swappable_cables_differ_on_paper_as_in_the_records() -> None:
    labels = demo_sheet("fp420", "replace-main-board", "labels").data["labels"]
    marks = {one["cable"]: one["mark"] for one in labels}
    assert marks["W6"] != marks["W7"], "A1-J6 and A1-J7 take each other's plugs"
