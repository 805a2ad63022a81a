"""A printed procedure: tagged, in order, every message on the sheet of its step, the same bytes every time."""

from __future__ import annotations

import io
import itertools
import re
from functools import cache

import pikepdf
import pytest
import zxingcpp
from PIL import Image
from tests.paper.sheets import (
    demo,
    demo_pdf,
    demo_pictures,
    demo_sheet,
    demo_subject,
    made_subject,
    no_pictures,
    pages_of,
    pictures_of,
)

from benchleaf.edges.pdf import images_of, pdf_of
from benchleaf.paper.procedure import sheet
from benchleaf.paper.title_block import address_of

STEPS = 40


@cache
def opened(machine: str = "fp420", procedure: str = "replace-print-head") -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(demo_pdf(machine, procedure)))


def elements(node: pikepdf.Object) -> list[pikepdf.Dictionary]:
    """Every structure element below a node."""
    found: list[pikepdf.Dictionary] = []
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            found += [kid, *elements(kid)]
    return found


def test_it_is_tagged_and_says_that_it_is_pdf_ua_1() -> None:
    """ISO 14289-1, 5 (identification), 7.1 (tagged), 7.2 (language)."""
    pdf = opened()
    assert bool(pdf.Root.MarkInfo.Marked)
    assert str(pdf.Root.Lang).startswith("en")
    with pdf.open_metadata() as meta:
        assert meta["pdfuaid:part"] == "1"
        assert "Replace the print head" in meta["dc:title"]


def test_its_title_is_shown_and_not_its_file_name() -> None:
    """ISO 14289-1, 7.1: ViewerPreferences with DisplayDocTitle true."""
    assert bool(opened().Root.ViewerPreferences.DisplayDocTitle)


def test_every_picture_has_its_words() -> None:
    figures = [one for one in elements(opened().Root.StructTreeRoot) if str(one.S) == "/Figure"]
    assert len(figures) > 3
    assert all(str(one.get("/Alt", "")).strip() for one in figures)


def test_headings_begin_with_the_first_level_and_skip_none() -> None:
    kinds = [str(one.S) for one in elements(opened().Root.StructTreeRoot)]
    levels = [int(kind[2:]) for kind in kinds if re.fullmatch("/H[1-6]", kind)]
    assert len(levels) > 20
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_the_text_is_read_in_the_order_of_the_steps() -> None:
    text = " ".join(pages_of(demo_pdf("fp420", "replace-print-head")))
    titles = [str(step.title) for step in demo_subject("fp420", "replace-print-head").procedure.steps]
    text = text[text.index("How the machine stands before step 1") :]
    places = [text.index(title) for title in titles]
    assert places == sorted(places)


def test_every_sheet_says_how_far_proved_which_issue_and_its_code() -> None:
    for page in pages_of(demo_pdf("fp420", "replace-print-head")):
        assert "Issue 2 of 2026-01-30. Verified at the machine" in page
        assert "fp420/replace-print-head" in page


def test_sheets_are_counted_to_the_last() -> None:
    pages = pages_of(demo_pdf("fp420", "make-dead"))
    assert [f"{n} of {len(pages)}" in page for n, page in enumerate(pages, 1)] == [True] * len(pages)


def test_the_same_bytes_twice() -> None:
    one = demo_sheet("fp420", "replace-print-head")
    again = sheet(demo_subject("fp420", "replace-print-head"), demo_pictures)
    assert pdf_of(one) == pdf_of(again)


def test_the_only_date_in_it_is_that_of_the_issue() -> None:
    info = opened().docinfo
    assert "20260130" in str(info["/CreationDate"])


@pytest.mark.parametrize("dots_per_inch", [150, 300])
def test_the_qr_code_leads_to_the_page_of_the_procedure(dots_per_inch: int) -> None:
    page = Image.open(io.BytesIO(images_of(demo_sheet("fp420", "replace-print-head"), dots_per_inch)[0]))
    found = [one.text for one in zxingcpp.read_barcodes(page)]
    assert found == ["https://manual.tollgate.example/machine/fp420/procedure/replace-print-head/index.html"]
    assert found == [address_of(demo_subject("fp420", "replace-print-head"))]


