"""Faces from records: what is recorded is drawn, what is drawn is recorded, and the other half is the mirror."""

from __future__ import annotations

import pytest
from tests.connectors.plain_machines import built_of, demo, demo_machine

from benchleaf.built import Built
from benchleaf.connectors.faces import both_faces, face_of
from benchleaf.connectors.labels import labels_of
from benchleaf.drawings.face import face_view, mating_pair, meeting_words, places_of
from benchleaf.wiring.graph import make_graph

ITEMS = "  A1: {name: Board}\n  M1: Motor\n  F1: Fuse\n"
WIRING = """connectors:
  A1-J1:
    family: wire-to-board 2.5 mm
    contacts: {1: 24 V DC, 2: out, 3: "-", 4: 0 V}
    pins: fixed
    keyed: red
    latch: hook
    face: [[1, 2], [3, 4]]
  A1-J2: {family: circular 4, contacts: 4, keyed: yes, face: [[2, 1], [3, 4]]}
  A1-J3: {form: plug, pins: loose, contacts: 3, face: [[1, 2, 3]]}
  A1-J4: {family: "flat 1.0 mm, contacts up"}
  A1-J5: {}
cables:
  W1: {ends: [A1-J1, M1], wires: {map: [[1, 1], [2, 2], [4, 3], [4, 4]], colours: [RD, WH, BK, BN]}}
  W2: {ends: [A1-J2, M1], wires: {map: straight, colours: [BK]}}
  W4: {kind: flat, ends: [A1-J4, M1], wires: {map: [[1, 5], [2, 6]], colours: [GY]}}
"""


@pytest.fixture(scope="module")
def built() -> Built:
    return built_of(WIRING, ITEMS)


def all_demo() -> list[tuple[str, Built, str]]:
    derived = demo()
    return [
        (f"{machine.id} {built.configuration.label} {name}", built, name)
        for machine in derived.library.machines.values()
        for built in derived.all_built(machine)[:2]
        for name in built.connectors
    ]


def test_contacts_drawn_are_the_contacts_recorded() -> None:
    for words, built, name in all_demo():
        recorded = list(built.connectors[name].contacts or {})
        for face in both_faces(built, name):
            drawn = [place.name for place in places_of(face) if not place.empty]
            assert sorted(drawn) == sorted(recorded), words
            table = {row[0]: row[2] for row in face_view(face).table.rows}
            for own, role in (built.connectors[name].contacts or {}).items():
                assert table[own] == ("empty" if role == "-" else str(role)), words


def test_every_recorded_face_of_the_demo_meets_its_counterpart() -> None:
    for words, built, name in all_demo():
        plug, receptacle = both_faces(built, name)
        if built.connectors[name].face is not None:
            assert meeting_words(plug, receptacle).startswith("Held face to face"), words


def test_the_recorded_rows_are_those_of_the_fixed_half(built: Built) -> None:
    assert face_of(built, "A1-J1", "receptacle").rows == (("1", "2"), ("3", "4"))
    assert face_of(built, "A1-J1", "plug").rows == (("2", "1"), ("4", "3"))
    assert face_of(built, "A1-J3", "plug").rows == (("1", "2", "3"),)
    assert face_of(built, "A1-J3", "receptacle").rows == (("3", "2", "1"),)


def test_pins_meet_sockets_whichever_half_is_fixed(built: Built) -> None:
    assert face_of(built, "A1-J1", "receptacle").has_pins is True
    assert face_of(built, "A1-J1", "plug").has_pins is False
    assert face_of(built, "A1-J3", "plug").has_pins is False
    assert face_of(built, "A1-J3", "receptacle").has_pins is True
    assert face_of(built, "A1-J2", "plug").has_pins is None


