"""What stays live, the energy-control sheet, nets and bypasses, as the demo's pages show them."""

from __future__ import annotations

from typing import Any

import pytest
from html5lib import HTMLParser
from tests.pages.library import book, demo, demo_pages, drawn, words

from benchleaf.pages.page_kinds import PAGE_KINDS
from benchleaf.pages.shown import Line, Section
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.isolation_states import isolation_states
from benchleaf.wiring.trace import trace


def text_of(value: Any) -> str:
    """All words of a page's sections, in order."""
    if value is None:
        return "not recorded"
    if isinstance(value, str):
        return value
    if isinstance(value, Line):
        return f"{value.words} {value.note or ''}"
    if isinstance(value, tuple):
        return " ".join(text_of(one) for one in value)
    parts = [getattr(value, name) for name in getattr(value, "__dataclass_fields__", ())]
    return " ".join(text_of(one) for one in parts if isinstance(one, str | tuple | Line) or hasattr(one, "shape"))


def sections(path: str) -> dict[str, str]:
    found: tuple[Section, ...] = demo_pages()[path].context["sections"]
    return {one.title: " ".join(text_of(row) for block in one.blocks for row in rows(block)) for one in found}


def rows(block: Any) -> list[Any]:
    return [getattr(row, "cells", row) for row in getattr(block, "rows", getattr(block, "lines", ()))]


def test_the_usb_plug_keeps_the_five_volts_alive_when_the_mains_plug_is_out() -> None:
    states = sections("machine/fp420/live.html")
    alone = next(words for title, words in states.items() if "XP1" in title and "XP5" not in title)
    assert "A1-J6:1" in alone and "roll-usb" in alone


def test_the_neutral_switch_leaves_the_live_side_of_the_one_bank_oven_alive() -> None:
    states = sections("machine/bc300/live.html")
    alone = next(words for title, words in states.items() if "Q1" in title and "XP1" not in title)
    assert "mains" in alone


def test_the_sheet_has_the_six_steps_in_their_order() -> None:
    titles = list(sections("machine/fp420/energy-control.html"))
    wanted = ("know", "shut down", "isolate", "lock", "relieve", "verify")
    assert [one.lower() for one in titles] and len(titles) == len(wanted)
    for title, word in zip(titles, wanted, strict=True):
        assert word in title.lower()


def test_a_waiting_time_is_never_shown_without_the_measurement() -> None:
    for machine in ("fp420", "bc300"):
        words = sections(f"machine/{machine}/energy-control.html")
        relieve = next(text for title, text in words.items() if "elieve" in title)
        assert " s" not in relieve or "then measure" in relieve


def test_the_masked_code_says_on_its_own_page_by_what() -> None:
    masked = demo_pages()["machine/fp420/code/05.html"].context["masked"]
    assert [one.words for one in masked] and "A9" in masked[0].words
    assert demo_pages()["machine/fp420/code/12.html"].context["masked"] == ()


def test_the_replugged_and_the_parked_cable_are_told_as_changes() -> None:
    words = " ".join(sections("machine/fp420/bypass.html").values())
    assert "W8 re-routed" in words and "W9 re-routed: S1-J1, A1-J9 → S1-J1, parked" in words


def test_the_owner_is_told_of_the_lost_protection() -> None:
    told = {title: words for title, words in sections("machine/fp420/bypass.html").items() if "owner" in title}
    assert told and all("lid" in words.lower() for words in told.values())


def test_every_net_has_a_page_with_its_contacts() -> None:
    nets = [page for path, page in demo_pages().items() if "/net/" in path]
    assert len(nets) > 50
    for page in nets:
        assert page.context["sections"][0].blocks[0].rows


def test_the_map_lists_every_live_net_of_every_state_on_every_machine_with_its_proof_or_its_gap() -> None:
    derived = demo().derived
    seen = 0
    for name, machine in derived.library.machines.items():
        found = {one.title: one.blocks[0].rows for one in demo_pages()[f"machine/{name}/live.html"].context["sections"]}
        listed = {
            (title, net.words, text_of(row.cells[2]))
            for title, rows in found.items()
            for row in rows
            for net in row.cells[0]
        }
        for built in derived.all_built(machine):
            for state in isolation_states(wiring_of(derived, built)):
                for net in state.nets:
                    told = " ".join(f"{point.words} " for point in net.proofs) or f"{net.gap} "
                    assert (state.title[:1].upper() + state.title[1:], shown(net.net.name), told) in listed
                    seen += 1
    assert seen > 200


def test_a_net_that_only_stored_charge_feeds_says_what_is_left_when_it_is_proved_gone() -> None:
    states = sections("machine/fp420/live.html")
    alone = next(words for title, words in states.items() if title == "All together")
    assert "Once stored charge is proved gone: no source recorded: measure" in alone


def test_what_a_conversion_changed_is_told_once_for_machines_it_is_the_same_on() -> None:
    found = demo_pages()["machine/fp420/bypass.html"].context["sections"]
    told = [one.blocks for one in found if one.title.startswith(("What changed", "For the owner"))]
    assert len(told) == len(set(told)) == 2
    titles = [one.title for one in found]
    assert "What changed: mk1 with roll; mk2 with roll" in titles


def test_the_sheet_tells_what_is_common_before_what_differs() -> None:
    for machine in ("fp420", "bc300"):
        for one in demo_pages()[f"machine/{machine}/energy-control.html"].context["sections"]:
            tagged = [row.applies is not None for row in one.blocks[0].rows]
            assert tagged == sorted(tagged)


def test_a_net_tells_every_contact_it_leads_on_to_with_the_way_and_the_machines() -> None:
    derived = demo().derived
    built = derived.all_built(derived.library.machines["fp420"])[0]
    wiring = wiring_of(derived, built)
    found = trace(wiring, "A1-J2.1")
    assert found is not None
    wanted = {(one.through, shown(one.contact)) for one in found.reached if one.through}
    (section,) = [
        one for one in demo_pages()["machine/fp420/net/a1-j2-1.html"].context["sections"] if one.anchor == "on"
    ]
    told = {
        (tuple(way.words for way in row.cells[0]), one.words) for row in section.blocks[0].rows for one in row.cells[1]
    }
    assert wanted and wanted <= told


BARE = {"m1/machine.yaml": "record: machine\nid: m1\nname: Machine\nitems:\n  A1: {name: Board}\n"}
UNWIRED = {
    "index.html": "Everything in this machine counts as live until it was proved dead",
    "wiring.html": "Everything counts as live until it was proved dead where you touch",
    "live.html": "Everything counts as live until it was proved dead where you touch",
    "interconnection.html": "Everything counts as live until it was proved dead where you touch",
    "energy-control.html": "prove every contact dead before it is touched",
    "energy.html": "Everything counts as energised until it is proved dead",
    "bypass.html": "nobody can say here which signals were replaced",
    "swaps.html": "any plug counts as fitting any place",
    "item/a1.html": "live",
}


@pytest.mark.parametrize("page", UNWIRED)
def test_a_machine_without_wiring_says_everywhere_what_that_counts_as(page: str) -> None:
    made = book(BARE)
    (found,) = [one for kind in PAGE_KINDS for one in kind.pages(made) if one.path == f"machine/m1/{page}"]
    body = HTMLParser(strict=True, namespaceHTMLElements=False).parse(drawn(found, made)).find(".//main")
    text = words(body)
    assert "not recorded" in text.lower() or "no connector is recorded" in text.lower()
    assert UNWIRED[page] in text