def test_tick_boxes_of_steps_are_eight_millimetres_or_more() -> None:
    """The box right of a step's title, measured on the page: its left and right edges."""
    from tests.paper.sheets import ink_of

    dpi = 200
    page = ink_of(pictures_of(demo_sheet("fp420", "replace-print-head"), dpi)[2])
    right_strip = page[:, -int(24 * dpi / 25.4) : -int(12.6 * dpi / 25.4)]
    widths = []
    for row in right_strip:
        columns = row.nonzero()[0]
        if len(columns) > 4:
            gaps = columns[1:] - columns[:-1]
            widths.append(int(gaps.max()) * 25.4 / dpi)
    assert max(widths) >= 8.0


# ---- a message and its step on one sheet


def long_procedure() -> dict[str, str]:
    """40 steps of different length, each with two messages of its own."""
    safety = "".join(
        f"h{n}: {{signal: WARNING, hazard: Hazard number {n} bites., consequence: It hurts., "
        f"avoid: {'Keep away from it at all times. ' * (1 + n % 4)}, symbol: W001}}\n"
        f"k{n}: {{signal: CAUTION, hazard: Second hazard {n} pinches., consequence: It hurts., avoid: Keep off.}}\n"
        for n in range(1, STEPS + 1)
    )
    steps = "".join(
        f"  - title: Turn wheel number {n} slowly\n    do: [inspect: lid]\n    safety: [h{n}, k{n}]\n"
        f"    text: |\n      {'Look at the wheel and listen to it. ' * (1 + (n * 7) % 40)}\n"
        for n in range(1, STEPS + 1)
    )
    return {
        "safety.yaml": f"record: safety\n{safety}",
        "shop.yaml": "record: shop\nname: Shop\n",
        "plo/machine.yaml": "record: machine\nid: plo\nname: Plover\nitems:\n  frame: Frame\n  lid: Lid\n",
        "plo/teardown/long.yaml": f"record: teardown\nid: long\ntitle: Turn all wheels\nmachine: plo\nsteps:\n{steps}",
    }


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_message_stands_before_its_step_on_the_same_sheet(paper: str) -> None:
    subject = made_subject(long_procedure(), "long")
    pages = pages_of(pdf_of(sheet(subject, no_pictures, paper)))  # type: ignore[arg-type]
    assert len(pages) > 10
    for n in range(1, STEPS + 1):
        (page,) = [page for page in pages if f"Turn wheel number {n} slowly" in page and "Torque" not in page]
        title = page.index(f"Turn wheel number {n} slowly")
        for words in (f"Hazard number {n} bites.", f"Second hazard {n} pinches."):
            assert page.rfind(words, 0, title) >= 0, f"step {n}: '{words}' is not before it on its sheet"


def test_a_step_longer_than_a_sheet_still_begins_below_its_messages() -> None:
    """60 readings do not fit on a sheet: messages, number and the first thing to do stay together, the rest flows."""
    files = long_procedure()
    many = "inspect: lid, " * 59
    steps = files["plo/teardown/long.yaml"].replace("do: [inspect: lid]", f"do: [{many}inspect: lid]")
    subject = made_subject(files | {"plo/teardown/long.yaml": steps}, "long")
    pages = pages_of(pdf_of(sheet(subject, no_pictures)))
    for n in range(1, STEPS + 1):
        (page,) = [page for page in pages if f"Turn wheel number {n} slowly" in page]
        title = page.index(f"Turn wheel number {n} slowly")
        assert page.rfind(f"Hazard number {n} bites.", 0, title) >= 0
        assert page.rfind(f"Second hazard {n} pinches.", 0, title) >= 0
        assert "Inspect Lid" in page[title : title + 80]


def test_every_procedure_of_the_demo_is_set_on_letter_paper_too() -> None:
    """The typesetter fails on some breaks of tagged text; whatever falls where, a sheet is set."""
    for machine, procedure in demo().derived.library.procedures():
        made = sheet(demo_subject(str(machine.id), str(procedure.id)), demo_pictures, "us-letter")
        assert pdf_of(made).startswith(b"%PDF-")


def test_what_to_do_stands_on_the_sheet_of_the_number() -> None:
    subject = made_subject(long_procedure(), "long")
    pages = pages_of(pdf_of(sheet(subject, no_pictures)))
    for n in range(1, STEPS + 1):
        (page,) = [page for page in pages if f"Turn wheel number {n} slowly" in page]
        title = page.index(f"Turn wheel number {n} slowly")
        assert "Inspect Lid" in page[title : title + 80]