def test_the_wire_side_is_the_mirror_of_the_mating_side(built: Built) -> None:
    mating = [place.name for place in places_of(face_of(built, "A1-J1", "plug"))]
    wire = [place.name for place in places_of(face_of(built, "A1-J1", "plug", "wire"))]
    assert mating == ["2", "1", "4", "3"] and wire == ["1", "2", "3", "4"]


def test_wire_colours_come_with_the_cable_in_map_order(built: Built) -> None:
    for half in ("plug", "receptacle"):
        colours = {one.name: one.colour for one in face_of(built, "A1-J1", half).contacts}  # type: ignore[arg-type]
        assert colours == {"1": "RD", "2": "WH", "3": "", "4": "BK+BN"}
    one_for_all = {one.name: one.colour for one in face_of(built, "A1-J2", "plug").contacts}
    assert one_for_all == dict.fromkeys("1234", "BK")


def test_two_wires_at_one_contact_are_both_drawn_and_said(built: Built) -> None:
    drawing = face_view(face_of(built, "A1-J1", "plug"))
    assert {row[0]: row[3] for row in drawing.table.rows}["4"] == "BK+BN black, brown"
    assert "#1b1b1b" in drawing.svg and "#7a4a24" in drawing.svg


def test_coding_latch_and_cable_are_said(built: Built) -> None:
    words = face_view(face_of(built, "A1-J1", "plug")).description
    assert "Keyed, coding red." in words and "Latch: hook." in words
    assert face_of(built, "A1-J1", "plug").cable == "W1"


def test_rows_of_a_circular_connector_keep_their_places_in_the_circle(built: Built) -> None:
    places = {place.name: (place.x, place.y) for place in places_of(face_of(built, "A1-J2", "receptacle"))}
    assert places["2"][0] < places["1"][0] and places["3"][0] < places["4"][0]
    assert places["2"][1] == places["1"][1] < places["3"][1] == places["4"][1]


def test_a_round_connector_stands_with_its_key_up_whatever_locks_it() -> None:
    motor = demo_machine("bc300", "two-bank")
    assert motor.connectors["M1-J1"].latch == "ring nut"
    drawing = face_view(face_of(motor, "M1-J1", "plug"))
    assert "Mating side – key up" in drawing.title and 'class="key"' in drawing.svg
    assert ">latch<" not in drawing.svg and "Latch: ring nut." in drawing.description


def test_what_is_not_recorded_is_said_to_be_so(built: Built) -> None:
    face = face_of(built, "A1-J4", "receptacle")
    assert [contact.name for contact in face.contacts] == ["1", "2"] and not face.placed
    assert face.contact_side == "up" and face.arrangement == "flat cable"
    bare = face_view(face_of(built, "A1-J5", "receptacle"))
    assert "Contacts not recorded." in bare.description and "Keying not recorded" in bare.description


def test_the_label_mark_of_the_cable_stands_on_the_face(built: Built) -> None:
    (label,) = labels_of(built, ["W1"], ())
    face = face_of(built, "A1-J1", "plug", label=label)
    assert face.label == "A circle" and 'class="mark"' in face_view(face).svg


def test_a_plug_that_differs_from_its_receptacle_shows_its_own_contacts() -> None:
    wiring = (
        "connectors:\n  A1-J1: {contacts: 3, keyed: yes, face: [[1, 2, 3]]}\n"
        "cables:\n  W1: {ends: [{at: A1-J1, plug: {contacts: 2, keyed: no}}, M1], wires: {map: straight}}\n"
    )
    built = built_of(wiring, ITEMS)
    plug, receptacle = both_faces(built, "A1-J1", graph=make_graph(built))
    assert [contact.name for contact in plug.contacts] == ["1", "2"] and plug.keyed is False
    assert [contact.name for contact in receptacle.contacts] == ["1", "2", "3"] and receptacle.keyed is True


def test_same_records_same_bytes() -> None:
    one, other = (mating_pair(*both_faces(demo_machine("fp420", "mk2", "roll"), "A9-J2")).svg for _ in range(2))
    assert one == other
