"""Classes declared with our own decorator behave as those of the standard library do."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from dataclasses import FrozenInstanceError, field
from functools import cached_property
from typing import Any

import pytest

from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    place: str = "here"
    said: dict[str, int] = field(default_factory=dict, repr=False, compare=False, hash=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row(Base):
    name: str
    count: int = 1


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    file: str
    line: int = 1
    end: int | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Open:
    words: tuple[str, ...]

    @cached_property
    def joined(self) -> str:
        return " ".join(self.words)


@dataclass(frozen=True, slots=True)
class Made:
    low: int
    high: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "high", self.low + 1)


def standard(cls: type[Any], **how: Any) -> Any:
    """The same fields declared with the standard decorator."""
    parts = [
        (one.name, one.type, field(default=one.default, default_factory=one.default_factory, compare=one.compare,
                                   repr=one.repr, hash=one.hash, kw_only=one.kw_only))
        for one in dataclasses.fields(cls)
    ]  # fmt: skip
    return dataclasses.make_dataclass(cls.__name__, parts, frozen=True, slots=True, **how)


@pytest.mark.parametrize("kept", [(), (3,), (3, 5)])
def test_values_are_made_shown_and_compared_as_the_standard_ones(kept: tuple[int, ...]) -> None:
    theirs = standard(Spot, order=True)
    assert repr(Spot("a", *kept)) == repr(theirs("a", *kept))
    assert (Spot("a", *kept) == Spot("a", 3)) is (theirs("a", *kept) == theirs("a", 3))
    for other in (Spot("a", 2), Spot("a", 3, 9), Spot("b")):
        twin = theirs(other.file, other.line, other.end)
        assert (Spot("a", *kept) < other) is (theirs("a", *kept) < twin)
        assert (Spot("a", *kept) <= other) is (theirs("a", *kept) <= twin)
        assert (Spot("a", *kept) > other) is (theirs("a", *kept) > twin)
        assert (Spot("a", *kept) >= other) is (theirs("a", *kept) >= twin)


def test_what_is_not_compared_is_not_hashed_either() -> None:
    assert Spot("a", 1, 4) == Spot("a", 1, 9)
    assert len({Spot("a", 1, 4), Spot("a", 1, 9), Spot("a", 2)}) == 2
    assert hash(Row(name="x", said={"a": 1})) == hash(Row(name="x"))


def test_classes_do_not_mix() -> None:
    assert Spot("a") != ("a", 1, None)
    assert Base() != Row(name="x")
    with pytest.raises(TypeError):
        Spot("a") < ("a", 1)  # type: ignore[operator]  # noqa: B015


def test_inherited_fields_stand_first_and_a_factory_makes_each_its_own() -> None:
    assert [one.name for one in dataclasses.fields(Row)] == ["place", "said", "name", "count"]
    one, two = Row(name="x"), Row(name="y", count=2, place="there")
    assert one.said == {} and one.said is not two.said
    assert repr(two) == "Row(place='there', name='y', count=2)"


def test_arguments_are_refused_as_the_standard_ones_refuse_them() -> None:
    for wrong in ({}, {"name": "x", "color": 1}):
        with pytest.raises(TypeError):
            Row(**wrong)
    with pytest.raises(TypeError):
        Row("x")  # type: ignore[misc]
    with pytest.raises(TypeError):
        Spot("a", 1, 2, 3)  # type: ignore[call-arg]


def test_nothing_can_be_set_or_deleted() -> None:
    for made in (Row(name="x"), Open(("a",)), Spot("a")):
        with pytest.raises(FrozenInstanceError):
            made.name = "y"  # type: ignore[misc, union-attr]
        with pytest.raises(FrozenInstanceError):
            del made.place  # type: ignore[misc, union-attr]
    assert not hasattr(Row(name="x"), "__dict__")


def test_copies_pickles_and_replacements_are_equal_and_frozen() -> None:
    for made in (Row(name="x", said={"a": 1}), Open(("a", "b")), Spot("a", 1, 4), Made(3)):
        for twin in (copy.copy(made), copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
            assert twin == made and type(twin) is type(made)
            with pytest.raises(FrozenInstanceError):
                twin.name = "y"  # type: ignore[misc]
    assert dataclasses.replace(Row(name="x", said={"a": 1}), count=3).said == {"a": 1}
    assert dataclasses.replace(Spot("a", 1, 4), line=2).end == 4


def test_what_is_worked_out_from_a_value_is_remembered_by_it() -> None:
    made = Open(("a", "b"))
    assert made.joined == "a b" and made.__dict__["joined"] is made.joined
    assert Made(3).high == 4


def test_a_value_takes_part_in_matching() -> None:
    match Spot("a", 7):
        case Spot(file, line):
            assert (file, line) == ("a", 7)
        case _:
            pytest.fail("not matched")
