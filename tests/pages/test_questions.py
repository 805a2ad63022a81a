"""Which machine have I got: the fewest questions, and those nobody can answer said aloud."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.pages.library import demo

from benchleaf.pages.questions import Question, fewest_questions, unanswerable, variant_questions


def asked(words: str, yes: str, cases: str) -> Question:
    return Question(words, {case: "yes" if case in yes else "no" for case in cases})


def test_two_variants_need_one_question() -> None:
    chosen = fewest_questions("ab", [asked("A?", "a", "ab"), asked("B?", "b", "ab")])
    assert [one.words for one in chosen.questions] == ["A?"]
    assert chosen.alike == ()


def test_a_question_that_halves_the_cases_beats_two_that_name_one_each() -> None:
    questions = [asked(f"{case}?", case, "abcd") for case in "abcd"]
    assert len(fewest_questions("abcd", questions).questions) == 3
    halves = [*questions, asked("a or b?", "ab", "abcd"), asked("a or c?", "ac", "abcd")]
    assert [one.words for one in fewest_questions("abcd", halves).questions] == ["a or b?", "a or c?"]


def test_cases_that_no_question_separates_are_handed_back() -> None:
    chosen = fewest_questions("abc", [asked("A?", "a", "abc")])
    assert chosen.alike == (("b", "c"),)


def test_a_question_says_nothing_about_a_case_it_leaves_out() -> None:
    chosen = fewest_questions("ab", [Question("A?", {"a": "yes"})])
    assert chosen.questions == () and chosen.alike == (("a", "b"),)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.sampled_from(["yes", "no"]), min_size=5, max_size=5), max_size=5))
def test_no_smaller_choice_separates_as_much(answers: list[list[str]]) -> None:
    cases = "abcde"
    questions = [Question(str(n), dict(zip(cases, row, strict=True))) for n, row in enumerate(answers)]
    chosen = fewest_questions(cases, questions)

    def separated(some: tuple[Question, ...]) -> set[tuple[str, str]]:
        return {pair for pair in combinations(cases, 2) if any(one.separates(*pair) for one in some)}

    everything = separated(tuple(questions))
    assert separated(chosen.questions) == everything
    assert set(chosen.alike) == set(combinations(cases, 2)) - everything
    for size in range(len(chosen.questions)):
        assert all(separated(some) != everything for some in combinations(questions, size))


def test_the_demo_asks_one_question_a_machine_for_its_variants() -> None:
    machines = demo().derived.library.machines
    assert [len(variant_questions(one.record).questions) for one in machines.values()] == [1, 1]
    assert [unanswerable(one.record) for one in machines.values()] == [(), ()]
