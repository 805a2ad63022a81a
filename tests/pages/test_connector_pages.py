"""Faces, labels, swaps, diagrams and ring-out, as the demo's pages show them."""

from __future__ import annotations

from functools import cache

from tests.pages.library import demo, tree, words

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.kinds.swaps import page as swap_page
from benchleaf.pages.plugs_shown import EndShown, ends_of_step, swap_table
from benchleaf.pages.ring_out_shown import ring_out_sections
from benchleaf.pages.shown import Note


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


def test_no_serial_alone_hides_a_swap() -> None:
    table = swap_table(fp420())
    assert table.rows and table.careful
    assert all(one.careful for one in swap_page(fp420()).context["opening"] if one.shape == "table")


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
