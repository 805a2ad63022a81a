"""How far a long piece of work is, on a terminal and nowhere else: a log or a pipe gets no line of it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def bar(what: str = "Paper") -> Iterator[Callable[[str, int, int], None]]:
    """A bar that is told what is being done, how much is done and how much there is; gone when the work is."""
    if not sys.stderr.isatty():
        yield lambda words, done, total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn(what), BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}", markup=False))
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task("", total=None)

        def tell(words: str, done: int, total: int) -> None:
            shown.update(task, description=words, completed=done, total=total)

        yield tell
