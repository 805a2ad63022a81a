"""Connector faces: nothing drawn that was not given, nothing given that is not drawn, and the side always
named.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.face import Contact, Face, counterpart, face_view, mating_pair, places_of, seen_from
from benchleaf.drawings.face_values import (
    arrangement_of,
    column_by_column,
    contact_side_of,
    d_shape,
    row_after_row,
    single_row,
)

SVG = "{http://www.w3.org/2000/svg}"
A1_J3 = Face(
    name="A1-J3",
    half="receptacle",
    rows=single_row(2),
    contacts=(Contact(name="1", role="24 V DC", colour="RD"), Contact(name="2", role="out", colour="BK")),
    keyed=True,
    latch="yes",
    has_pins=True,
    cable="W3",
)


def root_of(drawing: Drawing) -> ET.Element:
    return ET.fromstring(drawing.svg)


def words_in(drawing: Drawing) -> str:
    """Every word lettered on the picture itself (title and description left out)."""
    return " ".join("".join(found.itertext()) for found in root_of(drawing).iter(f"{SVG}text"))


def contacts_drawn(drawing: Drawing) -> list[str]:
    found = [element.get("data-contact") for element in root_of(drawing).iter()]
    return [contact.split(":", 1)[1] for contact in found if contact]


def first_x(drawing: Drawing) -> float:
    """How far right contact 1 is drawn, within the body."""
    (first,) = [e for e in root_of(drawing).iter() if e.get("class") == "contact contact-first"]
    moved = re.match(r"translate\(([-\d.]+) ", first.get("transform", ""))
    assert moved
    return float(moved[1])


def all_x(drawing: Drawing) -> list[float]:
    return [
        float(found)
        for element in root_of(drawing).iter()
        if element.get("data-contact")
        for found in re.findall(r"translate\(([-\d.]+) ", element.get("transform", ""))
    ]


@pytest.mark.parametrize("side", ["mating", "wire"])
def test_the_side_seen_is_named_in_words_on_the_drawing(side: str) -> None:
    drawing = face_view(seen_from(A1_J3, side))  # type: ignore[arg-type]
    said = {"mating": "Mating side – latch up", "wire": "Wire side – latch up"}[side]
    assert said in words_in(drawing)
    assert said in drawing.title
    assert said in drawing.description


def test_contact_1_is_on_the_other_end_on_the_wire_side() -> None:
    long = replace(A1_J3, rows=single_row(5), contacts=())
    mating, wire = face_view(long), face_view(seen_from(long, "wire"))
    assert first_x(mating) == min(all_x(mating))
    assert first_x(wire) == max(all_x(wire))
    assert contacts_drawn(wire) == list(reversed(contacts_drawn(mating)))


def test_contact_1_is_shown_by_square_pointer_and_words() -> None:
    drawing = face_view(A1_J3)
    (first,) = [e for e in root_of(drawing).iter() if e.get("class") == "contact contact-first"]
    assert first.find(f".//{SVG}rect") is not None
    assert len([e for e in root_of(drawing).iter() if e.get("class") == "pointer-first"]) == 1
    assert "Contact 1 (square with pointer): 1st from the left." in words_in(drawing)


def test_the_wire_side_twice_is_the_mating_side() -> None:
    back = seen_from(seen_from(A1_J3, "wire"), "mating")
    assert face_view(back).svg == face_view(A1_J3).svg


def test_the_counterpart_of_the_counterpart_is_the_face() -> None:
    assert counterpart(counterpart(A1_J3)) == A1_J3


def test_the_wire_side_of_a_plug_reads_like_the_mating_side_of_its_receptacle() -> None:
    plug = counterpart(A1_J3)
    assert contacts_drawn(face_view(seen_from(plug, "wire"))) == contacts_drawn(face_view(A1_J3))


def test_wire_colours_carry_their_letter_code() -> None:
    words = words_in(face_view(A1_J3)).split()
    assert "RD" in words and "BK" in words


def test_two_colours_are_drawn_as_ground_and_stripe() -> None:
    face = replace(A1_J3, contacts=(Contact(name="1", colour="GNYE"), Contact(name="2", colour="WHGN")))
    paints = [e.get("fill") for e in root_of(face_view(face)).iter(f"{SVG}rect") if "#" in e.get("fill", "")]
    assert len(paints) == 4
    assert "GNYE" in words_in(face_view(face))


def test_an_unreadable_colour_is_written_as_typed_and_not_painted() -> None:
    face = replace(A1_J3, contacts=(Contact(name="1", colour="GR"), Contact(name="2", colour="BL")))
    drawing = face_view(face)
    assert not [e for e in root_of(drawing).iter() if "#" in e.get("fill", "")]
    assert "Not a standard colour code: BL, GR." in words_in(drawing)


def test_without_rows_the_drawing_says_that_the_arrangement_is_not_recorded() -> None:
    drawing = face_view(Face(name="S1-J1", half="plug", count=4))
    assert contacts_drawn(drawing) == ["1", "2", "3", "4"]
    assert "arrangement not recorded" in words_in(drawing)
    assert not [e for e in root_of(drawing).iter() if e.get("class") == "pointer-first"]
    assert {row[1] for row in drawing.table.rows} == {"not recorded"}


def test_a_contact_that_stands_in_no_row_makes_the_arrangement_unknown() -> None:
    face = replace(A1_J3, contacts=(*A1_J3.contacts, Contact(name="3")))
    drawing = face_view(face)
    assert contacts_drawn(drawing) == ["1", "2", "3"]
    assert "arrangement not recorded" in words_in(drawing)


def test_with_nothing_recorded_the_drawing_still_says_so() -> None:
    drawing = face_view(Face(name="S2-J1", half="plug"))
    words = words_in(drawing)
    for said in (
        "Contacts not recorded",
        "Keying not recorded",
        "Latch not recorded",
        "Wire colours not recorded",
    ):
        assert said in words


def test_not_keyed_warns_that_it_can_be_turned_round() -> None:
    assert "wrong way round" in words_in(face_view(replace(A1_J3, keyed=False)))


@pytest.mark.parametrize(
    ("arrangement", "rows"),
    [
        ("single row", single_row(6)),
        ("dual row", row_after_row(5)),
        ("dual row", column_by_column(5)),
        ("circular", (("1", "2", "3", "4", "5"), ("6",))),
        ("flat cable", single_row(10)),
        ("D-shape", d_shape(8, 7)),
        ("screw terminal", (("L", "N", "PE"),)),
        ("rows", (("1", "2"), ("3", "4"), ("5", "-"))),
    ],
)
@pytest.mark.parametrize("side", ["mating", "wire"])
def test_contacts_drawn_are_the_contacts_given(arrangement: str, rows: tuple[tuple[str, ...], ...], side: str) -> None:
    face = Face(name="A1-J9", half="plug", arrangement=arrangement, rows=rows, side=side)  # type: ignore[arg-type]
    drawing = face_view(face)
    given_names = sorted(name for row in rows for name in row if name != "-")
    assert sorted(contacts_drawn(drawing)) == given_names
    assert sorted(row[0] for row in drawing.table.rows) == given_names


def test_circular_contacts_go_clockwise_from_the_key_and_back_on_the_wire_side() -> None:
    face = Face(name="M1-J1", half="plug", arrangement="circular", rows=(("1", "2", "3", "4"),), keyed=True)
    mating = {place.name: (place.x, place.y) for place in places_of(face)}
    wire = {place.name: (place.x, place.y) for place in places_of(seen_from(face, "wire"))}
    middle = sum(x for x, _ in mating.values()) / 4
    assert mating["1"][0] > middle and mating["1"][1] < mating["2"][1]
    assert wire["1"][0] < middle
    for name, (x, y) in mating.items():
        assert wire[name] == pytest.approx((2 * middle - x, y))
    assert "Contact 1 (square with pointer): 4th clockwise from the key." in words_in(
        face_view(seen_from(face, "wire"))
    )


@pytest.mark.parametrize(
    ("contact_side", "shown"),
    [("up", "blade-up"), ("down", "blade-down"), (None, "blade-unknown"), ("on the board side", "blade-unknown")],
)
def test_a_flat_cable_shows_and_says_its_contact_side(contact_side: str | None, shown: str) -> None:
    face = Face(
        name="A1-J5",
        half="receptacle",
        arrangement="flat cable",
        rows=single_row(4),
        contact_side=contact_side,
    )
    for side in ("mating", "wire"):
        drawing = face_view(seen_from(face, side))  # type: ignore[arg-type]
        assert len([e for e in root_of(drawing).iter() if e.get("class") == shown]) == 4
        said = {"up": "face up", "down": "face down", None: "not recorded"}.get(contact_side, contact_side)
        assert f"Bare contacts of the flat cable: {said}." in words_in(drawing)


def test_a_mating_pair_shows_both_mating_sides_changed_over() -> None:
    drawing = mating_pair(counterpart(A1_J3), A1_J3)
    assert words_in(drawing).count("Mating side – latch up") == 2
    assert contacts_drawn(drawing) == ["2", "1", "1", "2"]
    assert "equal numbers meet" in words_in(drawing)
    assert [row[:2] for row in drawing.table.rows] == [
        ("plug", "2"),
        ("plug", "1"),
        ("receptacle", "1"),
        ("receptacle", "2"),
    ]


def test_a_pair_that_does_not_meet_says_so() -> None:
    assert "do not meet" in words_in(mating_pair(replace(A1_J3, half="plug"), A1_J3))


def test_a_pair_with_an_unknown_half_does_not_claim_to_meet() -> None:
    drawing = mating_pair(Face(name="A1-J3", half="plug", count=2), A1_J3)
    assert "cannot be said" in words_in(drawing)


def test_table_and_drawing_hold_the_same_facts() -> None:
    contacts = tuple(
        Contact(name=str(n), role=f"role {n}", colour=c, wire=f"W7:{n}", mark=m)
        for n, c, m in ((1, "RD", "A"), (2, "BK", "B"), (3, "GNYE", "C"))
    )
    drawing = face_view(replace(A1_J3, rows=single_row(3), contacts=contacts))
    lettered = words_in(drawing)
    for name, _, role, colour, wire, mark in drawing.table.rows:
        assert name in contacts_drawn(drawing)
        for fact in (role, colour.split()[0], wire, f"mark {mark}"):
            assert fact in lettered


def test_author_text_stays_text() -> None:
    nasty = "<script>alert(1)</script>\"'&\x00"
    face = Face(
        name=nasty,
        half="plug",
        rows=((nasty,),),
        contacts=(Contact(name=nasty, role=nasty, colour=nasty, wire=nasty, mark=nasty),),
        latch=nasty,
        label=f"{nasty} circle",
    )
    for drawing in (face_view(face), mating_pair(face, face)):
        root = root_of(drawing)
        assert not [e for e in root.iter() if e.tag == f"{SVG}script"]
        assert nasty.replace("\x00", "\ufffd") in "".join(root.itertext())


def test_a_drawing_carries_title_description_role_and_no_style() -> None:
    for drawing in (face_view(A1_J3), mating_pair(counterpart(A1_J3), A1_J3)):
        root = root_of(drawing)
        assert root.get("role") == "img"
        assert root[0].tag == f"{SVG}title" and root[0].text == drawing.title
        assert root[1].tag == f"{SVG}desc" and root[1].text == drawing.description
        for element in root.iter():
            assert "style" not in element.attrib and "id" not in element.attrib
            assert element.tag != f"{SVG}style"


@pytest.mark.parametrize(
    ("rows", "family", "kind", "drawn"),
    [
        (single_row(3), "wire-to-board 2.5 mm", "", "single row"),
        (row_after_row(3), "wire-to-board 2.5 mm", "", "dual row"),
        (d_shape(5, 4), "D-sub 9", "", "D-shape"),
        (single_row(3), "circular M12", "", "circular"),
        (single_row(3), "Screw terminal", "", "screw terminal"),
        (single_row(3), "", "flat", "flat cable"),
    ],
)
def test_the_arrangement_follows_from_family_rows_and_cable(
    rows: tuple[tuple[str, ...], ...], family: str, kind: str, drawn: str
) -> None:
    assert arrangement_of(rows, family, kind) == drawn


@pytest.mark.parametrize(
    ("family", "side"),
    [
        ("flat 1.0 mm, contacts up", "up"),
        ("flat 1.25 mm, contacts on the board side", "on the board side"),
        ("flat 1.0 mm", None),
    ],
)
def test_the_contact_side_is_read_from_the_family(family: str, side: str | None) -> None:
    assert arrangement_of((), family) == "flat cable"
    assert contact_side_of(family) == side


_NAMES = st.text(st.characters(exclude_characters="-"), min_size=1, max_size=4)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(_NAMES, min_size=1, max_size=12, unique=True),
    st.integers(1, 4),
    st.sampled_from(["mating", "wire"]),
)
def test_any_rows_draw_each_contact_once_inside_the_picture(names: list[str], columns: int, side: str) -> None:
    rows = tuple(tuple(names[n : n + columns]) for n in range(0, len(names), columns))
    face = Face(name="A1-J1", half="plug", rows=rows, arrangement="rows", side=side)  # type: ignore[arg-type]
    assert sorted(p.name for p in places_of(face) if not p.empty) == sorted(names)
    ET.fromstring(face_view(face).svg)