# ---- never milder


def test_a_serial_alone_takes_no_hazard_away() -> None:
    """records.md: hazards, conditions and still-live maps are never narrowed by a serial alone."""
    whole = demo_sheet("fp420", "replace-print-head").data
    serial = sheet(demo_subject("fp420", "replace-print-head", serial="0100"), demo_pictures).data
    of_all = {step["title"]: {one["hazard"] for one in step["safety"]} for step in whole["steps"]}
    assert serial["steps"]
    for step in serial["steps"]:
        assert {one["hazard"] for one in step["safety"]} == of_all[step["title"]]
    assert {one["hazard"] for one in serial["summary"]} == {one["hazard"] for one in whole["summary"]}


def test_a_variant_leaves_out_what_is_for_others_only() -> None:
    whole = demo_sheet("fp420", "make-dead").data["steps"]
    narrow = sheet(demo_subject("fp420", "make-dead", variant="mk1"), demo_pictures).data["steps"]
    titles = [step["title"] for step in narrow]
    assert "Measure the platen until it is cool" in [step["title"] for step in whole]
    assert "Measure the platen until it is cool" not in titles
    assert "Take the roll feed cover off" in titles, "a modification nobody has ruled out stays"


def test_putting_energy_back_carries_the_messages_of_making_dead() -> None:
    data = demo_sheet("fp420", "replace-print-head").data
    energising = [step for step in data["back"] if step["title"].startswith("Switch ")]
    assert energising
    for step in energising:
        assert "Mains voltage on bare terminals." in {one["hazard"] for one in step["safety"]}


def test_a_step_of_the_way_back_carries_the_messages_of_the_step_it_undoes() -> None:
    data = demo_sheet("fp420", "replace-print-head").data
    forward = {step["number"]: {one["hazard"] for one in step["safety"]} for step in data["steps"]}
    checked = 0
    for step in data["back"]:
        if step["why"].startswith("puts back step ") and " of " not in step["why"]:
            number = step["why"].removeprefix("puts back step ").split(" ")[0]
            assert {one["hazard"] for one in step["safety"]} == forward[number]
            checked += 1
    assert checked >= 6


def test_the_way_back_names_things_and_no_ids_in_brackets() -> None:
    said = [action["said"] for step in demo_sheet("fp420", "make-dead").data["back"] for action in step["actions"]]
    assert any("Left cover" in words or "left cover" in words for words in said)
    assert not [words for words in said if re.search(r"\([a-z0-9-]+(\.[a-z0-9-]+)?\)", words)]
    assert "Tighten the 4 M3 × 8 mm pan screws of Left cover" in said


def test_every_reading_that_proves_dead_has_a_box() -> None:
    steps = demo_sheet("fp420", "make-dead", variant="mk1").data["steps"]
    boxes = [box for step in steps for action in step["actions"] for box in action["boxes"]]
    proofs = demo_subject("fp420", "make-dead").full.record.energy["mains"].prove_dead or ()
    words = ["".join(piece["t"] for piece in box["label"]) for box in boxes if isinstance(box["label"], list)]
    for proof in proofs:
        assert any(all(contact.shown in label for contact in proof.between) for label in words)


def test_nothing_recorded_prints_as_not_recorded_and_never_empty() -> None:
    files = {
        "shop.yaml": "record: shop\n",
        "bare/machine.yaml": "record: machine\nid: bare\nname: Bare\nitems: {frame: Frame, lid: Lid}\n",
        "bare/teardown/look.yaml": (
            "record: teardown\nid: look\ntitle: Look inside\nmachine: bare\nsteps:\n  - title: Open it somehow\n"
            "    text: Pull until it gives.\n"
        ),
    }
    text = " ".join(pages_of(pdf_of(sheet(made_subject(files, "look"), no_pictures))))
    assert "Unverified: nobody has recorded that this was carried out as written." in text
    assert "do not stop here" in text
    assert "Open: 1 unchecked step" in text
    assert "everything counts as energised" in text
    assert "Issue not recorded" in text
    assert "Stop: not recorded" in text
