"""The shortest way to a part, against known values, exhaustive search and CP-SAT."""

from __future__ import annotations

import sys
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model
from tests.physical.access_tables import (
    CABLED_MACHINE,
    CABLED_MACHINE_ANSWERS,
    MUTUAL_BLOCK,
    NO_CHOICE,
    SET_COVER,
    SHARED_SUPPORT,
    can_be_done,
    changes_in,
    least_by_exhaustion,
    reached_with,
    table,
)

from benchleaf.physical.least_path import AccessPath, Operation, OutOfReach, least_path, least_paths, network


def found(operations: dict[str, Operation], *targets: str, cap: int = 20_000) -> AccessPath:
    path = least_path(operations, targets, cap=cap)
    assert isinstance(path, AccessPath), path
    assert can_be_done(operations, path.order)
    assert tuple(sorted(path.order)) == path.operations
    assert changes_in(operations, path.order) == path.tool_changes
    assert set(targets) <= set(path.order)
    return path


def test_without_choices_the_path_is_all_that_stands_before_the_part() -> None:
    path = found(NO_CHOICE, "board")
    assert path.time == 26
    assert path.tool_changes == 6
    assert set(NO_CHOICE) - set(path.operations) == {"feet", "rear_panel"}
    assert (path.exact, path.bound, path.reason) == (True, 26, "")


def test_things_that_support_each_other_are_no_answer() -> None:
    path = found(MUTUAL_BLOCK, "core")
    assert path.time == 10  # 4 would be the circular one
    assert path.operations == ("core", "lid", "panel", "rear_screws")
    assert path.tool_changes == 1


def test_the_largest_first_is_not_the_least() -> None:
    path = found(SET_COVER, "goal")
    assert path.time == 2  # the greedy answer is 3
    assert path.operations == ("S1", "S2", "e1", "e2", "e3", "e4", "e5", "e6", "goal")
    assert path.tool_changes == 0


def test_what_serves_twice_is_paid_once() -> None:
    path = found(SHARED_SUPPORT, "item")
    assert path.time == 13  # the cheapest of each clause by itself: 5 + 5 + 6 = 16
    assert path.operations == ("item", "shared")


@pytest.mark.parametrize("part", CABLED_MACHINE_ANSWERS)
def test_the_cabled_machine(part: str) -> None:
    time, changes, operations = CABLED_MACHINE_ANSWERS[part]
    path = found(CABLED_MACHINE, f"rm:{part}")
    assert (path.time, path.tool_changes) == (time, changes)
    assert path.operations == tuple(sorted(operations.split()))
    assert path.exact


def test_all_paths_at_once_are_the_paths_one_by_one() -> None:
    goals = {part: (f"rm:{part}",) for part in CABLED_MACHINE_ANSWERS}
    together = least_paths(network(CABLED_MACHINE), goals)
    assert together == {part: least_path(CABLED_MACHINE, goal) for part, goal in goals.items()}


def test_of_two_equally_quick_ways_the_one_with_fewer_operations_is_taken() -> None:
    operations = table("a1 5 PH1\na2 5 PH1 a1\nb 10 PH2\nitem 1 hand a2/b")
    assert found(operations, "item").operations == ("b", "item")


def test_of_two_equally_quick_and_short_ways_the_one_with_fewer_tool_changes_is_taken() -> None:
    operations = table("a1 5 TX10\na2 5 PH1 a1\nb1 5 PH2\nb2 5 PH2 b1\nitem 1 hand a2/b2")
    path = found(operations, "item")
    assert path.operations == ("b1", "b2", "item")
    assert path.tool_changes == 1


def test_of_ways_alike_in_all_the_first_by_id_is_taken() -> None:
    operations = table("b 5 PH1\na 5 PH1\nitem 1 hand b/a")
    assert found(operations, "item").operations == ("a", "item")


def test_virtual_operations_do_not_count_as_work() -> None:
    operations = table("v1 0 - a\nv2 0 - v1\na 5 PH1\nb1 2 PH1\nb2 3 PH1\nw 0 - b1 b2\nitem 1 hand v2/w")
    assert found(operations, "item").operations == ("a", "item", "v1", "v2")


