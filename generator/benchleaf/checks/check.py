"""What a check is: a code, the words that explain it, and a function from what is known to findings."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import ModuleType

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding

Run = Callable[[Derived], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Check:
    """One check: the codes its findings carry, and ``manual``, its page: what it means, why, the way out."""

    codes: tuple[str, ...]
    run: Run
    manual: str


def check_of(module: ModuleType) -> Check:
    """The check in a module: its ``CODES``, its ``run``, and its docstring as the manual page."""
    return Check(tuple(module.CODES), module.run, inspect.cleandoc(module.__doc__ or ""))
