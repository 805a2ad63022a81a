"""A symptom: the trouble in the words of whoever has it, the order of tests and the finder, its causes."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import symptom_document
from benchleaf.pages.isolation_shown import isolation_view
from benchleaf.pages.links import symptom_title
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.trouble import trouble_context
from benchleaf.records.codes import SymptomRecord


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for symptom in mbook.machine.symptoms.values():
        yield page(mbook, symptom)


def page(mbook: MachineBook, symptom: SymptomRecord) -> Page:
    title = symptom_title(symptom)
    context = {
        "crumbs": mbook.crumbs((title, None)),
        "choice": mbook.choice,
        "record": note_of(symptom.place),
        "heard_as": tuple(str(one) for one in symptom.heard_as),
        "isolation": isolation_view(mbook, symptom),
        **trouble_context(mbook, symptom),
    }
    return Page(
        path=mbook.at.symptom(symptom.id), template="pages/symptom.html", title=title, kind="symptom", context=context,
        inputs=(symptom.place.file, mbook.machine.file),
        documents=(symptom_document(mbook, symptom),),
    )  # fmt: skip
