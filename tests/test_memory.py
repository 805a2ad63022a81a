"""What is remembered: for good what belongs to a machine, for a while what belongs to one procedure."""

from __future__ import annotations

from benchleaf.memory import LATELY, Memory


def test_a_value_is_made_once() -> None:
    memory, made = Memory(), []
    for _ in range(3):
        assert memory.remember(("name", 1), lambda: made.append(1) or "value") == "value"
        assert memory.remember_lately(("name", 1), lambda: made.append(2) or "other") == "other"
    assert made == [1, 2]


def test_what_was_not_asked_for_lately_is_forgotten_and_made_again() -> None:
    memory, made = Memory(), []

    def ask(name: str, number: int) -> int:
        return memory.remember_lately((name, number), lambda: made.append((name, number)) or number)

    ask("another", 0)
    for number in range(LATELY + 1):
        assert ask("step", number) == number
        assert ask("step", 1) == 1
    made.clear()
    for number in (1, 2, LATELY):
        ask("step", number)
    assert ask("another", 0) == 0 and made == []
    assert ask("step", 0) == 0 and made == [("step", 0)]
