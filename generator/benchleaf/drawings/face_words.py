"""What is said in words about a face: the side seen, contact 1, keying, halves, and everything not
recorded.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.drawings.colours import read_colours
from benchleaf.drawings.drawing import NOT_RECORDED, Table, cell
from benchleaf.drawings.face_layout import Place
from benchleaf.drawings.face_values import NO_LATCH, Face

_SIDES = {"mating": "Mating side", "wire": "Wire side"}


def heading(face: Face) -> str:
    """``A1-J3 · receptacle``; with the cable it ends where one is known."""
    ends = f" · {face.cable}" if face.cable else ""
    return f"{face.name} · {face.half}{ends}"


def up_words(face: Face) -> str:
    """What is up in the drawing: the latch, or what stands for it."""
    if not face.placed:
        return f"arrangement {NOT_RECORDED}"
    if face.is_round and face.keyed:
        return "key up"  # what locks a round connector is a ring, which has no top
    if face.latch and face.latch != NO_LATCH:
        return "latch up"
    rows = face.mating_rows()
    if face.arrangement == "D-shape" and len(rows[0]) > len(rows[-1]):
        return "longer row up"
    return "top as recorded" if face.latch == NO_LATCH else "latch up"


def side_words(face: Face) -> str:
    """``Mating side – latch up``: always names the side that is seen."""
    return f"{_SIDES[face.side]} – {up_words(face)}"


def first_words(face: Face, places: Iterable[Place]) -> str:
    """Where contact 1 lies, or why that cannot be said."""
    first = face.first_contact()
    if not any(not place.empty for place in places):
        return f"Contacts {NOT_RECORDED}."
    if not face.placed:
        return (
            f"Arrangement {NOT_RECORDED}: the contacts are drawn in the order of their names only. "
            "Look for contact 1 on the connector itself."
        )
    if not first:
        return "No contact is numbered 1: go by the names."
    where = next(place.where for place in places if place.name == first)
    return f"Contact {first} (square with pointer): {where}."


def footer(face: Face, places: tuple[Place, ...], coloured: bool) -> list[str]:
    """The sentences under a face, most useful first."""
    said = [first_words(face, places)]
    said.append(_keyed(face))
    said.append(_pins(face))
    if face.latch is None:
        said.append(f"Latch {NOT_RECORDED}.")
    elif face.latch not in (NO_LATCH, "yes", ""):
        said.append(f"Latch: {face.latch}.")
    if face.arrangement == "flat cable":
        side = face.contact_side or NOT_RECORDED
        side = f"face {side}" if side in ("up", "down") else side
        said.append(f"Bare contacts of the flat cable: {side}.")
    if not coloured:
        said.append(f"Wire colours {NOT_RECORDED}.")
    elif any(not place.empty and not face.contact(place.name).colour for place in places):
        said.append(f"Dashed: wire colour {NOT_RECORDED}.")
    readings = [one for c in face.contacts if c.colour for one in read_colours(c.colour)]
    unread = sorted({one.written for one in readings if not one.understood})
    if unread:
        said.append(f"Not a standard colour code: {', '.join(unread)}. Look at the wire itself.")
    if any(not place.edge and face.contact(place.name).role for place in places):
        said.append("Inner rows: see the table.")
    return said


def _keyed(face: Face) -> str:
    if face.keyed is None:
        return f"Keying {NOT_RECORDED}: counts as not keyed."
    if isinstance(face.keyed, str):
        return f"Keyed, coding {face.keyed}."
    return "Keyed." if face.keyed else "Not keyed: it can be plugged the wrong way round."


def _pins(face: Face) -> str:
    if face.has_pins is None:
        return f"Pins or sockets in this half: {NOT_RECORDED}."
    return f"This {face.half} has " + ("pins (thick rings)." if face.has_pins else "sockets (double rings).")


def describe(face: Face, places: tuple[Place, ...]) -> str:
    """The face in one paragraph, for a reader who does not see it."""
    drawn = [place for place in places if not place.empty]
    coloured = any(contact.colour for contact in face.contacts)
    order = ", ".join(place.name for place in drawn)
    contents = f"{len(drawn)} contacts, {face.arrangement}, in the order drawn: {order}." if drawn else ""
    return " ".join(part for part in (f"{side_words(face)}.", contents, *footer(face, places, coloured)) if part)


def tabulate(face: Face, places: tuple[Place, ...], also: tuple[Face, ...] = ()) -> Table:
    """One row a contact, in the order drawn; columns for wire and mark only where one is recorded.

    ``also``: faces whose tables this one is to line up with.
    """
    contacts = [contact for one in (face, *also) for contact in one.contacts]
    wired = any(contact.wire for contact in contacts)
    marked = any(contact.mark for contact in contacts)
    rows = []
    for place in places:
        if place.empty:
            continue
        contact = face.contact(place.name)
        where = place.where if face.placed else NOT_RECORDED
        row = [place.name, where, cell(contact.role), colour_words(contact.colour)]
        row += [cell(contact.wire)] if wired else []
        row += [cell(contact.mark)] if marked else []
        rows.append(tuple(row))
    headers = ["Contact", "Place", "Role", "Wire colour"]
    headers += ["Wire"] * wired + ["Mark"] * marked
    caption = f"{heading(face)}: {side_words(face)}"
    return Table(caption=caption, headers=tuple(headers), rows=tuple(rows))


def colour_words(written: str) -> str:
    """``RD red``; ``BN+BU brown, blue`` for two wires; ``not recorded`` for none; a code nobody can read is said to be
    one.
    """
    if not written:
        return NOT_RECORDED
    readings = read_colours(written)
    words = ", ".join(reading.words for reading in readings)
    return f"{written} {words}" if all(reading.understood for reading in readings) else words