def test_several_targets_share_what_they_share() -> None:
    path = found(NO_CHOICE, "fan", "psu_screws")
    assert path.time == 4 + 1 + 1 + 3 + 1 + 4
    assert path.targets == ("fan", "psu_screws")


def test_nothing_asked_for_takes_nothing() -> None:
    path = found(NO_CHOICE)
    assert (path.order, path.time, path.exact) == ((), 0, True)


def test_facts_that_let_nothing_begin_are_named_as_a_ring() -> None:
    operations = table("tray 1 hand plug\nplug 1 hand reach\nreach 0 - tray\nboard 1 PH1 reach\nlid 1 hand")
    barred = least_path(operations, ["board"])
    assert isinstance(barred, OutOfReach)
    assert barred.ring == ("plug", "reach", "tray")
    assert barred.missing == ()
    assert "plug → reach → tray → plug" in barred.reason


def test_an_operation_nobody_recorded_is_named() -> None:
    barred = least_path(table("board 1 PH1 tray\ntray 1 hand rails/pins"), ["board"])
    assert isinstance(barred, OutOfReach)
    assert barred.missing == ("pins", "rails")
    assert barred.reason == "not recorded: pins, rails"


def test_a_target_nobody_recorded_is_named() -> None:
    barred = least_path(NO_CHOICE, ["pump"])
    assert isinstance(barred, OutOfReach)
    assert barred.missing == ("pump",)


def test_a_clause_that_holds_nothing_is_named() -> None:
    barred = least_path({"glued": Operation(1.0, "hand", ((),))}, ["glued"])
    assert isinstance(barred, OutOfReach)
    assert barred.never == ("glued",)
    assert barred.reason


def test_a_time_below_zero_is_refused() -> None:
    with pytest.raises(ValueError, match="below zero"):
        least_path({"a": Operation(-1.0, "hand")}, ["a"])


def test_tenths_of_seconds_add_up_exactly() -> None:
    # 0.1 + 0.2 is not 0.3 in binary; the two ways are equally quick all the same, and the shorter one is taken
    operations = table("a 0.1 PH1\nb 0.2 PH1 a\nc 0.3 PH2\nitem 1 hand b/c")
    assert found(operations, "item").operations == ("c", "item")


def choices_in_rows(rows: int) -> dict[str, Operation]:
    """A goal with many clauses that overlap, so that the search has work."""
    random = Random(rows)
    operations = {f"s{i}": Operation(float(random.randint(7, 9)), "PH1") for i in range(rows)}
    clauses = tuple(tuple(random.sample(sorted(operations), 2)) for _ in range(2 * rows))
    operations["goal"] = Operation(1.0, "hand", clauses)
    return operations


@pytest.mark.parametrize("cap", [0, 1, 5, 25])
def test_a_search_cut_short_is_labelled_with_a_bound(cap: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "highspy", None)  # as where the extra is not installed
    operations = choices_in_rows(18)
    exact = found(operations, "goal")
    cut = found(operations, "goal", cap=cap)
    assert exact.exact
    assert cut.bound <= exact.time <= cut.time
    assert not cut.exact
    assert "cut short" in cut.reason


def test_equally_quick_ways_too_many_to_compare_are_said_to_be() -> None:
    lines = [f"a{i} 5 PH1\nb{i} 5 PH1\n" for i in range(10)]
    operations = table("".join(lines) + "goal 1 hand " + " ".join(f"a{i}/b{i}" for i in range(10)))
    path = found(operations, "goal", cap=200)
    assert path.time == path.bound == 51
    assert not path.exact
    assert "no way is quicker" in path.reason


def test_the_same_facts_in_another_order_give_the_same_answer() -> None:
    turned = dict(reversed(CABLED_MACHINE.items()))
    turned = {
        name: Operation(o.time, o.tool, tuple(tuple(reversed(clause)) for clause in reversed(o.clauses)))
        for name, o in turned.items()
    }
    for part in CABLED_MACHINE_ANSWERS:
        assert least_path(turned, [f"rm:{part}"]) == least_path(CABLED_MACHINE, [f"rm:{part}"])


