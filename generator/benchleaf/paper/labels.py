"""Cable labels: two a cable, one for each end, folded round it as a flag; an alignment page with a ruler first.

A label bears the number in order of opening, the mark (a letter in a shape), its own end and where the cable goes, so
it is read without the list, and a QR code of the cable's page where one fits.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from benchleaf.connectors.book import connector_book
from benchleaf.connectors.labels import CableLabel
from benchleaf.drawings.marks import label_mark
from benchleaf.edges.qr import qr_modules, qr_svg
from benchleaf.paper.label_formats import DEFAULT, LABEL_FORMATS, LabelFormat
from benchleaf.paper.merged import merged
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.paper.title_block import block_of

LEAST_MODULE = 0.3
"""Millimetres of the smallest square of a QR code that a common office printer draws and a phone reads
(common practice, no source)."""
LARGEST_QR = 0.55
"""Share of a label's height that its QR code may have at most."""
GOOD_MODULE = 0.33


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """What one label bears. ``page`` is the address of the cable's page; ``only`` the machines it is for."""

    number: int
    letter: str
    shape: str
    own: str
    goes_to: str
    cable: str
    name: str
    page: str | None = None
    only: str | None = None


def sheet(subject: Subject, paper: Paper = "a4", label_format: LabelFormat | None = None) -> Sheet:
    """The labels of every cable a procedure opens, required conditions included."""
    block = block_of(subject, "Cable labels", paper)
    made = label_format or LABEL_FORMATS[DEFAULT[paper]]
    data, files = label_pages(tuple(flags_of(subject)), made)
    data |= {
        "block": dict(block.data),
        "nothing": "The procedure opens no recorded cable, so there is nothing to label.",
    }
    return Sheet(
        name=f"{subject.procedure.id}-labels",
        title=str(block.data["full-title"]),
        template="labels.typ",
        data=data,
        files={**block.files, **files},
    )


def flags_of(subject: Subject) -> Iterator[Flag]:
    """Two labels a cable in order of opening; what differs between machines says for which it is."""
    derived, procedure = subject.full.book.derived, subject.procedure
    lists = []
    for built in subject.mbook.narrowed(procedure.applies).builts:
        work = connector_book(derived, built).of_procedure(procedure)
        lists.append((built.configuration, [flag for label in work.labels.values() for flag in _flags(subject, label)]))
    for flag, on in merged(lists):
        only = subject.only(on)
        yield flag if only is None else Flag(**{name: getattr(flag, name) for name in _FIELDS}, only=only)


_FIELDS = ("number", "letter", "shape", "own", "goes_to", "cable", "name", "page")


def _flags(subject: Subject, label: CableLabel) -> Iterator[Flag]:
    shop, at = subject.full.book.shop, subject.full.at
    known = label.cable in subject.full.machine.wiring.cables
    page = f"{str(shop.address).rstrip('/')}/{at.cable(label.cable)}" if shop.address and known else None
    for end in label.ends:
        yield Flag(
            number=label.number,
            letter=label.mark.letter,
            shape=label.mark.shape,
            own=end.own,
            goes_to=", ".join(end.goes_to) or "other end not recorded",
            cable=label.cable,
            name=label.name,
            page=page,
        )


def label_pages(flags: tuple[Flag, ...], made: LabelFormat) -> tuple[dict[str, Any], dict[str, bytes]]:
    """The data of the label pages, every label with its place, and the drawings they use."""
    files: dict[str, bytes] = {}
    codes: dict[str, str] = {}
    places = list(made.places())
    labels = []
    for n, flag in enumerate(flags):
        x, y = places[n % made.per_page]
        mark = f"mark-{flag.letter}-{flag.shape}.svg"
        files.setdefault(mark, label_mark(flag.letter, flag.shape).svg.encode())
        one: dict[str, Any] = {
            "x": x, "y": y, "page": n // made.per_page, "mark": mark, "mark-alt": f"Mark {flag.letter}, {flag.shape}",
            "number": str(flag.number), "own": flag.own, "to": flag.goes_to, "cable": flag.cable, "name": flag.name,
        }  # fmt: skip
        if flag.only:
            one["only"] = flag.only
        size = qr_size(flag.page, made) if flag.page else None
        if flag.page and size is not None:
            name = codes.setdefault(flag.page, f"qr-{len(codes) + 1}.svg")
            files.setdefault(name, qr_svg(flag.page))
            one |= {"qr": name, "qr-alt": f"QR code: {flag.page}", "qr-size": size}
        labels.append(one)
    data = {
        "paper": made.paper, "width": made.width, "height": made.height, "face": made.face, "fold": made.fold,
        "places": [list(place) for place in places], "labels": labels, "format": made.name,
        "pages": -(-len(labels) // made.per_page),
    }  # fmt: skip
    return data, files


def qr_size(address: str, made: LabelFormat) -> float | None:
    """The side of the QR code in mm with its quiet zone; ``None`` when its squares would be too small to print."""
    modules = qr_modules(address)
    side = min(made.height * LARGEST_QR, made.face * 0.66, modules * GOOD_MODULE)
    return round(side, 2) if side / modules >= LEAST_MODULE else None
