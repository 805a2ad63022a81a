"""Repairs in a row: likelihood over cost, and covers one within the other."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.isolation.clusters import Job, by_likelihood_over_cost, expected_minutes, from_the_inside_out


def test_what_is_worth_more_for_its_minutes_comes_first() -> None:
    jobs = {"a": Job(30, 0.5), "b": Job(8, 0.2), "c": Job(2, 0.1), "d": Job(0, 0.01)}
    assert by_likelihood_over_cost(jobs) == ("d", "c", "b", "a")


def test_a_cover_is_worth_opening_for_all_that_is_behind_it() -> None:
    jobs = {
        "open": Job(6, 0.0),
        "behind 1": Job(2, 0.5, "open"),
        "behind 2": Job(2, 0.3, "open"),
        "outside": Job(10, 0.1),
    }
    assert from_the_inside_out(jobs) == ("open", "behind 1", "behind 2", "outside")


jobs_alone = st.lists(
    st.builds(Job, st.integers(0, 9).map(float), st.integers(0, 9).map(float)), min_size=1, max_size=6
).map(lambda jobs: {f"j{i}": job for i, job in enumerate(jobs)})


@st.composite
def jobs_in_trees(draw: st.DrawFn) -> dict[str, Job]:
    jobs = draw(jobs_alone)
    names = sorted(jobs)
    waiting = {}
    for i, name in enumerate(names):
        after = draw(st.sampled_from([None, *names[:i]]))
        waiting[name] = Job(jobs[name].minutes, jobs[name].weight, after)
    return waiting


@settings(max_examples=100, deadline=None)
@given(jobs_alone)
def test_no_permutation_of_jobs_that_stand_alone_is_better(jobs: dict[str, Job]) -> None:
    best = min(expected_minutes(jobs, order) for order in permutations(jobs))
    assert expected_minutes(jobs, by_likelihood_over_cost(jobs)) == pytest.approx(best)


@settings(max_examples=150, deadline=None)
@given(jobs_in_trees())
def test_no_permutation_of_jobs_in_trees_is_better(jobs: dict[str, Job]) -> None:
    def can_be_done(order: tuple[str, ...]) -> bool:
        return all(jobs[name].after in (None, *order[:i]) for i, name in enumerate(order))

    found = from_the_inside_out(jobs)
    assert can_be_done(found)
    best = min(expected_minutes(jobs, order) for order in permutations(jobs) if can_be_done(order))
    assert expected_minutes(jobs, found) == pytest.approx(best)
