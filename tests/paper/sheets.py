"""What the tests of paper share: the demo and short made-up machines as sheets, PDFs and pictures of pages."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import numpy
import pypdf
from PIL import Image

from benchleaf.edges.pdf import images_of, pdf_of
from benchleaf.pages.book import Book
from benchleaf.paper.sheet import Sheet
from benchleaf.paper.sheet_kinds import BY_NAME
from benchleaf.paper.subject import Subject, subject_of
from benchleaf.pipeline import Checked, check_sources, load
from benchleaf.source import AssetInfo, Source

CONTENT = Path(__file__).parents[2] / "content"
MM_PER_INCH = 25.4


@cache
def demo() -> Checked:
    return load(CONTENT)


@cache
def demo_book() -> Book:
    return Book(demo().derived)


def demo_pictures(path: str) -> bytes | None:
    return (CONTENT / path).read_bytes()


def demo_subject(machine: str, procedure: str, **narrow: str) -> Subject:
    mbook = demo_book().machine(machine)
    return subject_of(mbook, mbook.machine.procedures[procedure], **narrow)


@cache
def demo_sheet(machine: str, procedure: str, kind: str = "procedure", variant: str | None = None) -> Sheet:
    subject = demo_subject(machine, procedure, **({"variant": variant} if variant else {}))
    return BY_NAME[kind].make(subject, demo_pictures, "a4")


@cache
def demo_pdf(machine: str, procedure: str, kind: str = "procedure", variant: str | None = None) -> bytes:
    return pdf_of(demo_sheet(machine, procedure, kind, variant))


def made(files: Mapping[str, str], pictures: tuple[str, ...] = ()) -> Checked:
    """Records given as path → text, checked."""
    assets = [AssetInfo(path, 100, "svg", 640, 400) for path in pictures]
    return check_sources([Source(path, text) for path, text in sorted(files.items())], assets)


def made_subject(files: Mapping[str, str], procedure: str, pictures: tuple[str, ...] = (), **narrow: str) -> Subject:
    checked = made(files, pictures)
    machine = next(iter(checked.derived.library.machines.values()))
    return subject_of(Book(checked.derived).machine(machine.id), machine.procedures[procedure], **narrow)


def no_pictures(path: str) -> bytes | None:
    return None


def pages_of(pdf: bytes) -> list[str]:
    """The text of every page, white space and the places a long word may break at taken out of the way."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    return [re.sub(r"\s+", " ", page.extract_text().replace("\u200b", "")) for page in reader.pages]


def pictures_of(sheet: Sheet, dots_per_inch: float) -> list[Image.Image]:
    return [Image.open(io.BytesIO(data)).convert("L") for data in images_of(sheet, dots_per_inch)]


def ink_of(picture: Image.Image) -> numpy.ndarray:
    """Where there is ink, as a table of rows and columns."""
    return numpy.asarray(picture) < 128
