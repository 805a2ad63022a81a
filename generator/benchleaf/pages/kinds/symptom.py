"""A symptom: the trouble in the words of whoever has it, its causes, and the tests that tell them apart."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.documents import symptom_document
from benchleaf.pages.links import symptom_title
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import CodeRef
from benchleaf.pages.step_view import code_of
from benchleaf.pages.trouble import trouble_context
from benchleaf.records.codes import SymptomRecord


def pages(book: Book) -> Iterator[Page]:
    for mbook in book.machines():
        for symptom in mbook.machine.symptoms.values():
            yield page(mbook, symptom)


def page(mbook: MachineBook, symptom: SymptomRecord) -> Page:
    title = symptom_title(symptom)
    context = {
        "crumbs": mbook.crumbs((title, None)),
        "choice": mbook.choice,
        "record": note_of(symptom.place),
        "heard_as": tuple(str(one) for one in symptom.heard_as),
        "see": tuple(see_ref(mbook, str(one)) for one in symptom.see),
        **trouble_context(mbook, symptom),
    }
    return Page(
        path=mbook.at.symptom(symptom.id), template="pages/symptom.html", title=title, kind="symptom", context=context,
        inputs=(symptom.place.file, mbook.machine.file),
        documents=(symptom_document(mbook, symptom),),
    )  # fmt: skip


def see_ref(mbook: MachineBook, written: str) -> CodeRef:
    code = code_of(mbook, written)
    if code is None:
        return CodeRef(code=written)
    record = mbook.machine.codes[code]
    return CodeRef(code=str(record.shown or code), means=str(record.means or ""), path=mbook.at.code(code))
