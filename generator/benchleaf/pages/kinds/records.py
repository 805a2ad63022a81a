"""Which file and line every page comes from: the way back from the screen to the record."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.diagnostics import Place
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.documents import shared_documents
from benchleaf.pages.links import symptom_title
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import WITHDRAWN, verification_of
from benchleaf.pages.shown import Cell, Line, Row, Section, Table


def pages(book: Book) -> Iterator[Page]:
    sections = [_section(mbook) for mbook in book.machines()]
    sections.append(Section(title="Shared by every machine", blocks=(_shared(book),)))
    yield list_page(
        book,
        path="records.html",
        title="Records",
        kind="records",
        sections=sections,
        lead="Every record with its file and line.",
        documents=tuple(shared_documents(book)),
    )


def _section(mbook: MachineBook) -> Section:
    machine = mbook.machine
    rows = [_row("machine", Line(words=str(mbook.record.name), path=mbook.at.home), mbook.record.place)]
    if machine.has_wiring:
        rows.append(_row("wiring", Line(words="Wiring", path=mbook.at.list("wiring")), machine.wiring.place))
    for procedure in machine.procedures.values():
        verified = procedure.verified is not None and procedure.verified.state == WITHDRAWN
        proof = WITHDRAWN if verified else verification_of(procedure).state
        issue = f"issue {procedure.issue.number}" if procedure.issue is not None else "issue not recorded"
        line = Line(words=str(procedure.title), path=mbook.at.procedure(procedure.id), note=f"{issue}, {proof}")
        rows.append(_row("procedure", line, procedure.place))
    rows += [
        _row("code", Line(words=f"Code {code.shown or code.code}", path=mbook.at.code(code.code)), code.place)
        for code in machine.codes.values()
    ]
    rows += [
        _row("symptom", Line(words=symptom_title(symptom), path=mbook.at.symptom(symptom.id)), symptom.place)
        for symptom in machine.symptoms.values()
    ]
    table = Table(
        caption="Records", heads=("Page", "Record", "File and line"), rows=tuple(rows), nothing="", quiet=True
    )
    return Section(title=str(mbook.record.name), blocks=(table,))


def _row(kind: str, line: Line, place: Place) -> Row:
    cells: tuple[Cell, ...] = (line, kind, f"{place.file}:{max(place.line, 1)}")
    return Row(cells=cells)


def _shared(book: Book) -> Table:
    library = book.library
    rows: list[Row] = []
    if book.shop.place.file:
        rows.append(_row("shop", Line(words=book.name, path="index.html"), book.shop.place))
    for id, message in library.safety.items():
        rows.append(
            _row("safety message", Line(words=id.replace("-", " "), path=f"safety.html#safety-{id}"), message.place)
        )
    for id, tool in library.tools.items():
        rows.append(_row("tool", Line(words=str(tool.name), path=f"tools.html#tool-{id}"), tool.place))
    for id, supply in library.supplies.items():
        rows.append(_row("supply", Line(words=str(supply.name), path=f"supplies.html#supply-{id}"), supply.place))
    for path, article in library.articles.items():
        rows.append(_row("article", Line(words=str(article.title), path=book.at.article(path)), Place(path)))
    heads = ("Page", "Record", "File and line")
    return Table(caption="Shared records", heads=heads, rows=tuple(rows), nothing="Nothing is shared yet.", quiet=True)
