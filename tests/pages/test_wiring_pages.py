"""What stays live, the energy-control sheet, nets and bypasses, as the demo's pages show them."""

from __future__ import annotations

from typing import Any

from tests.pages.library import demo_pages

from benchleaf.pages.shown import Line, Section


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
