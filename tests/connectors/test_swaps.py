"""The swap table: every pair an independent all-pairs search finds, no pair lost for lack of a fact, worst first."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.connectors.plain_machines import built_of, demo_machine, demo_procedure

from benchleaf.built import Built
from benchleaf.connectors.meeting import Consequence
from benchleaf.connectors.swaps import SwapBook, SwapTable

ITEMS = "  A1: {name: Board}\n  A2: {name: Other board}\n  M1: Motor\n  M2: Fan\n  M3: Pump\n"
KEYS = ("", "keyed: no", "keyed: yes", "keyed: red", "keyed: blue")
FAMILIES = ("", "family: wire-to-board 2.5 mm", "family: wire-to-board 2.0 mm")
PINS = ("", "pins: fixed", "pins: loose")
COUNTS = ("", "contacts: 2", "contacts: 3", "contacts: {1: 24 V DC, 2: 0 V}", "contacts: {1: in, 2: out, 3: PE}")


@st.composite
def wirings(draw: st.DrawFn) -> tuple[str, int]:
    """Wiring of up to six connectors on A1 with cables to motors; some have no cable, some facts are left out."""
    count = draw(st.integers(2, 6))
    lines, cables = ["connectors:"], ["cables:"]
    for n in range(1, count + 1):
        parts = [draw(st.sampled_from(facts)) for facts in (FAMILIES, COUNTS, KEYS, PINS)]
        lines.append(f"  A1-J{n}: {{{', '.join(filter(None, parts)) or 'note: nothing known'}}}")
        if draw(st.booleans()) or n <= 2:
            wires = draw(st.sampled_from(("", ", wires: {map: straight}")))
            cables.append(f"  W{n}: {{ends: [A1-J{n}, M{n % 3 + 1}]{wires}}}")
    return "\n".join(lines + cables) + "\n", count


@st.composite
def orders(draw: st.DrawFn) -> str:
    """Steps that open and plug connectors of A1 in some order, a prose step now and then."""
    steps = []
    for _ in range(draw(st.integers(1, 5))):
        acts = draw(
            st.lists(st.tuples(st.sampled_from(("disconnect", "unplug", "plug")), st.integers(1, 6)), max_size=3)
        )
        if acts:
            steps.append("  - title: Do\n    do: [" + ", ".join(f"{verb}: A1-J{n}" for verb, n in acts) + "]\n")
        elif draw(st.integers(0, 3)) == 0:
            steps.append("  - title: Look\n")
    return "".join(steps) or "  - {title: Look, changes: none}\n"


def fits(built: Built, plug: str, place: str) -> bool:
    """The definition, written down once more: family, count, coding, pins; not recorded never tells apart."""
    one, other = built.connectors[plug], built.connectors[place]
    if one.family and other.family and one.family != other.family:
        return False
    if one.contacts and other.contacts and len(one.contacts) != len(other.contacts):
        return False
    if {one.pins, other.pins} == {"fixed", "loose"}:
        return False
    return {one.keyed, other.keyed} != {"red", "blue"}


def turns(built: Built, plug: str) -> bool:
    return built.connectors[plug].keyed in (None, False)


def oracle(built: Built) -> set[tuple[str, str]]:
    """All pairs by definition: an ordered look at every plug and every other place."""
    cabled = [name for name in built.connectors if built.cables_at.get(name)]
    found = {tuple(sorted((a, b))) for a in cabled for b in built.connectors if a != b and fits(built, a, b)}
    return {(a, b) for a, b in found} | {(a, a) for a in cabled if turns(built, a)}


def ends_of(table: SwapTable, *, certain: bool | None = None) -> set[tuple[str, str]]:
    return {
        tuple(sorted((pair.one, pair.two)))  # type: ignore[misc]
        for pair in table.pairs
        if certain is None or pair.certain is certain
    }


@settings(max_examples=40, deadline=None)
@given(wirings())
def test_the_pairs_of_a_machine_are_those_of_an_all_pairs_search(drawn: tuple[str, int]) -> None:
    built = built_of(drawn[0], ITEMS)
    assert ends_of(SwapBook(built).of_machine()) == oracle(built)


@settings(max_examples=40, deadline=None)
@given(wirings(), orders())
def test_the_pairs_of_a_procedure_are_those_found_open_together_by_following_every_step(
    drawn: tuple[str, int], steps: str
) -> None:
    built = built_of(drawn[0], ITEMS, work=keep_to(steps, drawn[1]))
    procedure = built.machine.procedures["work"]
    opened: set[str] = set()
    ever: set[str] = set()
    together: set[tuple[str, str]] = set()
    prose = False
    empty = {name for name in built.connectors if not built.cables_at.get(name)}
    for step in procedure.steps:
        prose = prose or (step.do is None and step.changes is None)
        for action in step.do or ():
            name = str(action.target)
            if name in empty:
                continue
            if action.verb == "plug":
                opened.discard(name)
            else:
                opened.add(name)
                ever.add(name)
            together |= {tuple(sorted(both)) for both in permutations(opened | empty, 2)}  # type: ignore[misc]
    together = {both for both in together if set(both) & ever} | {(name, name) for name in ever}
    table = SwapBook(built).of_procedure(procedure)
    assert ends_of(table, certain=True) == oracle(built) & together
    assert ends_of(table) == (oracle(built) if prose else oracle(built) & together)


def keep_to(steps: str, count: int) -> str:
    for n in range(count + 1, 7):
        steps = steps.replace(f"A1-J{n}", "A1-J1")
    return steps


@settings(max_examples=40, deadline=None)
@given(wirings(), st.data())
def test_deleting_a_fact_never_removes_a_pair_or_makes_one_milder(drawn: tuple[str, int], data: st.DataObject) -> None:
    built = built_of(drawn[0], ITEMS)
    name = data.draw(st.sampled_from(sorted(built.connectors)))
    cable = data.draw(st.sampled_from(sorted(built.cables)))
    connector, lead = built.connectors[name], built.cables[cable]
    less = data.draw(
        st.sampled_from(
            [
                replace(connector, keyed=None),
                replace(connector, family=None),
                replace(connector, contacts=None),
                replace(connector, pins=None),
                replace(lead, length=None),
                replace(lead, wires=None),
            ]
        )
    )
    connectors, cables = dict(built.connectors), dict(built.cables)
    if type(less) is type(connector):
        connectors[name] = less
    else:
        cables[cable] = less
    before = SwapBook(built).of_machine()
    after = SwapBook(replace(built, connectors=connectors, cables=cables)).of_machine()
    assert ends_of(before) <= ends_of(after)
    worse = {(pair.one, pair.two): pair.worst.consequence.rank for pair in after.pairs}
    for pair in before.pairs:
        assert worse[(pair.one, pair.two)] <= pair.worst.consequence.rank


@pytest.mark.parametrize("fact", ["wires", "joins", "sources", "roles"])
def test_deleting_a_fact_of_the_demo_never_makes_a_swap_milder(fact: str) -> None:
    built = demo_machine("fp420", "mk2", "roll")
    before = SwapBook(built).of_machine()
    for name in {"wires": built.cables, "joins": built.joins, "sources": built.sources, "roles": built.connectors}[
        fact
    ]:
        if fact == "wires":
            less = replace(built, cables={**built.cables, name: replace(built.cables[name], wires=None)})
        elif fact == "joins":
            less = replace(built, joins={item: many for item, many in built.joins.items() if item != name})
        elif fact == "sources":
            less = replace(built, sources={one: made for one, made in built.sources.items() if one != name})
        else:
            bare = {own: type(role)("") for own, role in (built.connectors[name].contacts or {}).items()}
            less = replace(built, connectors={**built.connectors, name: replace(built.connectors[name], contacts=bare)})
        worse = {(p.one, p.two): p.worst.consequence.rank for p in SwapBook(less).of_machine().pairs}
        for pair in before.pairs:
            assert worse[(pair.one, pair.two)] <= pair.worst.consequence.rank, (name, pair.name)


def test_the_worst_stands_first() -> None:
    table = SwapBook(demo_machine("bc300", "two-bank")).of_machine()
    ranks = [pair.worst.consequence.rank for pair in table.pairs]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) > 2


def test_of_three_alike_only_those_open_at_the_same_time_are_a_pair() -> None:
    # The demo's draw-tray opens J6 and J7 and leaves J8, which is alike, plugged in.
    table = SwapBook(demo_machine("fp420", "mk1")).of_procedure(demo_procedure("fp420", "draw-tray"))
    assert ("A1-J6", "A1-J7") in ends_of(table)
    assert not table.pairs_of("A1-J8")


def test_an_end_left_plugged_is_no_place_for_another_plug() -> None:
    # draw-tray leaves the far ends mated: S2-J1 takes the plug of A1-J6 but is closed.
    built = demo_machine("fp420", "mk1")
    assert SwapBook(built).of_machine().pairs_of("S2-J1")
    assert not SwapBook(built).of_procedure(demo_procedure("fp420", "draw-tray")).pairs_of("S2-J1")


def test_an_unkeyed_flat_cable_goes_in_turned_round() -> None:
    table = SwapBook(demo_machine("fp420", "mk1")).of_procedure(demo_procedure("fp420", "draw-tray"))
    (turned,) = [pair for pair in table.pairs if pair.one == pair.two == "A1-J2"]
    assert turned.is_turned and turned.worst.consequence is Consequence.SUPPLY_ON_SIGNAL
    met = {effect.contact: effect.meets for effect in turned.ways[0].effects}
    assert met["1"] == "16" and met["16"] == "1" and met["8"] == "9"


def test_opened_one_after_the_other_they_are_no_pair() -> None:
    # reseat-cables opens and plugs the three alike in turn.
    table = SwapBook(demo_machine("fp420", "mk1")).of_procedure(demo_procedure("fp420", "reseat-cables"))
    assert {"A1-J6", "A1-J7", "A1-J8"}.isdisjoint({end for pair in table.pairs for end in (pair.one, pair.two)})


def test_conditions_are_followed_first() -> None:
    # replace-main-board opens J8; J6 and J7 were opened by its condition draw-tray.
    table = SwapBook(demo_machine("fp420", "mk1")).of_procedure(demo_procedure("fp420", "replace-main-board"))
    assert {("A1-J6", "A1-J7"), ("A1-J6", "A1-J8"), ("A1-J7", "A1-J8")} <= ends_of(table)
    (late,) = [pair for pair in table.pairs if (pair.one, pair.two) == ("A1-J6", "A1-J8")]
    assert [step.procedure for step in late.steps] == ["draw-tray", "replace-main-board"]


def test_a_note_says_when_another_order_removes_the_pair_and_only_then() -> None:
    table = SwapBook(demo_machine("bc300", "two-bank")).of_procedure(demo_procedure("bc300", "sort-circular-plugs"))
    (pair,) = [pair for pair in table.pairs if not pair.is_turned]
    assert pair.removed_by.startswith("Plug W13 in at M1-J1 again before W14 is opened at M2-J1")
    board = SwapBook(demo_machine("fp420", "mk1")).of_procedure(demo_procedure("fp420", "replace-main-board"))
    assert not any(pair.removed_by for pair in board.pairs)  # the board comes off: all ends have to be open


def test_no_note_where_work_between_needs_both_open() -> None:
    wiring = (
        "connectors:\n  A1-J1: {family: a, contacts: 2, keyed: yes}\n  A1-J2: {like: A1-J1}\n"
        "cables:\n  W1: {ends: [A1-J1, M1]}\n  W2: {ends: [A1-J2, M2]}\n"
    )
    parted = "  - {title: a, do: [unplug: A1-J1, unplug: A1-J2, plug: A1-J1, plug: A1-J2]}\n"
    needed = "  - {title: a, do: [unplug: A1-J1, unplug: A1-J2, lift off: A1, install: A1, plug: A1-J1, plug: A1-J2]}\n"
    notes = []
    for steps in (parted, needed):
        built = built_of(wiring, ITEMS, work=steps)
        (pair,) = SwapBook(built).of_procedure(built.machine.procedures["work"]).pairs
        notes.append(pair.removed_by)
    assert notes[0] and not notes[1]


def test_a_prose_step_leaves_every_end_open_and_the_table_says_which_step() -> None:
    built = demo_machine("fp420", "mk2", "roll")
    table = SwapBook(built).of_procedure(demo_procedure("fp420", "restore-stock-wiring"))
    assert any("Step 4 of restore-stock-wiring" in remark for remark in table.remarks)
    assert ends_of(table) == ends_of(SwapBook(built).of_machine())
    assert any(not pair.certain for pair in table.pairs)


def test_nothing_recorded_is_never_an_empty_table_without_words() -> None:
    table = SwapBook(built_of("", ITEMS)).of_machine()
    assert not table.pairs and table.remarks == ("No connector is recorded: any plug counts as fitting any place.",)


def test_a_connector_of_which_nobody_recorded_what_is_plugged_in_is_named() -> None:
    wiring = "connectors:\n  A1-J1: {family: a, contacts: 2, keyed: yes}\n"
    (said,) = SwapBook(built_of(wiring, ITEMS)).of_machine().remarks[1:]
    assert said.startswith("Nobody recorded what is plugged in at A1-J1")
    looked = SwapBook(built_of(wiring.replace("keyed: yes", "keyed: yes, cable: none"), ITEMS)).of_machine()
    assert not any("A1-J1" in remark for remark in looked.remarks)


LENGTHS = """connectors:
  A1-J1: {family: a, contacts: {1: in, 2: out}, keyed: yes}
  A2-J1: {family: a, contacts: {1: in, 2: out}, keyed: yes}
