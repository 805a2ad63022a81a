"""Published pin assignments, recorded as an author would and traced: TIA-568, ATX, USB 2.0."""

from __future__ import annotations

from tests.wiring.machines import wired

from benchleaf.wiring.difference import connections, difference
from benchleaf.wiring.trace import BY_COPPER, trace
from benchleaf.wiring.wire_list import wire_list
from benchleaf.wiring.wiring import Wiring

# ANSI/TIA-568: contact to (pair, conductor, colour) of the two assignments.
T568A = {
    "1": ("3", "+", "GNWH"), "2": ("3", "-", "GN"), "3": ("2", "+", "OGWH"), "4": ("1", "-", "BU"),
    "5": ("1", "+", "BUWH"), "6": ("2", "-", "OG"), "7": ("4", "+", "BNWH"), "8": ("4", "-", "BN"),
}  # fmt: skip
T568B = {
    "1": ("2", "+", "OGWH"), "2": ("2", "-", "OG"), "3": ("3", "+", "GNWH"), "4": ("1", "-", "BU"),
    "5": ("1", "+", "BUWH"), "6": ("3", "-", "GN"), "7": ("4", "+", "BNWH"), "8": ("4", "-", "BN"),
}  # fmt: skip
# ANSI/TIA-568: a cable with A at one end and B at the other crosses these and nothing else.
CROSSED = {"1": "3", "2": "6", "3": "1", "4": "4", "5": "5", "6": "2", "7": "7", "8": "8"}

# ATX12V power supply design guide: 24-contact main power connector. COM is 0 V.
ATX_24 = {
    1: "3.3 V DC", 2: "3.3 V DC", 3: "0 V", 4: "5 V DC", 5: "0 V", 6: "5 V DC", 7: "0 V", 8: "PWR_OK", 9: "5 V DC SB",
    10: "12 V DC", 11: "12 V DC", 12: "3.3 V DC", 13: "3.3 V DC", 14: "-12 V DC", 15: "0 V", 16: "PS_ON", 17: "0 V",
    18: "0 V", 19: "0 V", 20: "-", 21: "5 V DC", 22: "5 V DC", 23: "5 V DC", 24: "0 V",
}  # fmt: skip
# The same guide: contacts 1 to 10 of the 20-contact connector are those of the larger, 11 to 20 are its 13 to 22.
ATX_20 = {
    1: "3.3 V DC", 2: "3.3 V DC", 3: "0 V", 4: "5 V DC", 5: "0 V", 6: "5 V DC", 7: "0 V", 8: "PWR_OK", 9: "5 V DC SB",
    10: "12 V DC", 11: "3.3 V DC", 12: "-12 V DC", 13: "0 V", 14: "PS_ON", 15: "0 V", 16: "0 V", 17: "0 V", 18: "-",
    19: "5 V DC", 20: "5 V DC",
}  # fmt: skip

# USB 2.0 specification: contacts and wire colours of the A plug, contacts of the micro plugs, cable A to micro-B.
USB_A = {"1": "VBUS", "2": "D-", "3": "D+", "4": "GND"}
USB_MICRO_B = {"1": "VBUS", "2": "D-", "3": "D+", "4": "ID", "5": "GND"}
USB_COLOURS = {"VBUS": "red", "D-": "white", "D+": "green", "GND": "black"}
USB_A_TO_MICRO_B = {"1": "1", "2": "2", "3": "3", "4": "5"}


def machine(*items: str) -> str:
    return "items: {" + ", ".join(f"{item}: Item {item}" for item in items) + "}\n"


def leads_to(wiring: Wiring, contact: str, owner: str) -> list[str]:
    """The contacts of ``owner`` that copper alone leads to."""
    found = trace(wiring, contact)
    assert found is not None
    return [
        one.contact.partition(".")[2]
        for one in found.reached
        if one.sort == BY_COPPER and one.contact.startswith(f"{owner}.")
    ]


def pairs_between(one: dict[str, tuple[str, str, str]], other: dict[str, tuple[str, str, str]]) -> str:
    """The map of a cable made up with one assignment at one end and another at the other: conductor to conductor."""
    by_conductor = {wire[:2]: contact for contact, wire in other.items()}
    return ", ".join(f"[{contact}, {by_conductor[wire[:2]]}]" for contact, wire in one.items())


def patch_cables(*maps: str) -> Wiring:
    """Cables in a row between boards A1, A2, …, joined straight through on each board."""
    boards = [f"A{n}" for n in range(1, len(maps) + 2)]
    lines = ["connectors:"]
    for board in boards:
        lines += [f"  {board}-J1: {{contacts: 8, cable: none}}", f"  {board}-J2: {{contacts: 8, cable: none}}"]
    lines.append("cables:")
    for n, wires in enumerate(maps, start=1):
        lines.append(f"  W{n}: {{ends: [A{n}-J2, A{n + 1}-J1], wires: {{map: {wires}}}}}")
    lines.append("joins:")
    lines += [f"  {board}: [{', '.join(f'[J1.{c}, J2.{c}]' for c in range(1, 9))}]" for board in boards]
    return wired(machine(*boards), "\n".join(lines) + "\n")


