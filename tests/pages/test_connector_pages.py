"""Faces, labels, swaps, diagrams and ring-out, as the demo's pages show them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from tests.pages.library import book, demo, demo_pages, drawn, tree, words

from benchleaf.connectors.meeting import Consequence
from benchleaf.pages.addresses import slug
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.page_kinds import PAGE_KINDS
from benchleaf.pages.plugs_shown import EndShown, books_of, ends_of_step, label_table, shot_table
from benchleaf.pages.ring_out_shown import ring_out_sections
from benchleaf.pages.shown import Note
from benchleaf.pages.swaps_shown import SwapShown, swap_groups


@cache
def fp420() -> MachineBook:
    return Book(demo().derived).machine("fp420")


@cache
def step_six() -> tuple[EndShown, ...]:
    return ends_of_step(fp420(), fp420().machine.procedures["draw-tray"], 6)


def test_the_step_that_opens_two_alike_plugs_warns_at_each_and_names_the_other() -> None:
    for own, other in (("A1-J6", "A1-J7"), ("A1-J7", "A1-J6")):
        ends = [one for one in step_six() if one.connector.words == own]
        assert ends
        for end in ends:
            assert end.takes_another and other in end.warning


def test_each_end_shows_both_halves_and_its_label() -> None:
    assert step_six()
    for end in step_six():
        assert len(end.faces) == 2 and end.faces[0].title != end.faces[1].title
        assert end.label and end.own.startswith(end.connector.words)


def machine_of(name: str) -> MachineBook:
    return Book(demo().derived).machine(name)


def swaps_by_ends(mbook: MachineBook, procedure: str = "") -> dict[str, SwapShown]:
    groups = swap_groups(mbook, mbook.machine.procedures[procedure] if procedure else None)
    return {" ".join(end.words for end in one.ends): one for group in groups for one in group.swaps}


def test_no_serial_alone_hides_a_swap() -> None:
    page = tree("machine/fp420/swaps.html")
    pairs = page.findall(".//li[@class='pair']")
    careful = page.findall(".//section[@data-narrow='answered']//li[@class='pair']")
    assert pairs and len(pairs) == len(careful)


def test_every_way_of_every_pair_on_any_machine_is_shown_contact_by_contact() -> None:
    for machine in ("fp420", "bc300"):
        mbook = machine_of(machine)
        wanted = {
            (way.words, f"{effect.contact} on {effect.meets}", effect.meeting.words, effect.meeting.consequence.value)
            for _, book in books_of(mbook)
            for pair in book.swaps.pairs
            for way in pair.ways
            for effect in way.effects
        }
        shown = {
            (way.words, *row.cells)
            for group in swap_groups(mbook)
            for pair in group.swaps
            for way in pair.ways
            for row in way.table.rows
        }
        assert {one for one in wanted if " on ?" not in one[1] and " on -" not in one[1]} <= shown
        assert len(shown) == len(wanted) > 20


def test_of_every_procedure_all_pairs_are_shown_the_worst_first() -> None:
    for machine in ("fp420", "bc300"):
        mbook = machine_of(machine)
        for id, procedure in mbook.machine.procedures.items():
            narrow = mbook.narrowed(procedure.applies)
            wanted = {pair.name for _, book in books_of(narrow) for pair in book.of_procedure(procedure).swaps.pairs}
            groups = swap_groups(mbook, procedure)
            shown = swaps_by_ends(mbook, str(id))
            assert len(shown) == len(wanted)
            ranks = [[one.value for one in Consequence].index(group.title[:1].lower() + group.title[1:])
                     for group in groups]  # fmt: skip
            assert ranks == sorted(set(ranks))


def test_contacts_stand_in_the_page_whether_a_script_runs_or_not() -> None:
    page = tree("machine/fp420/procedure/draw-tray/plugs.html")
    pair = page.find(".//li[@id='swap-a1-j6-and-a1-j7']")
    rows = pair.findall("./details/div//tbody/tr")
    assert len(rows) == 6 and not pair.findall(".//*[@hidden]")
    assert pair.find("./details/summary") is not None


def test_the_note_says_where_another_order_of_the_steps_takes_the_pair_away() -> None:
    bc300 = machine_of("bc300")
    for pair in (swaps_by_ends(bc300, "sort-circular-plugs"), swaps_by_ends(bc300)):
        assert any("Plug W13 in at M1-J1 again before W14" in time.order for time in pair["M1-J1 M2-J1"].times)
    assert not any(time.order for time in swaps_by_ends(bc300, "replace-drive-board")["A2-J1 A2-J2"].times)
    assert "Plug W13 in at M1-J1 again" in words(tree("machine/bc300/procedure/sort-circular-plugs/plugs.html"))


def test_the_machine_page_says_in_which_procedures_both_ends_are_open() -> None:
    (time,) = swaps_by_ends(fp420())["A1-J6 A1-J8"].times
    assert [line.path for line in time.lines] == [
        "machine/fp420/procedure/replace-main-board/plugs.html#swap-a1-j6-and-a1-j8"
    ]


def test_every_cable_says_what_all_other_pairs_read() -> None:
    for cable in fp420().machine.wiring.cables:
        sections = ring_out_sections(fp420(), str(cable))
        assert sections
        for section in sections:
            notes = [block.words for block in section.blocks if isinstance(block, Note)]
            assert any("other pairs open" in one or "cannot be said" in one for one in notes)


def test_the_warning_stands_on_the_page_of_the_step() -> None:
    text = words(tree("machine/fp420/procedure/draw-tray/step-6.html"))
    for end in step_six():
        assert " ".join(end.warning.split()) in text


def blocks_of(path: str, anchor: str) -> list[Any]:
    (found,) = [one for one in demo_pages()[path].context["sections"] if one.anchor == anchor]
    return list(found.blocks)


def test_every_connector_shows_both_halves_as_they_mate_and_the_plug_from_its_wire_side() -> None:
    for machine in ("fp420", "bc300"):
        mbook = machine_of(machine)
        for name in mbook.machine.wiring.connectors:
            drawn = [b for b in blocks_of(mbook.at.connector(name), "faces") if b.shape == "arts"]
            pairs = [one.arts for one in drawn if len(one.arts) == 2]
            backs = [one.arts for one in drawn if len(one.arts) == 1]
            assert pairs and backs
            for plug, receptacle in pairs:
                assert "plug" in plug.title and "receptacle" in receptacle.title
                assert "Mating side" in plug.title and "Mating side" in receptacle.title
            assert all("Wire side" in back.title for (back,) in backs)


def test_a_plug_that_is_not_keyed_says_on_its_page_that_it_goes_in_turned_round() -> None:
    for name in ("A1-J2", "A1-J5", "H1-J1"):
        notes = [b.words for b in blocks_of(fp420().at.connector(name), "faces") if isinstance(b, Note) and b.grave]
        assert any("turned round" in one for one in notes)
    notes = [b.words for b in blocks_of(fp420().at.connector("A1-J6"), "faces") if isinstance(b, Note) and b.grave]
    assert notes == []


def test_a_place_whose_plug_hangs_parked_says_so_and_on_which_machines() -> None:
    notes = [b.words for b in blocks_of(fp420().at.connector("A1-J9"), "faces") if isinstance(b, Note) and b.grave]
    assert any(one.startswith("W9") and "parked on machines with roll" in one and "live" in one for one in notes)


def test_a_connector_without_a_cable_says_whether_it_is_left_open_or_nobody_recorded_it() -> None:
    text = words(tree(fp420().at.connector("A1-J11")))
    assert "nothing recorded as left open" in text
    bare = {
        str(name)
        for name in fp420().machine.wiring.connectors
        if "not recorded whatever is plugged in may go elsewhere too" in words(tree(fp420().at.connector(name)))
    }
    recorded = {str(name) for built in fp420().builts for name, one in built.connectors.items()
                if not built.cables_at.get(name) and one.cable is None}  # fmt: skip
    assert bare == recorded


def test_a_connector_names_every_swap_it_belongs_to_and_leads_to_it() -> None:
    page = tree("machine/fp420/swaps.html")
    places = {one.get("id") for one in page.findall(".//li[@class='pair']")}
    (links,) = blocks_of(fp420().at.connector("A1-J6"), "swaps")
    wanted = {end for pair in swaps_by_ends(fp420()) if "A1-J6" in pair.split() for end in pair.split()} - {"A1-J6"}
    assert {line.words for line in links.lines} == wanted
    assert all(line.path.partition("#")[2] in places for line in links.lines)


def test_every_net_shows_its_ring_out_and_what_other_pairs_read() -> None:
    pages = [path for path in demo_pages() if path.startswith("machine/") and "/net/" in path]
    assert len(pages) > 50
    for path in pages:
        sections = demo_pages()[path].context["sections"]
        rung = [block for one in sections if (one.anchor or "").startswith("ring-out") for block in one.blocks]
        notes = [block.words for block in rung if isinstance(block, Note)]
        assert any(one.startswith("All contacts of other nets open") for one in notes)
        rows = [row for block in rung if block.shape == "table" for row in block.rows]
        fixed = [row for row in sections[0].blocks[0].rows if not row.cells[0].words.startswith("parked")]
        joined = [row for row in fixed if row.cells[1] != "empty"]  # a parked plug is rung out with its cable
        assert rows or len(joined) <= 1


def test_the_wiring_page_leads_to_all_that_is_made_of_the_wiring() -> None:
    page = tree("machine/fp420/wiring.html")
    hrefs = {one.get("href") for one in page.findall(".//main//a")}
    lists = ("interconnection", "swaps", "live", "bypass", "energy-control")
    assert {f"{one}.html" for one in lists} <= hrefs
    assert {f"cable/{slug(str(name))}.html#ring-out" for name in fp420().machine.wiring.cables} <= hrefs
    assert "procedure/draw-tray/plugs.html" in hrefs
    assert {path.removeprefix("machine/fp420/") for path in demo_pages() if "fp420/net/" in path} <= hrefs


def opened_by_any(mbook: MachineBook, id: str, number: int) -> set[tuple[str, str, str]]:
    """Connector, its label and its warning, of every end a step opens or plugs on any machine it is for."""
    procedure = mbook.machine.procedures[id]
    narrow = mbook.narrowed(procedure.applies, procedure.steps[number - 1].applies)
    return {
        (end.connector, end.end_label.words if end.end_label is not None else "", end.swap_words)
        for _, book in books_of(narrow)
        for end in book.open_ends_of_step(procedure, number)
    }


def steps_of_the_demo() -> Iterator[tuple[MachineBook, str, int]]:
    for machine in ("fp420", "bc300"):
        mbook = machine_of(machine)
        for id, procedure in mbook.machine.procedures.items():
            for number in range(1, len(procedure.steps) + 1):
                yield mbook, str(id), number


SVG = "{http://www.w3.org/2000/svg}"


def ends_in(element: Any) -> list[Any]:
    return element.findall(".//section[@class='end']")


def test_every_step_that_opens_or_plugs_an_end_shows_face_label_and_swap_on_it_and_at_the_bench() -> None:
    seen = 0
    for mbook, id, number in steps_of_the_demo():
        wanted = opened_by_any(mbook, id, number)
        on_step = tree(mbook.at.step(id, number))
        at_bench = tree(mbook.at.bench(id)).find(f".//section[@id='step-{number}']")
        for place in (on_step, at_bench):
            shown = ends_in(place)
            assert {one.find(".//h3/a").text for one in shown} == {connector for connector, _, _ in wanted}
            for end in shown:
                titles = [one.find(f"{SVG}title").text for one in end.findall(f".//{SVG}svg")]
                connector = end.find(".//h3/a").text
                assert len(titles) == 2 and all(one.startswith(connector) and "side" in one for one in titles)
            for connector, label, warning in wanted:
                told = [words(one) for one in shown if one.find(".//h3/a").text == connector]
                assert any(" ".join(f"{label}".split()) in one and warning in one for one in told)
        seen += len(wanted)
    assert seen > 20


def test_a_label_at_the_step_is_that_of_the_procedures_label_list() -> None:
    for mbook, id, number in steps_of_the_demo():
        for end in ends_of_step(mbook, mbook.machine.procedures[id], number):
            if end.label:
                count, _, mark = end.label.partition(", ")
                rows = [row.cells for row in label_table(mbook, mbook.machine.procedures[id]).rows]
                assert any(cells[:2] == (count, mark) and cells[2].words == end.cable.words for cells in rows)


def test_a_step_leads_to_plugs_and_labels_only_where_that_page_is_made() -> None:
    for mbook, id, number in steps_of_the_demo():
        leads = demo_pages()[mbook.at.step(id, number)].context["plugs"]
        assert (leads is not None) == (mbook.at.plugs(id) in demo_pages())


def test_a_step_that_only_plugs_leads_to_no_page_of_labels() -> None:
    made = book(ONLY_PLUGS)
    pages = {page.path: page for kind in PAGE_KINDS for page in kind.pages(made)}
    step = pages["machine/m1/procedure/close/step-1.html"]
    assert step.context["ends"] and step.context["plugs"] is None
    assert "plugs.html" not in drawn(step, made) and "machine/m1/procedure/close/plugs.html" not in pages


ONLY_PLUGS = {
    "m1/machine.yaml": "record: machine\nid: m1\nname: Machine\n"
    "items:\n  A1: {name: Board}\n  A2: {name: Other board}\n",
    "m1/wiring.yaml": "record: wiring\nmachine: m1\nconnectors:\n  A1-J1: {family: f, contacts: 2, keyed: yes}\n"
    "  A2-J1: {family: g, contacts: 2, keyed: yes}\ncables:\n  W1: {ends: [A1-J1, A2-J1], wires: {map: straight}}\n",
    "m1/teardown/close.yaml": "record: teardown\nmachine: m1\nid: close\ntitle: Close it\nsteps:\n"
    "  - title: Plug it\n    do: [plug: A1-J1]\n",
}


def test_pictures_stand_worst_swap_first_over_all_machines_that_may_be_meant() -> None:
    words_in_order = [one.value for one in Consequence]
    seen = 0
    for machine in ("fp420", "bc300"):
        mbook = machine_of(machine)
        for procedure in mbook.machine.procedures.values():
            risks = [str(row.cells[2]) for row in shot_table(mbook, procedure).rows]
            ranks = [words_in_order.index(one) if one in words_in_order else len(words_in_order) for one in risks]
            assert ranks == sorted(ranks)
            seen += len(set(ranks)) > 1
    assert seen > 1
    first = shot_table(fp420(), fp420().machine.procedures["replace-main-board"]).rows[0]
    assert first.cells[2] == "not recorded: counts as the worst"
