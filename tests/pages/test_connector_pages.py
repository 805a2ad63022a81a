"""Faces, labels, swaps, diagrams and ring-out, as the demo's pages show them."""

from __future__ import annotations

from functools import cache

from tests.pages.library import demo, tree, words

from benchleaf.connectors.meeting import Consequence
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.plugs_shown import EndShown, books_of, ends_of_step
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