def test_a_tia_568_cable_with_a_at_one_end_and_b_at_the_other_is_a_crossover() -> None:
    wiring = patch_cables(f"[{pairs_between(T568A, T568B)}]")
    for contact, other in CROSSED.items():
        assert leads_to(wiring, f"A1-J2.{contact}", "A2-J1") == [other]


def test_two_crossovers_in_a_row_are_straight() -> None:
    crossed = f"[{pairs_between(T568A, T568B)}]"
    wiring = patch_cables(crossed, crossed)
    for contact in CROSSED:
        assert leads_to(wiring, f"A1-J2.{contact}", "A3-J1") == [contact]


def test_two_crossovers_reach_what_two_straight_cables_reach() -> None:
    crossed = f"[{pairs_between(T568A, T568B)}]"
    for contact in CROSSED:
        ends = [
            leads_to(patch_cables(*maps), f"A1-J2.{contact}", "A3-J1") for maps in ((crossed,) * 2, ("straight",) * 2)
        ]
        assert ends[0] == ends[1]


def test_the_same_assignment_at_both_ends_is_straight() -> None:
    for assignment in (T568A, T568B):
        wiring = patch_cables(f"[{pairs_between(assignment, assignment)}]")
        for contact in assignment:
            assert leads_to(wiring, f"A1-J2.{contact}", "A2-J1") == [contact]


def test_from_straight_to_crossover_four_wires_are_re_routed_and_none_is_added() -> None:
    straight, crossed = (
        patch_cables(f"[{pairs_between(T568A, T568A)}]"),
        patch_cables(f"[{pairs_between(T568A, T568B)}]"),
    )
    changed = difference(straight, crossed)
    assert [(old.a[-1], old.b[-1], new.b[-1]) for old, new in changed.rerouted] == [
        ("1", "1", "3"), ("2", "2", "6"), ("3", "3", "1"), ("6", "6", "2"),
    ]  # fmt: skip
    assert not changed.added
    assert not changed.removed
    assert changed.applied_to(connections(straight)) == connections(crossed)


def roles(table: dict[int, str]) -> str:
    return "{" + ", ".join(f"{n}: {'unknown' if role[0] not in '-0123456789' or 'SB' in role else repr(role)}"
                           for n, role in table.items()) + "}"  # fmt: skip


def test_a_20_contact_atx_plug_in_a_24_contact_board_carries_the_same() -> None:
    """The smaller plug of the supply sits in contacts 1 to 10 and 13 to 22 of the larger receptacle."""
    place = {n: n if n <= 10 else n + 2 for n in ATX_20}
    assert {place[n]: role for n, role in ATX_20.items()} == {
        n: role for n, role in ATX_24.items() if n not in (11, 12, 23, 24)
    }
    pairs = ", ".join(f"[PS1-J1.{n}, A1-J1.{place[n]}]" for n in ATX_20 if ATX_20[n] != "-")
    wiring = wired(
        machine("PS1", "A1"),
        f"connectors:\n  PS1-J1: {{contacts: {roles(ATX_20)}}}\n  A1-J1: {{contacts: {roles(ATX_24)}}}\n"
        f"cables:\n  W1: {{ends: [PS1-J1, A1-J1], wires: {{map: [{pairs}]}}}}\n",
    )
    for n, role in ATX_20.items():
        reached = leads_to(wiring, f"PS1-J1.{n}", "A1-J1")
        assert [ATX_24[int(one)] for one in reached] == ([] if role == "-" else [role])


def test_a_usb_cable_from_a_to_micro_b_leads_each_line_to_its_own() -> None:
    pairs = ", ".join(f"[{a}, {b}]" for a, b in USB_A_TO_MICRO_B.items())
    colours = ", ".join(
        {"red": "RD", "white": "WH", "green": "GN", "black": "BK"}[USB_COLOURS[USB_A[a]]] for a in USB_A
    )
    wiring = wired(
        machine("XP1", "A1"),
        'connectors:\n  A1-J1: {contacts: {1: "", 2: "", 3: "", 4: "-", 5: ""}}\n'
        f"cables:\n  W1: {{ends: [XP1, A1-J1], wires: {{map: [{pairs}], colours: [{colours}]}}}}\n",
    )
    for contact, line in USB_A.items():
        (other,) = leads_to(wiring, f"XP1.{contact}", "A1-J1")
        assert USB_MICRO_B[other] == line
    assert [row.colour.words for row in wire_list(wiring) if row.colour] == [USB_COLOURS[USB_A[c]] for c in USB_A]
    empty = trace(wiring, "A1-J1.4")
    assert empty is not None  # the ID contact of a micro-B plug of this cable goes nowhere
    assert empty.reached == ()
