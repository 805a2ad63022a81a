"""The order of tests as numbered places, as a list and as a drawing: one set of facts."""

from __future__ import annotations

import pytest
from tests.troubles.demo import case, derived, every_case

from benchleaf.access.ways import ways_of
from benchleaf.edges.graphviz_edge import draw
from benchleaf.troubles.openings import Openings
from benchleaf.troubles.problem_of import Case, order_of
from benchleaf.troubles.tree import ALL_DEALT_WITH, NOTHING_FITS, Place, Tree, tree_of
from benchleaf.troubles.tree_drawing import tree_diagram


def tree(one: Case) -> Tree:
    machine = derived().library.machines[one.machine]
    policy = order_of(derived(), one)
    assert policy is not None
    return tree_of(Openings(ways_of(derived(), machine, one.configurations[0])), one, policy.root)


def expected_from(made: Tree, number: int, known: dict[int, float]) -> float:
    """The minutes to be expected from a place, added up from the places alone."""
    if number not in known:
        place = made.at(number)
        own = place.minutes + place.trial + sum(one.minutes for one in (*place.before, *place.after))
        later = sum(
            one.probability * expected_from(made, one.to, known) for one in place.branches if one.probability > 0
        )
        known[number] = own + later if place.kind != "end" else 0.0
    return known[number]


def test_the_minutes_said_at_the_places_add_up_to_the_minutes_the_search_expects() -> None:
    for one in every_case():
        made, policy = tree(one), order_of(derived(), one)
        assert policy is not None
        assert expected_from(made, 1, {}) == pytest.approx(policy.expected), one.id
        for place in made.places:
            if place.kind != "end":
                assert expected_from(made, place.number, {}) == pytest.approx(place.expected), (one.id, place.number)


def test_every_outcome_of_a_test_leads_somewhere_and_likely_ones_add_up() -> None:
    for one in every_case():
        for place in tree(one).places:
            if place.kind == "test":
                outcomes = one.tests[place.key].joined.test.outcomes
                assert [branch.outcome for branch in place.branches] == [str(name) for name in outcomes]
                assert sum(branch.probability for branch in place.branches) == pytest.approx(1)


def test_an_answer_no_recorded_cause_gives_leads_to_no_fault_found_with_its_checks() -> None:
    made = tree(case("fp420", "08", "mk1"))
    ends = {place.key: place for place in made.places if place.kind == "end"}
    assert set(ends) == {NOTHING_FITS, ALL_DEALT_WITH}
    assert all(end.checks == ("feed-length",) for end in ends.values())


def test_what_is_opened_is_said_in_an_order_that_can_be_done_and_isolation_comes_first() -> None:
    for one in every_case():
        machine = derived().library.machines[one.machine]
        ways = ways_of(derived(), machine, one.configurations[0])
        for place in tree(one).places:
            kinds = [doing.kind for doing in place.before]
            if "open" in kinds or "close" in kinds:
                first = min(at for at, kind in enumerate(kinds) if kind in ("open", "close"))
                assert "isolate" not in kinds[first:], (one.id, place.number)
            done: list[str] = [doing.operation for doing in place.before if doing.kind == "open"]
            assert_can_be_done(ways, one, place, done)


def assert_can_be_done(ways, one: Case, place: Place, opened: list[str]) -> None:  # type: ignore[no-untyped-def]
    """Each opening's clauses hold by what was opened before it here, or was open already."""
    plan = one.tests[place.key] if place.kind == "test" else one.remedies[place.key] if place.kind == "remedy" else None
    if plan is None:
        return
    already = [work for work in plan.way.works if work not in opened]
    operations = ways.dead_network.operations
    for at, work in enumerate(opened):
        done = ways.done([*already, *opened[:at]])
        assert all(not done.isdisjoint(clause) for clause in operations[work].clauses), (one.id, place.number, work)


def test_a_powered_test_in_an_open_machine_is_never_without_its_warning() -> None:
    place = next(p for p in tree(case("fp420", "07", "mk1")).places if p.key == "gate-volts")
    assert "live while it is open" in place.warning
    for one in every_case():
        for place in tree(one).places:
            plan = one.tests.get(place.key)
            if plan is not None and plan.state == "powered" and plan.way.works:
                assert place.warning, (one.id, place.key)


def test_the_proof_comes_before_anything_is_opened_that_is_not_needed_for_it() -> None:
    place = next(p for p in tree(case("fp420", "08", "mk1")).places if p.key == "look-at-belt")
    assert [doing.operation or doing.kind for doing in place.before] == [
        "isolate", "un:left-cover.left-screw", "off:left-cover", "prove dead",
        "un:rear-plate.rear-screw", "off:rear-plate",
    ]  # fmt: skip


def test_what_is_closed_for_the_trial_run_is_closed_in_the_reverse_order_and_says_its_torque() -> None:
    place = next(p for p in tree(case("fp420", "08", "mk1")).places if p.key == "set-feed-belt")
    closing = [doing for doing in place.after if doing.kind == "close"]
    assert {doing.operation for doing in closing} == {
        "off:rear-plate", "un:rear-plate.rear-screw", "off:left-cover", "un:left-cover.left-screw"
    }  # fmt: skip
    at = {doing.operation: n for n, doing in enumerate(closing)}
    assert at["off:left-cover"] < at["un:left-cover.left-screw"]
    assert at["off:rear-plate"] < at["un:rear-plate.rear-screw"]
    assert next(doing.how for doing in closing if doing.operation == "un:left-cover.left-screw") == (
        "Torque: 0.5 ± 0.05 N·m",
    )


def test_the_drawing_has_every_place_that_is_come_to_and_its_table_every_place_there_is() -> None:
    for one in every_case():
        made = tree(one)
        diagram = tree_diagram(one, made)
        come_to = {1} | {b.to for p in made.places for b in p.branches if b.probability > 0}
        boxes = {dict(part.data)["place"] for part in diagram.parts if part.kind == "diagram-box"}
        assert boxes <= {str(number) for number in come_to} and "1" in boxes
        assert [row[0] for row in diagram.table.rows] == [str(place.number) for place in made.places]


def test_the_drawing_is_drawn_and_the_same_each_time() -> None:
    one = case("fp420", "12", "mk1")
    first, again = (draw(tree_diagram(one, tree(one))) for _ in range(2))
    assert first.problem == "" and first.drawing is not None
    assert first == again
    assert "1. Measure F2.cold" in first.drawing.svg or "Measure" in first.drawing.svg


def test_words_of_an_author_are_text_in_the_drawing() -> None:
    from dataclasses import replace

    one = case("fp420", "12", "mk1")
    made = tree(one)
    evil = replace(made.places[0], title='<script>alert(1)</script> \\N "x"')
    drawn = draw(tree_diagram(one, replace(made, places=(evil, *made.places[1:]))))
    assert drawn.drawing is not None
    assert "<script" not in drawn.drawing.svg and "&lt;script&gt;" in drawn.drawing.svg
