"""Cable labels: two a cable, one for each end, folded round it as a flag; an alignment page with a ruler first.

A label bears the number in order of opening, the mark (a letter in a shape), its own end and where the cable goes, so
it is read without the list, and a QR code of the cable's page where one fits.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from benchleaf.connectors.book import connector_book
from benchleaf.connectors.labels import CableLabel
from benchleaf.drawings.marks import label_mark
from benchleaf.edges.qr import qr_modules, qr_svg
from benchleaf.frozen import dataclass
from benchleaf.paper.label_fields import fields_of, mark_size
from benchleaf.paper.label_formats import DEFAULT, LABEL_FORMATS, LabelFormat
from benchleaf.paper.merged import merged
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.paper.title_block import block_of

NOTHING = "No step opens a recorded cable."
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
    flags = tuple(flags_of(subject))
    unchecked = max((len(one.end.unchecked) for one in subject.replays), default=0)
    data, files = label_pages(flags, made)
    data |= {"block": dict(block.data), "nothing": NOTHING, "unchecked": unchecked_words(unchecked)}
    return Sheet(
        name=f"{subject.procedure.id}-labels",
        title=str(block.data["full-title"]),
        template="labels.typ",
        data=data,
        files={**block.files, **files},
        nothing="" if flags or unchecked else NOTHING,
    )


def unchecked_words(count: int) -> str:
    """What unchecked steps mean for labels; empty when there are none."""
    return f"{count} unchecked step{'s' * (count > 1)} may open more cables than are labelled." if count else ""


def flags_of(subject: Subject) -> Iterator[Flag]:
    """Two labels a cable in order of opening, of a whole machine by designation; what differs between machines says
    for which it is."""
    derived, procedure = subject.full.book.derived, subject.procedure
    lists = []
    for built in subject.mbook.narrowed(procedure.applies).builts:
        book = connector_book(derived, built)
        labels = book.labels if subject.is_machine else book.of_procedure(procedure).labels
        lists.append((built.configuration, [flag for label in labels.values() for flag in _flags(subject, label)]))
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
    sizes = {page: qr_size(page, made) for page in {flag.page for flag in flags if flag.page}}
    places = list(made.places())
    labels = []
    for n, flag in enumerate(flags):
        x, y = places[n % made.per_page]
        mark = f"mark-{flag.letter}-{flag.shape}.svg"
        files.setdefault(mark, label_mark(flag.letter, flag.shape).svg.encode())
        side = sizes.get(flag.page) if flag.page else None
        one: dict[str, Any] = {
            "x": x,
            "y": y,
            "page": n // made.per_page,
            "mark": mark,
            "mark-alt": f"Mark {flag.letter}, {flag.shape}",
            "number": str(flag.number),
            "own": flag.own,
            "to": flag.goes_to,
            "cable": flag.cable,
            "name": flag.name,
            "fields": fields_of(flag, made, side or 0.0),
        }
        if flag.page and side is not None:
            name = codes.setdefault(flag.page, f"qr-{len(codes) + 1}.svg")
            files.setdefault(name, qr_svg(flag.page))
            one |= {"qr": name, "qr-alt": f"QR code: {flag.page}", "qr-size": side}
        labels.append(one)
    data = {
        "paper": made.paper,
        "width": made.width,
        "height": made.height,
        "face": made.face,
        "fold": made.fold,
        "mark": mark_size(made),
        "places": [list(place) for place in places],
        "labels": labels,
        "format": made.name,
        "pages": -(-len(labels) // made.per_page),
    }
    return data, files


def qr_size(address: str, made: LabelFormat) -> float | None:
    """The side of the QR code in mm with its quiet zone; ``None`` when its squares would be too small to print."""
    modules = qr_modules(address)
    side = min(made.height * LARGEST_QR, made.face * 0.66, modules * GOOD_MODULE)
    return round(side, 2) if side / modules >= LEAST_MODULE else None
