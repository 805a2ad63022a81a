"""Connectors whose arrangement is published, written as records: the face drawn from them is the published one."""

from __future__ import annotations

from tests.connectors.plain_machines import built_of

from benchleaf.connectors.faces import face_of
from benchleaf.drawings.face import Face, face_view, places_of

ITEMS = "  A1: {name: Board}\n  A2: {name: Other board}\n"

# ANSI/TIA-568.2, T568B: contact to wire colour as the record writes it (IEC 60757 codes, white ground first).
T568B = ["WHOG", "OG", "WHGN", "BU", "WHBU", "GN", "WHBN", "BN"]

# ATX12V power supply design guide: main connector, 24 contacts, two rows of twelve; 1 opposite 13, 12 opposite 24.
ATX = {"1": "3.3 V DC", "3": "0 V", "4": "5 V DC", "9": "5 V DC", "10": "12 V DC", "14": "-12 V DC", "24": "0 V"}


def seen(face: Face) -> list[list[str]]:
    """The rows as drawn: names from left to right, rows from top to bottom."""
    rows: dict[float, list[tuple[float, str]]] = {}
    for place in places_of(face):
        rows.setdefault(place.y, []).append((place.x, place.name))
    return [[name for _, name in sorted(row)] for _, row in sorted(rows.items())]


def test_the_eight_contact_plug_has_contact_1_on_the_left_and_its_jack_on_the_right() -> None:
    # IEC 60603-7 / ANSI/TIA-568: looking into the jack with the latch up contact 1 is on the right; into the
    # plug's contacts with the latch away (up) on the left. The record holds the jack, the fixed half.
    wiring = (
        "connectors:\n  A1-J1: {family: 8 contact modular, contacts: 8, keyed: yes, latch: tongue,"
        " face: [[8, 7, 6, 5, 4, 3, 2, 1]]}\n"
        f"cables:\n  W1: {{ends: [A1-J1, A2], wires: {{map: straight, colours: [{', '.join(T568B)}]}}}}\n"
    )
    built = built_of(wiring, ITEMS)
    assert seen(face_of(built, "A1-J1", "receptacle")) == [list("87654321")]
    plug = face_of(built, "A1-J1", "plug")
    assert seen(plug) == [list("12345678")]
    assert [row[3].split()[0] for row in face_view(plug).table.rows] == T568B


def test_the_atx_connector_has_1_to_12_over_13_to_24() -> None:
    upper, lower = [str(n) for n in range(1, 13)], [str(n) for n in range(13, 25)]
    roles = ", ".join(f"{n}: {ATX.get(n, 'in/out')}" for n in (*upper, *lower))
    rows = f"[[{', '.join(upper)}], [{', '.join(lower)}]]"
    wiring = f"connectors:\n  A1-J1:\n    contacts: {{{roles}}}\n    keyed: yes\n    latch: hook\n    face: {rows}\n"
    built = built_of(wiring, ITEMS)
    board = face_of(built, "A1-J1", "receptacle")
    assert seen(board) == [upper, lower]
    assert seen(face_of(built, "A1-J1", "receptacle", "wire")) == [upper[::-1], lower[::-1]]
    assert seen(face_of(built, "A1-J1", "plug")) == [upper[::-1], lower[::-1]]
    drawn = {row[0]: row[2] for row in face_view(board).table.rows}
    assert {n: drawn[n] for n in ATX} == ATX


def test_the_nine_contact_d_sub_has_five_over_four_and_mirrors_in_its_other_half() -> None:
    # IEC 60807-3 / TIA-574 (from memory): the half with pins on its mating side, longer row up, counts from the left.
    wiring = (
        "connectors:\n  A1-J1: {family: D-shape 9, contacts: 9, pins: fixed, keyed: yes,"
        " face: [[1, 2, 3, 4, 5], [6, 7, 8, 9]]}\n"
    )
    built = built_of(wiring, ITEMS)
    pins = face_of(built, "A1-J1", "receptacle")
    assert pins.arrangement == "D-shape" and pins.has_pins
    assert seen(pins) == [["1", "2", "3", "4", "5"], ["6", "7", "8", "9"]]
    sockets = face_of(built, "A1-J1", "plug")
    assert seen(sockets) == [["5", "4", "3", "2", "1"], ["9", "8", "7", "6"]] and sockets.has_pins is False
    at = {place.name: place.x for place in places_of(sockets)}
    assert at["6"] - at["1"] == at["2"] - at["6"]


def test_usb_micro_b_keeps_its_five_contacts_in_one_row() -> None:
    # USB 2.0 specification, Micro-USB Cables and Connectors: 1 VBUS, 2 D-, 3 D+, 4 ID, 5 GND in one row; that the
    # receptacle's row runs from the right is from memory.
    wiring = (
        "connectors:\n  A1-J1: {family: USB 2.0 micro-B, contacts: {1: 5 V DC, 2: in/out, 3: in/out, 4: '-', 5: 0 V},"
        " keyed: yes, face: [[5, 4, 3, 2, 1]]}\n"
    )
    face = face_of(built_of(wiring, ITEMS), "A1-J1", "receptacle")
    assert seen(face) == [["5", "4", "3", "2", "1"]]
    assert [row[2] for row in face_view(face).table.rows] == ["0 V", "empty", "in/out", "in/out", "5 V DC"]
