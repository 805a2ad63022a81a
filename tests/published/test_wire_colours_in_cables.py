"""Published colour codes on the wires of recorded cables: IEC 60757 words, DIN 47100 in order, IEC 60445 for earth."""

from __future__ import annotations

from tests.published.test_colour_codes import DIN_47100, IEC_60757
from tests.wiring.machines import wired

from benchleaf.wiring.wire_list import wire_list


def rows(colours: list[str]) -> list[str]:
    contacts = len(colours)
    wiring = wired(
        "items: {A1: One, A2: Other}\n",
        f"connectors:\n  A1-J1: {{contacts: {contacts}}}\n  A2-J1: {{contacts: {contacts}}}\n"
        f"cables:\n  W1: {{ends: [A1-J1, A2-J1], wires: {{map: straight, colours: [{', '.join(colours)}]}}}}\n",
    )
    return [row.colour_words for row in wire_list(wiring)]


def test_every_iec_60757_code_is_told_with_its_word() -> None:
    codes = list(IEC_60757)
    assert rows(codes) == [f"{IEC_60757[code]} ({code})" for code in codes]


def test_wire_n_of_a_din_47100_cable_has_the_colour_of_conductor_n() -> None:
    told = rows(DIN_47100)
    assert len(told) == 30
    for n, code in enumerate(DIN_47100):
        words = " and ".join(IEC_60757[code[at : at + 2]] for at in range(0, len(code), 2))
        assert told[n] == f"{words} ({code})"


def test_earth_is_told_in_the_words_of_iec_60445() -> None:
    assert rows(["GNYE"]) == ["green-and-yellow (GNYE)"]


def test_a_colour_nobody_recorded_is_told_as_not_recorded() -> None:
    wiring = wired(
        "items: {A1: One, A2: Other}\n",
        "connectors:\n  A1-J1: {contacts: 1}\n  A2-J1: {contacts: 1}\n"
        "cables:\n  W1: {ends: [A1-J1, A2-J1], wires: {map: straight}}\n",
    )
    assert [row.colour_words for row in wire_list(wiring)] == ["not recorded"]
