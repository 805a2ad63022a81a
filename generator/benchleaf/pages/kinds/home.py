"""The first page: in an emergency; find by symptom, code, machine or item; which machine have I got."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.applies_words import variant_words
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.kinds.finder import entry_line
from benchleaf.pages.links import symptom_title
from benchleaf.pages.page import Page
from benchleaf.pages.questions import unanswerable, variant_questions
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import CodeRef, Line, Row, Table
from benchleaf.records.codes import SymptomRecord

MOST = 40
"""Up to so many symptoms or codes stand on the first page; more have their own list."""


def pages(book: Book) -> Iterator[Page]:
    yield page(book)


def page(book: Book) -> Page:
    codes = [(mbook, one) for mbook in book.machines() for one in mbook.machine.codes.values()]
    symptoms = [(mbook, one) for mbook in book.machines() for one in mbook.machine.symptoms.values()]
    context = {
        "record": note_of(book.shop.place) if book.shop.place.file else None,
        "emergency": emergency(book),
        "machines": tuple(machine_card(mbook) for mbook in book.machines()),
        "which": tuple(which(mbook) for mbook in book.machines() if mbook.choice is not None),
        "symptoms": tuple(
            Line(words=symptom_title(one), path=mbook.at.symptom(one.id), note=_heard(one, mbook))
            for mbook, one in symptoms[:MOST]
        ),
        "entries": tuple(entry_line(mbook) for mbook in book.machines()),
        "more_symptoms": max(0, len(symptoms) - MOST),
        "codes": tuple(
            (
                CodeRef(code=str(one.shown or one.code), means=str(one.means or ""), path=mbook.at.code(one.code)),
                str(mbook.record.name),
            )
            for mbook, one in codes[:MOST]
        ),
        "more_codes": max(0, len(codes) - MOST),
        "lists": lists(book),
    }
    return Page(
        path="index.html",
        template="pages/home.html",
        title=book.name,
        kind="home",
        context=context,
        inputs=("shop.yaml",),
    )


def _heard(symptom: SymptomRecord, mbook: MachineBook) -> str:
    heard = "; ".join(f"“{one}”" for one in symptom.heard_as[:3])
    return f"{mbook.record.name}{f': {heard}' if heard else ''}"


def emergency(book: Book) -> tuple[Row, ...]:
    """What anyone must find in the first second; what is not recorded says so, in the same place."""
    facts = book.shop.emergency
    named = (("Stop", "stop"), ("Extinguisher", "extinguisher"), ("First aid", "first_aid"), ("Call", "number"))
    return tuple(Row(cells=(label, getattr(facts, key) if facts is not None else None)) for label, key in named)


def machine_card(mbook: MachineBook) -> Line:
    machine = mbook.machine
    parts = ((len(machine.procedures), "procedure"), (len(machine.codes), "code"), (len(mbook.record.items), "item"))
    note = ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in parts)
    return Line(words=str(mbook.record.name), path=mbook.at.home, note=note)


def which(mbook: MachineBook) -> dict[str, object]:
    """The questions that tell the kinds of one machine apart, fewest first, and what they leave open."""
    record = mbook.record
    chosen = variant_questions(record)
    rows = []
    for n, question in enumerate(chosen.questions, 1):
        yes = [variant_words(record, name) for name, answer in question.answers.items() if answer == "yes"]
        no = [variant_words(record, name) for name, answer in question.answers.items() if answer == "no"]
        rows.append(Row(cells=(f"{n}. {question.words}", " or ".join(yes), " or ".join(no))))
    for name, one in record.modifications.items():
        if one.tell is not None:
            rows.append(
                Row(
                    cells=(
                        f"{len(rows) + 1}. {one.tell}",
                        f"with {name}: {one.is_ or ''}".strip(": "),
                        f"without {name}",
                    )
                )
            )
    return {
        "machine": Line(words=str(record.name), path=mbook.at.home),
        "table": Table(
            caption=f"{record.name}: look from outside", heads=("Is it so?", "Yes", "No"), rows=tuple(rows), nothing=""
        ),
        "serials": tuple(
            Line(words=variant_words(record, name), note=f"serials {', '.join(str(t.text) for t in one.serials.terms)}")
            for name, one in record.variants.items()
            if one.serials is not None
        ),
        "alike": tuple(f"{variant_words(record, a)} and {variant_words(record, b)}" for a, b in chosen.alike),
        "unanswerable": unanswerable(record),
    }


def lists(book: Book) -> tuple[Line, ...]:
    """The lists of the whole manual."""
    return (
        Line(words="Safety messages", path="safety.html"),
        Line(words="Spares", path="spares.html"),
        Line(words="Tools", path="tools.html"),
        Line(words="Supplies", path="supplies.html"),
        Line(words="Glossary", path="glossary.html"),
        Line(words="Articles", path="articles.html"),
        Line(words="Records", path="records.html", note="which file and line each page was made from"),
    )
