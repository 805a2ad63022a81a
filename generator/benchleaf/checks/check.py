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

    A check with many codes may have a page for each in ``pages``. ``by_machine``: what it says of a machine depends on
    no other machine, so that machines can be shared out between processes.
    """

    codes: tuple[str, ...]
    run: Run
    manual: str
    pages: Mapping[str, str] = field(default_factory=dict)
    by_machine: bool = False


def check_of(module: ModuleType) -> Check:
    """The check in a module: its ``CODES``, its ``run``, its docstring as the manual page.

    ``PAGES`` and ``BY_MACHINE`` are taken from the module where it has them.
    """
    manual = inspect.cleandoc(module.__doc__ or "")
    pages, by_machine = getattr(module, "PAGES", {}), getattr(module, "BY_MACHINE", False)
    return Check(tuple(module.CODES), module.run, manual, pages, by_machine)
