"""A net: the contacts that recorded copper joins, what it carries, and where each of its ways leads on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchleaf.built import Built
from benchleaf.pages.addresses import slugs
from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.ring_out_shown import net_ring_out_sections
from benchleaf.pages.shown import Applies, Cell, Line, Row, Section, Table
from benchleaf.pages.wiring_tables import Rows, contact_cell, wiring_of
from benchleaf.search.documents import Document
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.graph import EMPTY, is_hub
from benchleaf.wiring.live_nets import proof_points
from benchleaf.wiring.nets import label_of
from benchleaf.wiring.trace import Reached, trace


def addresses(mbook: MachineBook) -> Mapping[str, str]:
    """Net → its page, over all machines that may be meant."""

    def make() -> Mapping[str, str]:
        names = {net.name for built in mbook.builts for net in wiring_of(mbook, built).nets}
        whole = mbook.book.machine(mbook.machine.id)
        if whole is not mbook:
            return addresses(whole)
        return {name: f"{mbook.at.folder}/net/{made}.html" for name, made in slugs(names).items()}

    return mbook.remember(("net addresses",), make)


def net_line(mbook: MachineBook, name: str, label: str = "") -> Line:
    return Line(words=shown(name), path=addresses(mbook).get(name), note=label or None)


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for name in sorted(addresses(mbook)):
        yield page(mbook, name)


def page(mbook: MachineBook, name: str) -> Page:
    title = f"Net {shown(name)}"
    path = addresses(mbook)[name]
    members, onward, proofs = Rows(mbook), Rows(mbook), Rows(mbook)
    labels: dict[str, None] = {}
    having = set()
    for built in mbook.builts:
        wiring = wiring_of(mbook, built)
        net = next((one for one in wiring.nets if one.name == name), None)
        if net is None:
            continue
        having.add(built.configuration)
        labels[label_of(built, net)] = None
        for contact in net.contacts:
            if not is_hub(contact):
                members.add((contact_cell(mbook, contact), role(built, contact)), built.configuration)
        found = trace(wiring, name)
        for one in found.reached if found is not None else ():
            if one.through:
                onward.add(_onward(mbook, one), built.configuration)
        for point in proof_points(wiring).get(name, ()):
            proofs.add((point.words,), built.configuration)
    label = "; ".join(one for one in labels if one)
    nothing_on = "Nothing recorded leads on from it but copper."
    no_point = "No point to prove this net dead is recorded: until there is one, it counts as live."
    tables = (
        ("Contacts joined by copper", "contacts", ("Contact", "Role"), members.rows(having), "", False),
        ("Where it is proved dead", "prove", ("Between",), proofs.rows(having), no_point, True),
        ("Where it leads on", "on", ("Through", "To"), by_way(onward.rows(having)), nothing_on, False),
    )
    sections = tuple(
        Section(title=caption, anchor=anchor, blocks=(
            Table(caption=caption, heads=columns, rows=rows, nothing=nothing, quiet=True, careful=careful, name=anchor),
        ))
        for caption, anchor, columns, rows, nothing, careful in tables
    )  # fmt: skip
    sections = (*sections[:2], *net_ring_out_sections(mbook, name, having), *sections[2:])
    found_by = Document(
        url=path, title=title, kind="net", machine=str(mbook.record.name), headings=(label,) if label else ()
    )
    return list_page(
        mbook.book,
        path=path,
        title=title,
        kind="net",
        lead=label,
        sections=sections,
        mbook=mbook,
        place=mbook.machine.wiring.place,
        crumbs=(("Wiring", mbook.at.list("wiring")),),
        documents=(found_by,),
        applies=mbook.words_for(having),
    )


def role(built: Built, contact: str) -> Cell:
    """What a contact of a connector carries on this machine; a contact of an item has no role of its own."""
    owner, _, own = contact.partition(".")
    connector = built.connectors.get(owner)
    if connector is None:
        return "–"
    words = str((connector.contacts or {}).get(own, "")) or None
    return "empty" if words == EMPTY else words


def _onward(mbook: MachineBook, one: Reached) -> tuple[Cell, ...]:
    through: Cell = tuple(Line(words=words) for words in one.through)
    at = contact_cell(mbook, one.contact)
    has_roles = one.contact.partition(".")[0] in mbook.machine.wiring.connectors
    return (through, Line(words=at.words, path=at.path, note=one.role or ("role not recorded" if has_roles else None)))


def by_way(rows: Iterable[Row]) -> tuple[Row, ...]:
    """What is reached through the same, on the same machines, in one row: the shortest ways first."""
    found: dict[tuple[Cell, Applies | None], list[Cell]] = {}
    for row in rows:
        found.setdefault((row.cells[0], row.applies), []).append(row.cells[1])
    made = [Row(cells=(through, tuple(reached)), applies=applies) for (through, applies), reached in found.items()]
    return tuple(sorted(made, key=lambda row: len(row.cells[0]) if isinstance(row.cells[0], tuple) else 0))
