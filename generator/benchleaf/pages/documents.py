"""What the search knows of each page: what the page is about, and the words that stand on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from benchleaf.applicability import Configuration
from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.addresses import anchor
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.fastener_words import kind_words, size_words
from benchleaf.pages.links import symptom_title
from benchleaf.pages.readable import sentence_of
from benchleaf.pages.sentences import plural
from benchleaf.pages.shown import StepView
from benchleaf.pages.trouble import cause_words
from benchleaf.pages.uses import Trouble
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.teardown import TeardownRecord
from benchleaf.search.documents import Document
from benchleaf.troubles.causes import causes_of
from benchleaf.values.torque_of_set import is_driven

_DESIGNATION = re.compile(r"[A-Z]{1,4}[0-9]+.*")

DERIVED = "derived procedure"
KIND_WEIGHTS = {
    "code": 1.25, DERIVED: 0.75, "cable": 0.8, "connector": 0.9, "net": 0.6, "fastener": 0.8, "safety message": 0.7,
    "word": 0.65, "article": 0.8, "supply": 0.9, "tool": 0.9, "list": 0.6,
}  # fmt: skip
"""How much a page of a kind counts beside others that match as well: a written procedure, an item, a symptom and a code
stand before what only accompanies them."""


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
        headings=(*_by_id(str(procedure.id), str(procedure.title)), *(step.title for step in steps)),
        lines=tuple(dict.fromkeys(lines)),
    )


def _by_id(id: str, title: str) -> tuple[str, ...]:
    """An id in words, where it has one that the title has not: its author may ask for it so."""
    words = id.replace("-", " ").lower()
    return () if set(words.split()) <= set(re.findall(r"\w+", title.lower())) else (words,)


def _variants(mbook: MachineBook, record: TeardownRecord | Trouble) -> tuple[str, ...]:
    """The variants a record is for alone; empty = all."""
    found = {one.variant for one in mbook.narrowed(record.applies).configurations}
    every = {one.variant for one in mbook.configurations}
    return tuple(sorted(found)) if found != every else ()


def _variants_on(mbook: MachineBook, on: Iterable[Configuration]) -> tuple[str, ...]:
    """The variants that have a thing, where not all have it."""
    found = {one.variant for one in on}
    return tuple(sorted(found)) if found != {one.variant for one in mbook.configurations} else ()


def item_document(mbook: MachineBook, name: str) -> Document:
    forms = mbook.items(name)
    numbers = dict.fromkeys(str(form.value.part_number) for form in forms if form.value.part_number)
    others = dict.fromkeys(str(one) for form in forms for one in form.value.alternatives or ())
    item = mbook.record.items[name]
    designated = bool(_DESIGNATION.fullmatch(name))
    return Document(
        url=mbook.at.item(name),
        title=mbook.item_words(name),
        kind="item",
        machine=str(mbook.record.name),
        variants=_variants_on(mbook, (one for form in forms for one in form.on)),
        part_numbers=(*numbers, *others),
        designations=(name,) if designated else (),
        headings=() if designated else _by_id(name, mbook.item_words(name)),
        lines=(*_item_lines(mbook, name), *prose_lines(item.note), *((str(item.settings),) if item.settings else ())),
    )


def _item_lines(mbook: MachineBook, name: str) -> Iterator[str]:
    """What a hit shows of an item: part numbers, where it sits, by what it is held, which values are recorded."""
    inside: dict[str, None] = {}
    for form in mbook.items(name):
        numbers = (form.value.part_number, *(form.value.alternatives or ()))
        if any(numbers):
            who = f" ({form.applies.words})" if form.applies is not None else ""
            yield f"Part number {' or '.join(str(one) for one in numbers if one)}{who}"
        if form.value.in_ is not None:
            inside[f"in {mbook.item_words(str(form.value.in_))}"] = None
    held = [fastener_line(form.value) for set in mbook.sets_of(name) for form in mbook.sets(set)]
    if held:
        inside[f"held by {', '.join(dict.fromkeys(held))}"] = None
    if inside:
        yield sentence_of("; ".join(inside))
    values = mbook.record.items[name].values
    if values:
        yield f"Recorded values: {', '.join(str(own).replace('-', ' ') for own in values)}"


def fastener_line(one: FastenerSet) -> str:
    """``4 guard screws M4 × 10``."""
    return f"{one.count} {plural(kind_words(one), one.count)} {size_words(one)}".strip()


def fastener_document(mbook: MachineBook, id: str, title: str, forms: Sequence[FastenerSet]) -> Document:
    """A fastener at its place on the list: who asks for a size or a torque wants to know where it sits."""
    record = mbook.record.fasteners.get(id)
    number = str(record.part_number) if record is not None and record.part_number else ""
    drives = dict.fromkeys(part for one in forms for part in (one.drive, one.tool, one.head) if part)
    lines = [f"Part number {number}"] if number else []
    if drives:
        lines.append(", ".join(drives))
    lines += [f"{fastener_line(one)} of {mbook.item_words(one.item)}" for one in forms]
    return Document(
        url=f"{mbook.at.list('fasteners')}#fastener-{id}",
        title=title,
        kind="fastener",
        machine=str(mbook.record.name),
        part_numbers=(number,) if number else (),
        headings=("torque",) if any(is_driven(one) for one in forms) else (),
        lines=tuple(dict.fromkeys(lines)),
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
        variants=_variants_on(mbook, (one.configuration for one in mbook.builts if name in one.connectors)),
        designations=(name,),
        contacts=contacts,
        lines=(*((str(record.family),) if record.family else ()), *prose_lines(record.note), *roles),
    )


def cable_document(mbook: MachineBook, name: str) -> Document:
    record = mbook.machine.wiring.cables[name]
    return Document(
        url=mbook.at.cable(name),
        title=f"{name} {record.name}" if record.name else f"Cable {name}",
        kind="cable",
        machine=str(mbook.record.name),
        variants=_variants_on(mbook, (one.configuration for one in mbook.builts if name in one.cables)),
        part_numbers=(str(record.part_number),) if record.part_number else (),
        designations=(name,),
        lines=(
            f"From {' to '.join(str(end.at) for end in record.ends)}",
            *((f"Part number {record.part_number}",) if record.part_number else ()),
            *prose_lines(record.note),
        ),
    )


def derived_document(mbook: MachineBook, name: str, goal: str, url: str, *, serves_both: bool) -> Document:
    """A derived procedure by its title alone: its steps are those of the item's neighbours, told there."""
    return Document(
        url=url,
        title=f"{'Remove or replace' if serves_both else goal.capitalize()} {mbook.item_words(name)}",
        kind=DERIVED,
        machine=str(mbook.record.name),
        variants=_variants_on(mbook, (one for form in mbook.items(name) for one in form.on)),
    )


def list_document(url: str, title: str, machine: str = "", lead: str = "") -> Document:
    """A page of lists by its title."""
    return Document(url=url, title=title, kind="list", machine=machine, lines=prose_lines(lead))


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
                lines=(
                    *((f"Part number {stock.part_number}",) if stock.part_number else ()),
                    *(str(one) for one in (stock.range, stock.sds, stock.disposal) if one),
                ),
            )
    for word, meaning in library.glossary.items():
        yield Document(
            url=f"glossary.html#{anchor(word)}", title=str(word), kind="word", lines=prose_lines(str(meaning))
        )
    for path, article in library.articles.items():
        yield Document(
            url=book.at.article(path), title=str(article.title), kind="article", lines=prose_lines(str(article.prose))
        )
