"""What a check is: a code, the words that explain it, and a function from what is known to findings."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from types import ModuleType

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.frozen import dataclass

Run = Callable[[Derived], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Check:
    """One check: the codes its findings carry, and ``manual``, its page: what it means, why, the way out.

    A check with many codes may have a page for each in ``pages``.
    """

    codes: tuple[str, ...]
    run: Run
    manual: str
    pages: Mapping[str, str] = field(default_factory=dict)


def check_of(module: ModuleType) -> Check:
    """The check in a module: its ``CODES``, its ``run``, its docstring as the manual page, ``PAGES`` if it has any."""
    manual = inspect.cleandoc(module.__doc__ or "")
    return Check(tuple(module.CODES), module.run, manual, getattr(module, "PAGES", {}))
