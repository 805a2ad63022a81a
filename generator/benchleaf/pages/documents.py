"""What the search knows of each page: what the page is about, and the words that stand on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from benchleaf.pages.addresses import anchor
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.links import symptom_title
from benchleaf.pages.shown import Section, StepView
from benchleaf.pages.trouble import cause_words
from benchleaf.pages.uses import Trouble
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.teardown import TeardownRecord
from benchleaf.search.documents import Document
from benchleaf.troubles.causes import causes_of

_DESIGNATION = re.compile(r"[A-Z]{1,4}[0-9]+.*")


def prose_lines(text: str | None) -> tuple[str, ...]:
    """An author's paragraphs as single lines."""
    return tuple(" ".join(part.split()) for part in re.split(r"\n\s*\n", text or "") if part.strip())


def machine_document(mbook: MachineBook) -> Document:
    record = mbook.record
    modifications = tuple(f"{name}: {one.is_ or ''}" for name, one in record.modifications.items())
    variants = tuple(f"{name}: {one.is_ or ''}" for name, one in record.variants.items())
    return Document(
        url=mbook.at.home,
        title=str(record.name),
        kind="machine",
        machine=str(record.name),
        headings=(str(record.id), *variants, *modifications),
        lines=prose_lines(record.note),
    )


def procedure_document(mbook: MachineBook, procedure: TeardownRecord, steps: Iterable[StepView]) -> Document:
    steps = tuple(steps)
    lines = list(prose_lines(procedure.text))
    for step in steps:
        lines += [one if isinstance(one, str) else one.text for one in step.actions]
        lines += [*prose_lines(step.text), *((step.expect,) if step.expect else ())]
    return Document(
        url=mbook.at.procedure(procedure.id),
        title=str(procedure.title),
        kind="procedure",
        machine=str(mbook.record.name),
        variants=_variants(mbook, procedure),
        headings=(str(procedure.id).replace("-", " "), *(step.title for step in steps)),
        lines=tuple(dict.fromkeys(lines)),
    )


def _variants(mbook: MachineBook, record: TeardownRecord | Trouble) -> tuple[str, ...]:
    """The variants a record is for alone; empty = all."""
    found = {one.variant for one in mbook.narrowed(record.applies).configurations}
    every = {one.variant for one in mbook.configurations}
    return tuple(sorted(found)) if found != every else ()


def item_document(mbook: MachineBook, name: str) -> Document:
    numbers = dict.fromkeys(str(form.value.part_number) for form in mbook.items(name) if form.value.part_number)
    others = dict.fromkeys(str(one) for form in mbook.items(name) for one in form.value.alternatives or ())
    item = mbook.record.items[name]
    designated = bool(_DESIGNATION.fullmatch(name))
    values = tuple(f"{own.replace('-', ' ')} of {mbook.item_words(name)}" for own in item.values)
    return Document(
        url=mbook.at.item(name),
        title=mbook.item_words(name),
        kind="item",
        machine=str(mbook.record.name),
        part_numbers=(*numbers, *others),
        designations=(name,) if designated else (),
        lines=(*prose_lines(item.note), *values, *((str(item.settings),) if item.settings else ())),
    )


def code_document(mbook: MachineBook, code: CodeRecord) -> Document:
    shown = str(code.shown or code.code)
    return Document(
        url=mbook.at.code(code.code),
        title=f"{shown}: {code.means}" if code.means else shown,
        kind="code",
        machine=str(mbook.record.name),
        variants=_variants(mbook, code),
        codes=tuple(dict.fromkeys((str(code.code), shown))),
        lines=(*trouble_lines(mbook, code), *prose_lines(code.prose)),
    )


def symptom_document(mbook: MachineBook, symptom: SymptomRecord) -> Document:
    return Document(
        url=mbook.at.symptom(symptom.id),
        title=symptom_title(symptom),
        kind="symptom",
        machine=str(mbook.record.name),
        variants=_variants(mbook, symptom),
        heard_as=tuple(str(one) for one in symptom.heard_as),
        lines=(*trouble_lines(mbook, symptom), *prose_lines(symptom.prose)),
    )


def trouble_lines(mbook: MachineBook, trouble: Trouble) -> Iterator[str]:
    for id, cause in causes_of(trouble, mbook.machine).items():
        yield cause_words(id, cause)


def connector_document(mbook: MachineBook, name: str) -> Document:
    record = mbook.machine.wiring.connectors[name]
    owned = next((built.connectors[name].contacts for built in mbook.builts if name in built.connectors), None)
    contacts = tuple(f"{name}:{own}" for own in owned or ())
    roles = tuple(f"{name}:{own} {role}" for own, role in (owned or {}).items() if role)
    return Document(
        url=mbook.at.connector(name),
        title=f"Connector {name}",
        kind="connector",
        machine=str(mbook.record.name),
        designations=(name,),
        contacts=contacts,
        lines=(*((str(record.family),) if record.family else ()), *roles),
    )


def cable_document(mbook: MachineBook, name: str) -> Document:
    record = mbook.machine.wiring.cables[name]
    return Document(
        url=mbook.at.cable(name),
        title=f"{name} {record.name}" if record.name else f"Cable {name}",
        kind="cable",
        machine=str(mbook.record.name),
        part_numbers=(str(record.part_number),) if record.part_number else (),
        designations=(name,),
        lines=(f"from {' to '.join(str(end.at) for end in record.ends)}",),
    )


def section_documents(url: str, kind: str, sections: Iterable[Section], machine: str = "") -> Iterator[Document]:
    """Each place of a list page that can be pointed at, as a hit of its own."""
    for one in sections:
        if one.anchor is not None:
            yield Document(url=f"{url}#{one.anchor}", title=one.title, kind=kind, machine=machine)


def shared_documents(book: Book) -> Iterator[Document]:
    """Safety messages, tools, supplies, words and articles."""
    library = book.library
    for id, message in library.safety.items():
        lines = (message.consequence, message.avoid, message.where)
        yield Document(
            url=f"safety.html#safety-{id}",
            title=str(message.hazard),
            kind="safety message",
            headings=(id.replace("-", " "), str(message.signal)),
            codes=(str(message.symbol),) if message.symbol else (),
            lines=tuple(str(line) for line in lines if line),
        )
    for table, page, kind in (
        (library.tools, "tools.html#tool-", "tool"),
        (library.supplies, "supplies.html#supply-", "supply"),
    ):
        for id, stock in table.items():
            yield Document(
                url=f"{page}{id}",
                title=str(stock.name),
                kind=kind,
                part_numbers=tuple(str(one) for one in (stock.part_number, *(stock.alternatives or ())) if one),
                headings=tuple(str(one) for one in stock.does or ()),
                lines=tuple(str(one) for one in (stock.range, stock.sds, stock.disposal) if one),
            )
    for word, meaning in library.glossary.items():
        yield Document(
            url=f"glossary.html#{anchor(word)}", title=str(word), kind="word", lines=prose_lines(str(meaning))
        )
    for path, article in library.articles.items():
        yield Document(
            url=book.at.article(path), title=str(article.title), kind="article", lines=prose_lines(str(article.prose))
        )
