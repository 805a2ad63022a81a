"""Circuits drawn by hand, with answers worked out by hand before any program was asked.

Each stands for one way in which people have been hurt. ``live`` and ``dead`` are what must come out in the state said,
``sure`` the live contacts that must be told as live directly, ``through`` those that are live only through a load. The
sentence says why. Nothing here is computed.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Circuit:
    name: str
    why: str
    machine: str
    wiring: str
    isolated: tuple[str, ...] = ()
    open_ends: tuple[tuple[str, str], ...] = ()
    proved: tuple[str, ...] = ()
    live: str = ""
    dead: str = ""
    sure: str = ""
    through: str = ""
    not_recorded: str = ""


_PLUG_SWITCH_LAMP = """
items: {XP1: Plug, Q1: Main switch, E1: Lamp}
energy:
  mains: {kind: electrical, isolate: [open Q1, unplug XP1], stored: none}
"""

#   XP1.L ──────────────────────── E1.1
#   XP1.N ── Q1.3 ─/ ─ Q1.4 ────── E1.2
_NEUTRAL_ONLY = """
cables:
  W1: {ends: [XP1, E1, Q1], wires: {map: [[XP1.L, E1.1], [XP1.N, Q1.3]]}}
  W2: {ends: [Q1, E1], wires: {map: [[Q1.4, E1.2]]}}
joins:
  XP1: none
  Q1: [{kind: switch, between: [3, 4], rest: open}]
  E1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC, plug: polarised}
"""

#   the same with a switch in the line only, and a plug that goes in either way round
_LINE_ONLY = """
cables:
  W1: {ends: [XP1, E1, Q1], wires: {map: [[XP1.N, E1.2], [XP1.L, Q1.1]]}}
  W2: {ends: [Q1, E1], wires: {map: [[Q1.2, E1.1]]}}
joins:
  XP1: none
  Q1: [{kind: switch, between: [1, 2], rest: open}]
  E1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC%s}
"""

_TWO_POLES = """
cables:
  W1: {ends: [XP1, Q1], wires: {map: [[XP1.L, Q1.1], [XP1.N, Q1.3]]}}
  W2: {ends: [Q1, E1], wires: {map: [[Q1.2, E1.1], [Q1.4, E1.2]]}}
joins:
  XP1: none
  Q1: [{kind: switch, between: [1, 2]}, {kind: switch, between: [3, 4]}]
  E1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
"""

_BOARD = """
items: {XP1: Plug, A1: Board, M1: Motor}
energy:
  mains: {kind: electrical, isolate: [unplug XP1], stored: none}
"""

#   XP1 ══ W1 ══ A1-J1 … A1-J2 ══ W2 ══ M1
_LOOSE_PLUG = """
connectors:
  A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J2: {contacts: {1: 24 V DC, 2: 0 V}}
cables:
  W1: {ends: [XP1, A1-J1], wires: {map: [["+", 1], ["-", 2]]}}
  W2: {ends: [A1-J2, M1], wires: {map: straight}}
joins:
  XP1: none
  A1: [[J1.1, J2.1], [J1.2, J2.2]]
  M1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.+], return: [XP1.-], earth: none, nominal: 24 V DC, plug: polarised}
"""

_SUPPLY = """
items: {XP1: Plug, XP2: Second plug, PS1: Power supply, A1: Board}
energy:
  mains-a: {kind: electrical, isolate: [unplug XP1], stored: none}
  mains-b: {kind: electrical, isolate: [unplug XP2], stored: none}
"""

#   XP1 ── PS1-J1 ┐
#                 ├ PS1 ── PS1-J3 ══ A1-J1
#   XP2 ── PS1-J2 ┘
_TWO_PLUGS = """
connectors:
  PS1-J1: {contacts: {L: 230 V AC, "N": 230 V AC}}
  PS1-J2: {contacts: {L: 230 V AC, "N": 230 V AC}}
  PS1-J3: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}
cables:
  W1: {ends: [XP1, PS1-J1], wires: {map: straight}}
  W2: {ends: [XP2, PS1-J2], wires: {map: straight}}
  W3: {ends: [PS1-J3, A1-J1], wires: {map: straight}}