@st.composite
def facts(draw: st.DrawFn) -> dict[str, Operation]:
    """Up to twelve operations with any clauses at all: circular ones, empty ways, what is not recorded."""
    names = [f"o{i}" for i in range(draw(st.integers(2, 12)))]
    clause = st.lists(st.sampled_from([*names, *names, "unrecorded"]), min_size=1, max_size=3, unique=True)
    operations = {}
    for name in names:
        tool = draw(st.sampled_from(["PH1", "TX20", "hand", "hand", None]))
        time = 0.0 if tool is None else float(draw(st.sampled_from([0, 5, 10, 10, 20])))
        clauses = draw(st.lists(clause.map(tuple), max_size=3))
        operations[name] = Operation(time, tool, tuple(clauses))
    return operations


@settings(max_examples=200, deadline=None)
@given(facts())
def test_no_set_of_a_generated_machine_is_better(operations: dict[str, Operation]) -> None:
    best = least_by_exhaustion(operations, ["o0"])
    if best is None:
        barred = least_path(operations, ["o0"])
        assert isinstance(barred, OutOfReach)
        assert barred.reason
        for name, after in zip(barred.ring, (*barred.ring[1:], *barred.ring[:1]), strict=True):
            assert any(after in clause for clause in operations[name].clauses)
        return
    path = found(operations, "o0")
    real = [name for name in path.operations if not operations[name].is_virtual]
    assert path.exact
    assert (path.time, len(real), path.tool_changes) == best
    virtual = {name for name, o in operations.items() if o.is_virtual}
    for name in real:  # every removal listed is needed
        assert "o0" not in reached_with(operations, (set(real) - {name}) | virtual)
        less = {other: o for other, o in operations.items() if other != name and other in path.operations}
        assert isinstance(least_path(less, ["o0"]), OutOfReach)


def by_cp_sat(operations: dict[str, Operation], target: str) -> tuple[int, int]:
    """(time in seconds, real operations) by OR-tools CP-SAT: each chosen operation has a place in the order, and each
    of its clauses a chosen alternative with an earlier place."""
    model = cp_model.CpModel()
    names = sorted(operations)
    done = {name: model.new_bool_var(name) for name in names}
    place = {name: model.new_int_var(0, len(names), f"place {name}") for name in names}
    for name in names:
        for clause in operations[name].clauses:
            supports = []
            for other in clause:
                if other in done:
                    support = model.new_bool_var("")
                    model.add_implication(support, done[other])
                    model.add(place[other] + 1 <= place[name]).only_enforce_if(support)
                    supports.append(support)
            model.add_bool_or(*supports, done[name].negated())
    model.add(done[target] == 1)
    model.minimize(
        sum(
            (int(operations[name].time) * 1000 + (not operations[name].is_virtual)) * done[name]
            for name in names
        )
    )
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return divmod(round(solver.objective_value), 1000)


def machine(parts: int, seed: int) -> dict[str, Operation]:
    """Parts behind others, some by either of two ways; cables opened at either end."""
    random = Random(seed)
    lines = []
    behind = {i: [f"off{j}" for j in random.sample(range(i), min(i, random.choice((0, 1, 1))))] for i in range(parts)}
    for i in range(3, parts):
        if random.random() < 0.5:
            behind[i].append("/".join(f"off{j}" for j in random.sample(range(i), 2)))
    lift = {i: list(behind[i]) for i in behind}
    for cable in range(parts // 2):
        ends = random.sample(range(parts), 2)
        for end, host in enumerate(ends):
            lines.append(f"unplug{cable}.{end} {random.randint(5, 20)} hand {' '.join(behind[host])}")
            lift[host].append(f"unplug{cable}.0/unplug{cable}.1")
    for i in range(parts):
        tool = random.choice(("PH1", "PH2", "TX20"))
        lines.append(f"screws{i} {random.randint(10, 60)} {tool} {' '.join(behind[i])}")
        lines.append(f"off{i} 30 hand screws{i} {' '.join(lift[i])}")
    return table("\n".join(lines))


@pytest.mark.parametrize("seed", range(4))
def test_cp_sat_finds_nothing_quicker_on_machines_with_cables(seed: int) -> None:
    operations = machine(14, seed)
    for i in (7, 10, 13):
        path = found(operations, f"off{i}")
        assert path.exact
        assert (path.time, len(path.operations)) == by_cp_sat(operations, f"off{i}")