cables:
  W1: {ends: [A1-J1, M1], length: %s, wires: {map: straight}}
  W2: {ends: [A2-J1, M2], length: %s, wires: {map: straight}}
"""
PLACED = """  A1: {name: Board, box: [0, 0, 0, 100, 100, 10]}
  M1: {name: Motor, box: [0, 0, 100, 100, 100, 100]}
  A2: {name: Other board, box: [600, 0, 0, 100, 100, 10]}
  M2: {name: Fan, box: [600, 0, 100, 100, 100, 100]}
"""


def test_cables_too_short_to_reach_are_no_pair_and_one_that_reaches_is() -> None:
    # From M1 (x 0..100) to A2 (x 600..700) there are 500 mm across and 90 mm up: 508 mm.
    assert not ends_of(SwapBook(built_of(LENGTHS % ("500 mm", "500 mm"), PLACED)).of_machine())
    assert ends_of(SwapBook(built_of(LENGTHS % ("510 mm", "500 mm"), PLACED)).of_machine()) == {("A1-J1", "A2-J1")}


@pytest.mark.parametrize("missing", ["length: 500 mm, ", ", box: [600, 0, 0, 100, 100, 10]"])
def test_a_length_or_place_not_recorded_counts_as_long_enough(missing: str) -> None:
    wiring, items = LENGTHS % ("500 mm", "500 mm"), PLACED
    assert missing in wiring + items
    built = built_of(wiring.replace(missing, ""), items.replace(missing, ""))
    assert ends_of(SwapBook(built).of_machine()) == {("A1-J1", "A2-J1")}


def test_what_can_be_drawn_out_may_stand_nearer() -> None:
    drawn = PLACED.replace(
        "{name: Other board, ", "{name: Other board, positions: {service: {motion: slide left 20 mm}}, "
    )
    assert ends_of(SwapBook(built_of(LENGTHS % ("490 mm", "490 mm"), drawn)).of_machine()) == {("A1-J1", "A2-J1")}


def test_a_straight_cable_turned_end_for_end_changes_nothing_and_a_crossed_one_does() -> None:
    wiring = """connectors:
  A1-J1: {family: a, contacts: {1: 24 V DC, 2: 0 V}, keyed: yes}
  A2-J1: {family: a, contacts: {1: %s, 2: %s}, keyed: yes}
