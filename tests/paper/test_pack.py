"""Sheets of a whole machine, and sheets put together as one document."""

from __future__ import annotations

import io
import re
from functools import cache

import pikepdf
import pytest
from tests.paper.sheets import demo_book, demo_pictures, demo_subject, pages_of

from benchleaf.currency_words import currency_of_machine
from benchleaf.edges.pdf import pdf_of
from benchleaf.pages.kinds import machine as machine_page
from benchleaf.paper.pack import pack_of
from benchleaf.paper.sheet import Sheet
from benchleaf.paper.sheet_kinds import MACHINE_KINDS, sheets_of
from benchleaf.paper.subject import Subject, machine_subject


def of_machine(name: str) -> Subject:
    return machine_subject(demo_book().machine(name))


@cache
def pack(machine: str, procedure: str | None) -> tuple[list[Sheet], bytes]:
    subject = demo_subject(machine, procedure) if procedure else of_machine(machine)
    sheets = list(sheets_of(subject, demo_pictures))
    return sheets, pdf_of(pack_of(subject, sheets))


PACKS = (("fp420", "replace-print-head"), ("fp420", None), ("bc300", None))


@pytest.mark.parametrize(("machine", "procedure"), PACKS)
def test_a_pack_has_the_sheets_of_every_kind_numbered_through(machine: str, procedure: str | None) -> None:
    sheets, made = pack(machine, procedure)
    pages = pages_of(made)
    assert len(pages) == sum(len(pages_of(pdf_of(one))) for one in sheets if not one.nothing)
    for number, page in enumerate(pages, 1):
        found = re.search(r"(\d+) of (\d+)", page)
        assert found is None or found.groups() == (str(number), str(len(pages)))
    whole = " ".join(pages)
    for one in sheets:
        assert one.nothing or f"{one.data['block']['kind']} {one.data['block']['title']}" in whole


@pytest.mark.parametrize(("machine", "procedure"), PACKS)
def test_labels_are_the_last_sheets_of_a_pack(machine: str, procedure: str | None) -> None:
    sheets, made = pack(machine, procedure)
    pages = pages_of(made)
    own = next(len(pages_of(pdf_of(one))) for one in sheets if one.template == "labels.typ")
    assert "alignment page" in pages[-own]


@pytest.mark.parametrize(("machine", "procedure"), PACKS)
def test_every_picture_of_a_pack_has_its_words(machine: str, procedure: str | None) -> None:
    """ISO 14289-1, 7.3: a figure has an alternative text."""
    _, made = pack(machine, procedure)
    with pikepdf.open(io.BytesIO(made)) as pdf:
        figures = [
            one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/S") == pikepdf.Name.Figure
        ]
        assert figures
        assert all(str(one.get("/Alt", "")) for one in figures)


def test_a_pack_of_the_same_sheets_is_the_same_bytes() -> None:
    subject = of_machine("bc300")
    again = pack_of(subject, sheets_of(subject, demo_pictures))
    assert pdf_of(again) == pack("bc300", None)[1]


@pytest.mark.parametrize("machine", ["fp420", "bc300"])
def test_the_sheets_of_a_machine_know_every_cable_with_a_plug(machine: str) -> None:
    subject = of_machine(machine)
    labels, ring_out = (next(k for k in MACHINE_KINDS if k.name == name) for name in ("labels", "ring-out"))
    flags = {one["cable"] for one in labels.make(subject, demo_pictures, "a4").data["labels"]}
    heads = " ".join(p["t"] for p in ring_out.make(subject, demo_pictures, "a4").data["parts"] if p["k"] == "head")
    plugged = {
        str(name)
        for built in demo_book().machine(machine).builts
        for name, cable in built.cables.items()
        if any(end.at in built.connectors for end in cable.ends or ())
    }
    assert plugged
    assert flags == plugged
    assert all(re.search(rf"Ring out {name}\b", heads) for name in plugged)


@pytest.mark.parametrize("machine", ["fp420", "bc300"])
def test_a_sheet_of_a_machine_bears_the_words_of_the_machines_page(machine: str) -> None:
    mbook = demo_book().machine(machine)
    sheet = next(iter(sheets_of(of_machine(machine), demo_pictures)))
    shown = machine_page.page(mbook).context["currency"]
    assert sheet.data["block"]["words"] == shown.words
    assert shown == currency_of_machine(mbook)
    assert shown.dates in sheet.data["block"]["words-mean"]
