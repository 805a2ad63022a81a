"""Faces of connectors whose arrangement is published: TIA-568 plug, ATX 24-contact, D-sub 9."""

from __future__ import annotations

from benchleaf.drawings.face import Contact, Face, counterpart, face_view, places_of, seen_from
from benchleaf.drawings.face_values import d_shape, row_after_row, single_row

# ANSI/TIA-568, T568B: contact to wire colour, white ground first.
T568B = {"1": "WHOG", "2": "OG", "3": "WHGN", "4": "BU", "5": "WHBU", "6": "GN", "7": "WHBN", "8": "BN"}

# ATX12V power supply design guide, main 24-contact connector: two rows of 12, contact 1 opposite contact 13.
ATX_OPPOSITE = {str(n): str(n + 12) for n in range(1, 13)}
ATX_SUPPLIES = {"1": "+3.3V", "9": "+5VSB", "10": "+12V", "14": "-12V", "16": "PS_ON#", "24": "COM"}


def drawn(face: Face) -> dict[str, tuple[float, float]]:
    return {place.name: (place.x, place.y) for place in places_of(face)}


def test_the_eight_contact_plug_counts_from_the_left_with_its_latch_up() -> None:
    # ANSI/TIA-568 (IEC 60603-7): looking into the plug's mating end with the latch up, contact 1 is on the
    # left; looking into the outlet with the latch up it is on the right. That the two are mirrored is
    # geometry.
    plug = Face(
        name="W1-J1",
        half="plug",
        rows=single_row(8),
        latch="press",
        keyed=True,
        contacts=tuple(Contact(name=name, colour=colour) for name, colour in T568B.items()),
    )
    places = drawn(plug)
    assert sorted(places, key=lambda name: places[name][0]) == list("12345678")
    outlet = drawn(counterpart(plug))
    assert sorted(outlet, key=lambda name: outlet[name][0]) == list("87654321")
    table = face_view(plug).table
    assert [row[3].split()[0] for row in table.rows] == list(T568B.values())


def test_contact_1_of_the_atx_connector_lies_opposite_contact_13() -> None:
    board = Face(
        name="A1-J1",
        half="receptacle",
        arrangement="dual row",
        rows=row_after_row(12),
        latch="press",
        contacts=tuple(Contact(name=n, role=ATX_SUPPLIES.get(n, "")) for n in map(str, range(1, 25))),
    )
    for face in (board, seen_from(board, "wire"), counterpart(board)):
        places = drawn(face)
        assert len(places) == 24
        for above, below in ATX_OPPOSITE.items():
            assert places[above][0] == places[below][0]
            assert places[above][1] < places[below][1]
        assert len({y for _, y in places.values()}) == 2
    roles = {row[0]: row[2] for row in face_view(board).table.rows}
    assert {name: roles[name] for name in ATX_SUPPLIES} == ATX_SUPPLIES


def test_the_nine_contact_d_sub_has_five_over_four() -> None:
    # IEC 60807-3 / TIA-574 (from memory): pin half on its mating side, longer row up: 1 to 5 from the left,
    # below them 6 to 9 between; the socket half is its mirror.
    pins = Face(name="A2-X1", half="receptacle", arrangement="D-shape", rows=d_shape(5, 4), has_pins=True)
    places = drawn(pins)
    upper = [name for name in places if places[name][1] == places["1"][1]]
    lower = [name for name in places if name not in upper]
    assert sorted(upper, key=lambda name: places[name][0]) == ["1", "2", "3", "4", "5"]
    assert sorted(lower, key=lambda name: places[name][0]) == ["6", "7", "8", "9"]
    assert places["1"][0] < places["6"][0] < places["2"][0]
    assert places["6"][0] - places["1"][0] == places["2"][0] - places["6"][0]
    sockets = drawn(counterpart(pins))
    assert sockets["1"][0] > sockets["2"][0] > sockets["5"][0]
    assert "longer row up" in face_view(pins).title