cables:
  W1: {ends: [A1-J1, A2-J1], wires: {map: %s}}
"""
    (same,) = SwapBook(built_of(wiring % ("24 V DC", "0 V", "straight"), ITEMS)).of_machine().pairs
    assert same.worst.consequence is Consequence.NOTHING
    signals = wiring.replace("24 V DC, 2: 0 V", "in, 2: out") % ("out", "in", "straight")
    (pair,) = SwapBook(built_of(signals, ITEMS)).of_machine().pairs
    assert {effect.meeting.words for way in pair.ways for effect in way.effects} == {"the two contacts belong together"}
    crossed = wiring % ("0 V", "24 V DC", "[[1, 2], [2, 1]]")
    (pair,) = SwapBook(built_of(crossed, ITEMS)).of_machine().pairs
    assert pair.worst.consequence is Consequence.NOTHING  # a map that is its own mirror
    odd = """connectors:
  A1-J1: {family: a, contacts: {1: 24 V DC, 2: 0 V, 3: in}, keyed: yes}
  A2-J1: {family: a, contacts: {1: out, 2: 24 V DC, 3: 0 V}, keyed: yes}
cables:
  W1: {ends: [A1-J1, A2-J1], wires: {map: [[1, 2], [2, 3], [3, 1]]}}
