"""Frozen dataclasses that cost little to declare: ``check`` makes some 240 classes before it reads its first record.

``dataclass`` here takes the place of the standard decorator, and type checkers are told that it is the standard one.
Fields, slots, ``fields``, ``replace`` and matching are the standard library's. The methods it would write and compile
for every class (half a millisecond a class) are here compiled when first called: a run needs few of them.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, fields
from functools import partial
from types import MemberDescriptorType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, /, *, frozen=False, slots=False, kw_only=False, eq=True, order=False):
        """As ``dataclasses.dataclass`` with these arguments; one that is not frozen is made by it."""
        if not frozen:
            return dataclasses.dataclass(cls, slots=slots, kw_only=kw_only, eq=eq, order=order)
        declare = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)
        return lambda cls: _furnish(declare(cls), slots, eq, order)


_ORDER = {"__lt__": "<", "__le__": "<=", "__gt__": ">", "__ge__": ">="}


def _furnish(cls: Any, slots: bool, eq: bool, order: bool) -> Any:
    own = cls.__dict__
    cls.__setattr__ = _refuse_to_set
    cls.__delattr__ = _refuse_to_delete
    cls.__init__ = _later(cls, "__init__", _init)
    if "__repr__" not in own:
        cls.__repr__ = _repr
    if slots:
        cls.__getstate__ = _state
        cls.__setstate__ = _set_state
    if eq and own.get("__hash__") is None:
        cls.__hash__ = _later(cls, "__hash__", _hash)
    if eq and "__eq__" not in own:
        cls.__eq__ = _later(cls, "__eq__", partial(_comparison, name="__eq__", sign="=="))
    if order:
        for name, sign in _ORDER.items():
            setattr(cls, name, _later(cls, name, partial(_comparison, name=name, sign=sign)))
    return cls


def _later(cls: Any, name: str, write: Callable[[Any], Any]) -> Callable[..., Any]:
    """A method that puts the true one in its own place at the first call, and goes on with that."""

    def first(*args: Any, **named: Any) -> Any:
        made = write(cls)
        setattr(cls, name, made)
        return made(*args, **named)

    return first


def _refuse_to_set(self: Any, name: str, value: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(self: Any, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")


def _repr(self: Any) -> str:
    shown = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self) if one.repr)
    return f"{type(self).__qualname__}({shown})"


def _state(self: Any) -> list[Any]:
    return [getattr(self, one.name) for one in fields(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for one, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, one.name, value)


def _compile(name: str, head: str, body: list[str], known: dict[str, Any]) -> Any:
    exec(f"def {name}({head}):\n" + "\n".join(f" {line}" for line in body), known)
    return known[name]


def _listed(owner: str, names: list[str]) -> str:
    return "(" + "".join(f"{owner}.{name}, " for name in names) + ")"


def _comparison(cls: Any, name: str, sign: str) -> Any:
    compared = [one.name for one in fields(cls) if one.compare]
    answer = f"{_listed('self', compared)} {sign} {_listed('other', compared)}"
    body = [f"return {answer} if other.__class__ is self.__class__ else NotImplemented"]
    return _compile(name, "self, other", body, {})


def _hash(cls: Any) -> Any:
    hashed = [one.name for one in fields(cls) if (one.compare if one.hash is None else one.hash)]
    return _compile("__hash__", "self", [f"return hash({_listed('self', hashed)})"], {})


def _init(cls: Any) -> Any:
    """Sets each field by the slot itself where there is one: that goes past the refusal, and is the fastest way."""
    known: dict[str, Any] = {"_put": object.__setattr__, "_left_out": MISSING}
    plain: list[str] = ["self"]
    named: list[str] = []
    body: list[str] = []
    for one in fields(cls):
        word = one.name
        if not one.init:
            if one.default is not MISSING or one.default_factory is not MISSING:
                raise TypeError(f"{cls.__name__}.{word}: a field that is not given is set in __post_init__")
            continue
        if one.default is not MISSING:
            known[f"_of_{word}"] = one.default
            word += f"=_of_{word}"
        elif one.default_factory is not MISSING:
            known[f"_of_{word}"] = one.default_factory
            body.append(f"if {word} is _left_out: {word} = _of_{word}()")
            word += "=_left_out"
        (named if one.kw_only else plain).append(word)
        slot = getattr(cls, one.name, None)
        if isinstance(slot, MemberDescriptorType):
            known[f"_put_{one.name}"] = slot.__set__
            body.append(f"_put_{one.name}(self, {one.name})")
        else:
            body.append(f"_put(self, {one.name!r}, {one.name})")
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    return _compile("__init__", ", ".join([*plain, *(["*", *named] if named else [])]), body or ["pass"], known)