joins:
  XP1: none
  XP2: none
  PS1: [{kind: load, between: [J1.L, J1.N]}, {kind: load, between: [J2.L, J2.N]}, {kind: load, between: [J3.1, J3.2]}]
  A1: [{kind: load, between: [J1.1, J1.2]}]
sources:
  mains-a: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
  mains-b: {at: [XP2.L], return: [XP2.N], earth: none, nominal: 230 V AC}
  supply: {from: [mains-a, mains-b], at: [PS1-J3.1], return: [PS1-J3.2], nominal: 24 V DC, one-way: yes%s}
"""

#   XP1 ── PS1 ─24 V─ A1 (regulator 24 → 5 V) ─5 V─ A1-J2 ══ W4 ══ XP2, a USB plug at a computer
_USB = """
connectors:
  PS1-J1: {contacts: {L: 230 V AC, "N": 230 V AC}}
  PS1-J2: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J2: {contacts: {1: 5 V DC, 2: in/out, 3: in/out, 4: 0 V}}
cables:
  W1: {ends: [XP1, PS1-J1], wires: {map: straight}}
  W3: {ends: [PS1-J2, A1-J1], wires: {map: straight}}
  W4: {ends: [XP2, A1-J2], wires: {map: straight}}
joins:
  XP1: none
  XP2: none
  PS1: [{kind: load, between: [J1.L, J1.N]}, {kind: load, between: [J2.1, J2.2]}]
  A1: [[J1.2, J2.4], {kind: driver, between: [J2.1, J2.2, J2.3]}, {kind: load, between: [J1.1, J1.2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
  usb: {at: [XP2.1], return: [XP2.4], earth: none, nominal: 5 V DC, plug: polarised}
  supply: {from: mains, at: [PS1-J2.1], return: [PS1-J2.2], nominal: 24 V DC%s}
  logic: {from: supply, at: [A1-J2.1], return: [A1-J2.4], nominal: 5 V DC%s}
"""
_USB_MACHINE = """
items: {XP1: Plug, XP2: USB plug at the computer, PS1: Power supply, A1: Board}
energy:
  mains: {kind: electrical, isolate: [unplug XP1], stored: none}
  usb: {kind: electrical, isolate: [unplug XP2], stored: none}
"""

#   XP1.L ── Q1 ── T1.1 )||( T1.3 ── A1 ── a 24 V bench supply at XP2
_TRANSFORMER = """
cables:
  W1: {ends: [XP1, Q1], wires: {map: [[XP1.L, Q1.1], [XP1.N, Q1.3]]}}
  W2: {ends: [Q1, T1], wires: {map: [[Q1.2, T1.1], [Q1.4, T1.2]]}}
  W3: {ends: [T1, XP2], wires: {map: [[T1.3, XP2.1], [T1.4, XP2.2]]}}
joins:
  XP1: none
  XP2: none
  Q1: [{kind: switch, between: [1, 2]}, {kind: switch, between: [3, 4]}]
  T1: [{kind: load, between: [1, 2]}, {kind: load, between: [3, 4]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
  bench: {at: [XP2.1], return: [XP2.2], earth: none, nominal: 24 V AC}
  secondary: {from: mains, at: [T1.3], return: [T1.4], nominal: 24 V AC%s}
"""
_TRANSFORMER_MACHINE = """
items: {XP1: Plug, XP2: Clips of the bench supply, Q1: Main switch, T1: Transformer}
energy:
  mains: {kind: electrical, isolate: [open Q1], stored: none}
  bench: {kind: electrical, isolate: [unplug XP2], stored: none}
"""

#   XP1.L ── K1.1 ─┤/├─ K1.2 ── E1.1     the relay rests closed; its coil is on the same plug
_NC_RELAY = """
cables:
  W1: {ends: [XP1, K1, E1], wires: {map: [[XP1.L, K1.1], [XP1.L, K1.A1], [XP1.N, K1.A2], [XP1.N, E1.2]]}}
  W2: {ends: [K1, E1], wires: {map: [[K1.2, E1.1]]}}
joins:
  XP1: none
  K1: [{kind: relay, between: [1, 2], coil: [A1, A2], rest: %s}]
  E1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC, plug: polarised}
"""
_RELAY_MACHINE = """
items: {XP1: Plug, K1: Contactor, E1: Heater}
energy:
  mains: {kind: electrical, isolate: [open K1, unplug XP1], stored: none}
"""

#   XP1.L ── F1 ── E1.1
_FUSE = """
cables:
  W1: {ends: [XP1, F1, E1], wires: {map: [[XP1.L, F1.1], [F1.2, E1.1], [XP1.N, E1.2]]}}
joins:
  XP1: none
  F1: [{kind: fuse, between: [1, 2], rating: 2 A}]
  E1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC, plug: polarised}
"""
_FUSE_MACHINE = """
items: {XP1: Plug, F1: Fuse (blown), E1: Lamp}
energy:
  mains: {kind: electrical, isolate: [open F1, unplug XP1], stored: none}
"""

#   charge at PS1.+ / PS1.-; between it and the resistor PS1.R1 / PS1.R2 lies a fuse
_STORED_MACHINE = """
items: {XP1: Plug, PS1: Power supply}
energy:
  mains:
    kind: electrical
    isolate: [unplug XP1]
    stored: %s
"""
_STORED = """
connectors:
  PS1-J1: {contacts: {L: 230 V AC, "N": 230 V AC}}
cables:
  W1: {ends: [XP1, PS1-J1], wires: {map: straight}}
joins:
  XP1: none
  PS1:
    - {kind: load, between: [J1.L, +]}
    - {kind: load, between: [J1.N, "-"]}
    - {kind: fuse, between: [+, R1]}
    - ["-", R2]
    - {kind: load, between: [R1, R2], resistance: 100 kohm}
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
"""
_CAPACITOR = (
    "[{in: PS1, between: [PS1.+, PS1.-], capacitance: 100 uF ± 20 %, voltage: 325 V DC, "
    "bleed: {resistance: 100 kohm ± 5 %, between: [PS1.R1, PS1.R2]}}]"
)

#   XP1.L ── A1-J1.L ─[filter]─ A1-J1.PE ── W1 ── XP1.PE;  the frame hangs on A1-J1.PE by W2, landed with a screw
_EARTH = """
connectors:
  A1-J1: {contacts: {L: 230 V AC, "N": 230 V AC, PE: PE}}
cables:
  W1: {ends: [XP1, A1-J1], wires: {map: straight}}
  W2: {ends: [A1, frame], joint: screw, wires: {map: [[PE, PE]]}}
joins:
  XP1: none
  A1: [{kind: load, between: [J1.L, J1.PE]}, {kind: load, between: [J1.N, J1.PE]}, [J1.PE, PE]]
sources:
  mains: {at: [XP1.L], return: [XP1.N]%s, nominal: 230 V AC}
"""
_EARTH_MACHINE = """
items: {frame: Frame, XP1: Plug, A1: Filter}
energy:
  mains: {kind: electrical, isolate: [unplug XP1], stored: none}
"""

_EMPTY_MACHINE = """
items: {XP1: Plug, A1: Board, A2: Other board}
energy:
  mains: {kind: electrical, isolate: [unplug XP1], stored: none}
"""
_NO_WIRES = """
connectors:
  A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J2: {contacts: {1: out, 2: 0 V}}
  A2-J1: {contacts: {1: in, 2: 0 V}}
cables:
  W1: {ends: [XP1, A1-J1], wires: {map: [["+", 1], ["-", 2]]}}
  W2: {ends: [A1-J2, A2-J1]}
joins:
  XP1: none
  A2: [{kind: load, between: [J1.1, J1.2]}]
sources:
  mains: {at: [XP1.+], return: [XP1.-], earth: none, nominal: 24 V DC, plug: polarised}
"""

CIRCUITS = (
    Circuit(
        name="neutral-only switch, open",
        why="Q1 breaks the neutral alone, so the line reaches the lamp, and through the lamp the open switch.",
        machine=_PLUG_SWITCH_LAMP, wiring=_NEUTRAL_ONLY, isolated=("Q1",),
        live="XP1.L E1.1 E1.2 Q1.4", sure="XP1.L E1.1", through="E1.2 Q1.4", dead="XP1.N Q1.3",
    ),
    Circuit(
        name="neutral-only switch, closed",
        why="Nothing is open: the neutral is live through the lamp right back to the plug.",
        machine=_PLUG_SWITCH_LAMP, wiring=_NEUTRAL_ONLY,
        live="XP1.L E1.1 E1.2 Q1.4 Q1.3 XP1.N", through="E1.2 Q1.4 Q1.3 XP1.N",
    ),
    Circuit(
        name="neutral-only switch and the plug pulled",
        why="With the plug out nothing feeds the lamp any more, and no charge stays.",
        machine=_PLUG_SWITCH_LAMP, wiring=_NEUTRAL_ONLY, isolated=("Q1", "XP1"),
        dead="XP1.L XP1.N E1.1 E1.2 Q1.3 Q1.4",
    ),
    Circuit(
        name="line-only switch, plug recorded as polarised",
        why="The line ends at the open switch; the neutral of a polarised plug is no source.",
        machine=_PLUG_SWITCH_LAMP, wiring=_LINE_ONLY % ", plug: polarised", isolated=("Q1",),
        live="XP1.L Q1.1", dead="Q1.2 E1.1 E1.2 XP1.N",
    ),
    Circuit(
        name="line-only switch, reversible plug",
        why="Turned round in the socket the plug's other pin is the line, which no switch breaks.",
        machine=_PLUG_SWITCH_LAMP, wiring=_LINE_ONLY % ", plug: reversible", isolated=("Q1",),
        live="XP1.L XP1.N Q1.1 E1.2 E1.1 Q1.2", sure="XP1.N E1.2", through="E1.1 Q1.2",
    ),
    Circuit(
        name="line-only switch, nobody recorded the plug",
        why="A plug of which nobody recorded the polarity counts as reversible.",
        machine=_PLUG_SWITCH_LAMP, wiring=_LINE_ONLY % "", isolated=("Q1",),
        live="XP1.L XP1.N Q1.1 E1.2 E1.1 Q1.2", sure="XP1.N E1.2",
    ),
    Circuit(
        name="two-pole switch, open",
        why="Both poles are open: the plug side stays live, the lamp side does not.",
        machine=_PLUG_SWITCH_LAMP, wiring=_TWO_POLES, isolated=("Q1",),
        live="XP1.L XP1.N Q1.1 Q1.3", sure="Q1.1 Q1.3", dead="Q1.2 Q1.4 E1.1 E1.2",
    ),
    Circuit(
        name="only one pole of the switch is recorded as isolating",
        why="A device opens its own named poles and nothing else: the other pole feeds the lamp, either way round.",
        machine=_PLUG_SWITCH_LAMP.replace("open Q1", "open Q1.1+2"), wiring=_TWO_POLES, isolated=("Q1",),
        live="Q1.1 Q1.3 Q1.4 E1.2 E1.1 Q1.2", sure="Q1.4 E1.2", through="E1.1 Q1.2",
    ),
    Circuit(
        name="a switch that no energy names as isolating device",
        why="Somebody switched it off, but nobody recorded that it isolates: it counts as conducting.",
        machine=_PLUG_SWITCH_LAMP.replace("open Q1, ", ""), wiring=_TWO_POLES, isolated=("Q1",),
        live="Q1.2 Q1.4 E1.1 E1.2", sure="E1.1 E1.2",
    ),
    Circuit(
        name="loose live plug",
        why="The plug in the hand keeps its voltage; the board it left has none.",
        machine=_BOARD, wiring=_LOOSE_PLUG, open_ends=(("W1", "A1-J1"),),
        live="W1@A1-J1.1 XP1.+", sure="W1@A1-J1.1", dead="W1@A1-J1.2 A1-J1.1#fixed A1-J2.1 M1.1 M1.2",
    ),
    Circuit(
        name="plug pulled behind the board",
        why="The board stays live, its receptacle too; the motor and the plug on its cable do not.",
        machine=_BOARD, wiring=_LOOSE_PLUG, open_ends=(("W2", "A1-J2"),),
        live="A1-J1.1 A1-J2.1#fixed", dead="W2@A1-J2.1 W2@A1-J2.2 M1.1 M1.2 A1-J2.2#fixed",
    ),
    Circuit(
        name="one lead lifted at the motor",
        why="The lifted lead is live in the air; the motor is fed by nothing but the other lead, which is the return.",
        machine=_BOARD, wiring=_LOOSE_PLUG, open_ends=(("W2", "M1.1"),),
        live="W2@M1.1 A1-J2.1", sure="W2@M1.1", dead="M1.1#fixed M1.2 A1-J2.2",
    ),
    Circuit(
        name="parked plug of a cable that is fed at its other end",
        why="Somebody left the plug of the motor hanging: its contact is live like any other end of the wire.",
        machine=_BOARD,
        wiring=_LOOSE_PLUG.replace("W2: {ends: [A1-J2, M1]", "W2: {ends: [A1-J2, parked]"),
        live="A1-J2.1 W2@parked.1", sure="W2@parked.1", dead="W2@parked.2 W2@A1-J2.2",
    ),
    Circuit(
        name="motor turned by hand with the plug pulled",
        why="A belt pushed by hand turns the motor, and the motor feeds the board backward through its driver.",
        machine=f"{_BOARD}  turning: {{kind: electrical, isolate: none, stored: none}}\n",
        wiring=_LOOSE_PLUG.replace("[J1.1, J2.1]", "{kind: driver, between: [J1.1, J2.1]}")
        + "  turning: {at: [M1.1], return: [M1.2], earth: none, nominal: 40 V DC}\n",
        isolated=("XP1",),
        live="M1.1 M1.2 A1-J2.1 A1-J1.1 XP1.+", sure="M1.1 M1.2 A1-J2.1", through="A1-J1.1 XP1.+",
    ),
    Circuit(
        name="one supply with two plugs, one pulled",
        why="Either plug feeds the supply: with one in, the board is live.",
        machine=_SUPPLY, wiring=_TWO_PLUGS % "", isolated=("XP1",),
        live="XP2.L XP2.N PS1-J2.L PS1-J3.1 A1-J1.1 A1-J1.2", sure="PS1-J3.1 A1-J1.1", dead="XP1.L PS1-J1.L",
    ),
    Circuit(
        name="one supply with two plugs, both pulled",
        why="Nothing feeds the supply any more.",
        machine=_SUPPLY, wiring=_TWO_PLUGS % "", isolated=("XP1", "XP2"),
        dead="XP1.L XP2.L PS1-J1.L PS1-J2.L PS1-J3.1 A1-J1.1 A1-J1.2",
    ),
    Circuit(
        name="a supply that needs both inputs, one pulled",
        why="Recorded as needing all its inputs, and they have nothing in common: it is dead with one pulled.",
        machine=_SUPPLY, wiring=_TWO_PLUGS % ", needs: all", isolated=("XP1",),
        live="XP2.L PS1-J2.L", dead="PS1-J3.1 A1-J1.1 A1-J1.2 PS1-J1.L",
    ),
    Circuit(
        name="a supply that needs both inputs, both in",
        why="Both inputs live, so it lives.",
        machine=_SUPPLY, wiring=_TWO_PLUGS % ", needs: all",
        live="PS1-J3.1 A1-J1.1 A1-J1.2",
    ),
    Circuit(
        name="USB back-feed, mains pulled",
        why="The computer feeds 5 V into the board; backward through the regulator its 24 V rail comes up, and "
        "backward through the supply even the mains pins, for nobody recorded that they conduct one way only.",
        machine=_USB_MACHINE, wiring=_USB % ("", ""), isolated=("XP1",),
        live="XP2.1 A1-J2.1 A1-J1.1 PS1-J2.1 PS1-J1.L XP1.L", sure="XP2.1 A1-J2.1", through="A1-J1.1 PS1-J2.1 XP1.L",
    ),
    Circuit(
        name="USB back-feed, mains pulled, supply recorded as one-way",
        why="The 24 V rail still comes up through the regulator; the supply lets nothing back to the mains pins.",
        machine=_USB_MACHINE, wiring=_USB % (", one-way: yes", ""), isolated=("XP1",),
        live="A1-J2.1 A1-J1.1 PS1-J2.1", dead="PS1-J1.L PS1-J1.N XP1.L XP1.N",
    ),
    Circuit(
        name="USB pulled, mains in",
        why="The board is live from its own supply, and so are the power pins of the USB plug that was pulled out of "
        "the computer: the board feeds them.",
        machine=_USB_MACHINE, wiring=_USB % (", one-way: yes", ", one-way: yes"), isolated=("XP2",),
        live="A1-J1.1 A1-J2.1 XP2.1", sure="A1-J1.1 A1-J2.1 XP2.1",
    ),
    Circuit(
        name="transformer fed backward",
        why="A bench supply on the secondary makes mains voltage on the primary, up to the open switch.",
        machine=_TRANSFORMER_MACHINE, wiring=_TRANSFORMER % "", isolated=("Q1",),
        live="T1.3 T1.4 T1.1 T1.2 Q1.2 Q1.4 XP1.L Q1.1", through="T1.1 T1.2 Q1.2 Q1.4",
    ),
    Circuit(
        name="transformer fed backward, bench supply off and switch open",
        why="Nothing feeds either side; the mains stops at the switch.",
        machine=_TRANSFORMER_MACHINE, wiring=_TRANSFORMER % "", isolated=("Q1", "XP2"),
        live="XP1.L Q1.1 Q1.3", dead="T1.1 T1.2 T1.3 T1.4 Q1.2 Q1.4 XP2.1",
    ),
    Circuit(
        name="normally closed relay",
        why="A relay that rests closed feeds the heater with its coil dead.",
        machine=_RELAY_MACHINE, wiring=_NC_RELAY % "closed",
        live="K1.2 E1.1", sure="K1.2 E1.1",
    ),
    Circuit(
        name="relay that rests open, named as isolating device",
        why="A relay is refused as an isolating device: it counts as closed whatever its coil does.",
        machine=_RELAY_MACHINE, wiring=_NC_RELAY % "open", isolated=("K1",),
        live="K1.2 E1.1", sure="K1.2 E1.1",
    ),
    Circuit(
        name="blown fuse",
        why="A fuse that is said to be blown may have been bridged or renewed: it counts as conducting.",
        machine=_FUSE_MACHINE, wiring=_FUSE, isolated=("F1",),
        live="F1.1 F1.2 E1.1", sure="F1.2 E1.1",
    ),
    Circuit(
        name="stored charge with the plug pulled",
        why="The capacitor feeds everything joined to it, back to the pins of the pulled plug.",
        machine=_STORED_MACHINE % _CAPACITOR, wiring=_STORED, isolated=("XP1",),
        live="PS1.+ PS1.- PS1-J1.L PS1-J1.N XP1.L XP1.N PS1.R1", sure="PS1.+ PS1.- PS1.R1", through="XP1.L XP1.N",
    ),
    Circuit(
        name="stored charge proved dead",
        why="Plug pulled and charge proved gone: nothing is left.",
        machine=_STORED_MACHINE % _CAPACITOR, wiring=_STORED, isolated=("XP1",), proved=("mains",),
        dead="PS1.+ PS1.- PS1-J1.L XP1.L PS1.R1",
    ),
    Circuit(
        name="nobody recorded whether charge stays",
        why="Wherever the mains came, charge may have stayed, until somebody proves it gone.",
        machine=(_STORED_MACHINE % "none").replace("    stored: none\n", ""), wiring=_STORED, isolated=("XP1",),
        live="PS1.+ PS1-J1.L XP1.L", not_recorded="PS1.+ PS1-J1.L XP1.L",
    ),
    Circuit(
        name="earth whole",
        why="Earth with recorded bonding stops the walk through the filter: the frame is not live.",
        machine=_EARTH_MACHINE, wiring=_EARTH % ", earth: [XP1.PE]",
        live="A1-J1.L A1-J1.N", dead="A1-J1.PE XP1.PE frame.PE A1.PE",
    ),
    Circuit(
        name="earth lead of the frame lifted",
        why="The lifted frame is on no recorded earth any more, but nothing leads there either; the filter's own earth "
        "still holds.",
        machine=_EARTH_MACHINE, wiring=_EARTH % ", earth: [XP1.PE]", open_ends=(("W2", "frame"),),
        live="A1-J1.L", dead="A1-J1.PE W2@frame.PE A1.PE frame.PE",
    ),
    Circuit(
        name="broken earth: the earth of the plug ends before the filter",
        why="With its earth gone the filter lifts the frame through its capacitors.",
        machine=_EARTH_MACHINE,
        wiring=(_EARTH % ", earth: [XP1.PE]").replace(
            "W1: {ends: [XP1, A1-J1], wires: {map: straight}}",
            'W1: {ends: [XP1, {at: A1-J1, plug: {contacts: {L: "", "N": "", PE: "-"}}}], wires: {map: straight}}',
        ),
        live="A1-J1.L A1-J1.PE A1.PE frame.PE", through="A1-J1.PE frame.PE",
    ),
    Circuit(
        name="earth lead of the filter lifted",
        why="The lifted lead still hangs on earth, but the filter it left lifts its own earth terminal through itself.",
        machine=_EARTH_MACHINE,
        wiring=(_EARTH % ", earth: [XP1.PE]")
        .replace("between: [J1.L, J1.PE]", "between: [J1.L, Y]")
        .replace("between: [J1.N, J1.PE]}, [J1.PE, PE]", "between: [J1.N, Y]}, [PE, Y], [J1.PE, T]")
        .replace("W2: {ends: [A1, frame], joint: screw, wires: {map: [[PE, PE]]}}",
                 "W2: {ends: [A1, frame], joint: screw, wires: {map: [[PE, PE]]}}\n"
                 "  W3: {ends: [A1, frame], joint: screw, wires: {map: [[T, PE]]}}"),
        open_ends=(("W2", "A1.PE"),),
        live="A1-J1.L A1.PE#fixed A1.Y", through="A1.Y", dead="W2@A1.PE frame.PE A1-J1.PE",
    ),
    Circuit(
        name="an earth contact of which nobody recorded the inside",
        why="While it is earthed it can carry nothing across the board: what comes in at one side stays there.",
        machine=_EARTH_MACHINE,
        wiring=(_EARTH % ", earth: [XP1.PE]").replace(
            "A1: [{kind: load, between: [J1.L, J1.PE]}, {kind: load, between: [J1.N, J1.PE]}, [J1.PE, PE]]",
            "A1: [{kind: load, between: [J1.L, J1.N]}, {kind: load, between: [PE, out]}]",
        ),
        live="A1-J1.L A1-J1.N", dead="A1.out A1-J1.PE A1.PE",
    ),
    Circuit(
        name="earth not recorded",
        why="Nobody recorded an earth, so nothing stops the walk: the frame counts as live.",
        machine=_EARTH_MACHINE, wiring=_EARTH % "",
        live="A1-J1.L A1-J1.PE frame.PE XP1.PE",
    ),
    Circuit(
        name="wires not recorded",
        why="Nobody recorded the wires of W2 nor the inside of A1: every contact there may be live.",
        machine=_EMPTY_MACHINE, wiring=_NO_WIRES,
        live="A1-J1.1 A1-J1.2 A1-J2.1 A1-J2.2 A2-J1.1 A2-J1.2", sure="A1-J1.1",
        not_recorded="A1-J2.1 A1-J2.2 A2-J1.1 A2-J1.2",
    ),
    Circuit(
        name="wires not recorded, plug pulled",
        why="Nothing recorded feeds the machine any more; every cable has its ends recorded.",
        machine=_EMPTY_MACHINE, wiring=_NO_WIRES, isolated=("XP1",),
        dead="A1-J1.1 A1-J2.1 A2-J1.1",
    ),
    Circuit(
        name="empty receptacle of which nobody wrote down what is plugged in",
        why="What is plugged into A1-J2 nobody recorded: it may be a supply, and it may feed the whole board.",
        machine=_EMPTY_MACHINE, wiring=_NO_WIRES.replace("  W2: {ends: [A1-J2, A2-J1]}\n", ""), isolated=("XP1",),
        live="A1-J2.1 A1-J1.1 A2-J1.1", not_recorded="A1-J2.1 A1-J1.1 A2-J1.1",
    ),
)  # fmt: skip