"""
    (pair,) = SwapBook(built_of(odd, ITEMS)).of_machine().pairs
    assert pair.worst.consequence is not Consequence.NOTHING


def test_the_warning_says_which_plug_goes_where() -> None:
    wiring = (
        "connectors:\n  A1-J1: {family: a, contacts: {1: 24 V DC, 2: 0 V}, keyed: yes}\n"
        "  A1-J2: {family: a, contacts: {1: in, 2: 0 V}, keyed: yes}\n"
        "cables:\n  W1: {ends: [A1-J1, M1], wires: {map: straight}}\n"
    )
    (pair,) = SwapBook(built_of(wiring, ITEMS)).of_machine().pairs  # nothing is plugged in at A1-J2
    assert pair.warning.startswith("The plug of A1-J1 goes into A1-J2 as well. W1 in A1-J2: ")
    both = wiring + "  W2: {ends: [A1-J2, M2], wires: {map: straight}}\n"
    (pair,) = SwapBook(built_of(both, ITEMS)).of_machine().pairs
    assert pair.warning.startswith("A1-J1 and A1-J2 take each other's plugs. ")
    assert {way.words for way in pair.ways} == {"W1 in A1-J2", "W2 in A1-J1"}


def test_a_parked_plug_goes_into_any_place_it_was_made_for() -> None:
    built = demo_machine("fp420", "mk2", "roll")
    table = SwapBook(built).of_procedure(demo_procedure("fp420", "restore-stock-wiring"))
    (pair,) = [one for one in table.pairs if one.certain and one.one == "W9 parked" and one.two == "A1-J9"]
    assert set(pair.cables) == {"W9", "W21"}
