"""A connector: its face, its contacts with role and where they lead, what is plugged there, the steps that open it."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.connectors.ends import PARKED, plugs_of
from benchleaf.connectors.faces import both_faces, face_of, fixed_form
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.face import face_view, meeting_words
from benchleaf.drawings.face_values import Half
from benchleaf.pages.art import art_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import connector_document
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import books_of
from benchleaf.pages.shown import Applies, Arts, Block, Cell, Facts, Line, Links, Note, Row, Section
from benchleaf.pages.swaps_shown import swap_lines_of_end
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import plain_value, shown_value
from benchleaf.pages.wiring_tables import connectors_of, contact_table, keyed_cell
from benchleaf.refs import host_of


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for name in mbook.machine.wiring.connectors:
        yield page(mbook, str(name))


def page(mbook: MachineBook, name: str) -> Page:
    record = mbook.machine.wiring.connectors[name]
    host = host_of(name)
    way: tuple[tuple[str, str | None], ...] = (("Wiring", mbook.at.list("wiring")),)
    if mbook.owner_path(host) is not None:
        way += ((host, mbook.owner_path(host)),)
    sections = (
        Section(title="What is recorded", blocks=(Facts(rows=facts(mbook, name)),)),
        Section(title="Plug and receptacle", anchor="faces", blocks=tuple(faces(mbook, name))),
        Section(title="Plugs that go in here by mistake", anchor="swaps", blocks=swaps(mbook, name)),
        Section(title="Contacts", anchor="contacts", blocks=(contact_table(mbook, name),)),
        Section(
            title="Steps that open or plug it",
            blocks=(
                Links(
                    lines=tuple(step_lines(mbook, uses_of(mbook).connectors[name])),
                    nothing="No recorded step opens it.",
                ),
            ),
        ),
    )
    return list_page(
        mbook.book, path=mbook.at.connector(name), title=f"Connector {name}", kind="connector", sections=sections,
        mbook=mbook, place=record.place, crumbs=way, applies=_applies(mbook, name),
        documents=(connector_document(mbook, name),),
    )  # fmt: skip


def _applies(mbook: MachineBook, name: str) -> Applies | None:
    return mbook.words_for({built.configuration for built in mbook.builts if name in built.connectors})


def facts(mbook: MachineBook, name: str) -> tuple[Row, ...]:
    rows: list[Row] = []
    host = host_of(name)
    rows.append(
        Row(
            cells=(
                "On",
                Line(
                    words=mbook.item_words(host) if host in mbook.record.items else f"cable {host}",
                    path=mbook.owner_path(host),
                ),
            )
        )
    )
    having = {built.configuration for built in mbook.builts if name in built.connectors}
    found = plugged(mbook, name)
    bare = having - {on for many in found.values() for on in many}
    for cable, on in found.items():
        record = mbook.machine.wiring.cables[cable]
        applies = None if on >= having else mbook.words_for(on)
        rows.append(
            Row(
                cells=("Plugged here", Line(words=cable, path=mbook.at.cable(cable), note=record.name)), applies=applies
            )
        )
    for told, on in nothing_plugged(mbook, name, bare).items():
        rows.append(
            Row(cells=("Plugged here", told), applies=None if on >= having else mbook.words_for(on))
        )
    for label, cell in _FACTS:
        seen: dict[Cell, set[Configuration]] = {}
        for form in mbook.forms(connectors_of, name):
            seen.setdefault(cell(mbook, form.value), set()).update(form.on)
        everyone: set[Configuration] = set().union(*seen.values())
        for value, on in seen.items():
            rows.append(Row(cells=(label, value), applies=None if on == everyone else mbook.words_for(on)))
    return tuple(rows)


def plugged(mbook: MachineBook, name: str) -> dict[str, set[Configuration]]:
    """Cable → the machines on which it is plugged in here."""
    found: dict[str, set[Configuration]] = {}
    for built in mbook.builts:
        for cable in built.cables_at.get(name, ()):
            found.setdefault(cable, set()).add(built.configuration)
    return found


def nothing_plugged(mbook: MachineBook, name: str, bare: Collection[Configuration]) -> dict[Line, set[Configuration]]:
    """What is said where no cable is recorded at a connector: nothing there, or nobody recorded it."""
    found: dict[Line, set[Configuration]] = {}
    for built in mbook.builts:
        if built.configuration in bare:
            empty = built.connectors[name].cable is not None
            told = (
                Line(words="nothing", note="recorded as left open")
                if empty
                else Line(words="not recorded", note="whatever is plugged in may go elsewhere too, and may be live")
            )
            found.setdefault(told, set()).add(built.configuration)
    return found


_FACTS = (
    ("Family", lambda mbook, one: one.family),
    ("Fixed half", lambda mbook, one: one.form or "receptacle"),
    (
        "Half with the pins",
        lambda mbook, one: {"fixed": "the fixed one", "loose": "the loose one", None: None}[one.pins],
    ),
    ("Contacts", lambda mbook, one: str(len(one.contacts)) if one.contacts is not None else None),
    ("Keyed", lambda mbook, one: keyed_cell(one)),
    ("Latch", lambda mbook, one: one.latch),
    (
        "Hangs on a lead of",
        lambda mbook, one: shown_value(one.tail, mbook.book.style) if one.tail is not None else "none recorded",
    ),
    (
        "Time to open",
        lambda mbook, one: plain_value(one.takes, one.place_of("takes"), mbook.book.style) or "as the shop's times",
    ),
    ("Note", lambda mbook, one: one.note or "–"),
)


def faces(mbook: MachineBook, name: str) -> Iterator[Block]:
    """Both halves on their mating sides, in each of their forms; and the wire side of the plug, where a probe goes."""
    pairs: dict[tuple[Drawing, ...], set[Configuration]] = {}
    backs: dict[tuple[Drawing, ...], set[Configuration]] = {}
    meet: dict[str, None] = {}
    for configuration, book in books_of(mbook):
        if name in book.built.connectors:
            record = book.built.connectors[name]
            loose: Half = "receptacle" if fixed_form(record) == "plug" else "plug"
            both = both_faces(book.built, name, graph=book.graph)
            meet[meeting_words(*both)] = None
            pairs.setdefault(tuple(face_view(one) for one in both), set()).add(configuration)
            back = face_view(face_of(book.built, name, loose, "wire", graph=book.graph))
            backs.setdefault((back,), set()).add(configuration)
    yield from keying_notes(mbook, name)
    for drawings, words in ((pairs, " ".join(meet)), (backs, WIRE_SIDE)):
        yield Note(words=words)
        for some, on in drawings.items():
            if len(drawings) > 1 and (told := mbook.words_for(on)) is not None:
                yield Note(words=f"On {told.words}:")
            yield Arts(arts=tuple(art_of(drawing, narrow=True) for drawing in some))


WIRE_SIDE = "The same plug from its wire side, as a probe from behind finds it while it is plugged:"


def keying_notes(mbook: MachineBook, name: str) -> Iterator[Note]:
    """What a plug that can be turned round, or an end with no plug in it, asks of whoever works here."""
    for form in mbook.forms(connectors_of, name):
        on = f" On {form.applies.words}." if form.applies is not None else ""
        if form.value.keyed is False:
            yield Note(words=f"Not keyed: the plug goes in turned round as well. {TURNED}{on}", grave=True)
        elif form.value.keyed is None:
            yield Note(words=f"Keying not recorded: counts as not keyed. {TURNED}{on}", grave=True)
    parked = {cable for built in mbook.builts for cable in parked_from(built, name)}
    for cable in sorted(parked):
        told = mbook.words_for({one.configuration for one in mbook.builts if cable in parked_from(one, name)})
        yield Note(
            words=f"{cable}, which was made for this place, hangs parked{f' on {told.words}' if told else ''}: "
            "its plug can still be live and still goes in.",
            grave=True,
        )


TURNED = "Mark both halves before you pull it, and photograph how it lies."


def parked_from(built: Built, name: str) -> tuple[str, ...]:
    """The cables with a parked plug that was made for this connector."""
    return tuple(plug.cable for plug in plugs_of(built) if plug.at == PARKED and plug.made_for == name)


def swaps(mbook: MachineBook, name: str) -> tuple[Block, ...]:
    """The pairs this connector belongs to, worst first, each with its place in the swap table."""
    nothing = "As recorded no other plug goes in here, and its own only one way. Recorded is not looked at: look."
    return (Links(lines=swap_lines_of_end(mbook, name), nothing=nothing),)
