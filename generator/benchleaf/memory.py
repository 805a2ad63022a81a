"""Values worked out once and remembered under a key: for good, or only those asked for lately.

What belongs to a machine is asked for all the time and kept. What belongs to one procedure is asked for while its own
pages are made and hardly ever again: with ten thousand procedures keeping it would fill the memory.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

T = TypeVar("T")
LATELY = 128
"""How many values of one name are kept that were asked for lately: the steps of some sixteen procedures."""


class Memory:
    """``make`` is called where a value is not remembered; it must give the same every time."""

    def __init__(self) -> None:
        self._known: dict[tuple[Any, ...], Any] = {}
        self._lately: dict[Any, dict[tuple[Any, ...], Any]] = {}

    def remember(self, key: tuple[Any, ...], make: Callable[[], T]) -> T:
        """The value under ``key``, made at the first call. ``key`` begins with the name of what is derived."""
        if key not in self._known:
            self._known[key] = make()
        return cast(T, self._known[key])

    def remember_lately(self, key: tuple[Any, ...], make: Callable[[], T]) -> T:
        """The value under ``key``; of each name, the first of the key, only the last ``LATELY`` are kept."""
        shelf = self._lately.setdefault(key[0], {})
        if key in shelf:
            found = shelf.pop(key)
        else:
            found = make()
            while len(shelf) >= LATELY:
                del shelf[next(iter(shelf))]
        shelf[key] = found
        return cast(T, found)
