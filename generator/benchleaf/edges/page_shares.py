"""The pages of a big manual are written by as many processes as there are cores, each taking the next part.

Only where a process can be forked, so that the records need not be read twice or sent over, and only where there is
enough to do; elsewhere the same pages are written here, one by one. Which process writes a page changes no byte of it.
"""

from __future__ import annotations

import ctypes
import gc
import os
import pickle
import signal
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any, cast

from benchleaf.edges.shares import MOST_SHARES, usable_cores
from benchleaf.pages.page import Page, PartedPages

WORTH_SHARING = 4  # parts; a small manual is written before a second process has started
_TOKEN = 4  # bytes that tell a process which part to make next
_SET_DEATH_SIGNAL = 1  # linux/prctl.h

Tell = Callable[[str, int, int], None]


class PagesLost(RuntimeError):
    """A process that wrote pages ended before it was done; the words are for the author."""


def write_pages(
    pages: Iterable[Page], write: Callable[[Page], None], tell: Tell | None = None, cores: int | None = None
) -> None:
    """Call ``write`` for each page: in several processes, in no fixed order, where the pages come in parts.

    ``tell`` hears what is done, how many parts are and how many there are. ``cores`` is how many processes to use at
    most (default: what this process may use). What ``write`` raises is raised here; ``PagesLost`` where a process was
    ended from outside.
    """
    with _records_left_alone():
        if not isinstance(pages, PartedPages):
            for page in pages:
                write(page)
            return
        count = min(usable_cores() if cores is None else cores, MOST_SHARES, len(pages.parts))
        if count < 2 or len(pages.parts) < WORTH_SHARING or sys.platform != "linux":
            for at, part in enumerate(pages.parts):
                _make(part, write, pages.note)
                if tell is not None:
                    tell("pages", at + 1, len(pages.parts))
        else:
            _share(pages, write, tell, count)
    pages.let_go()


@contextmanager
def _records_left_alone() -> Iterator[None]:
    """The records all stay: looking for rings among them with every collection takes time and touches every page."""
    gc.collect()
    gc.freeze()
    try:
        yield
    finally:
        gc.unfreeze()


def _make(part: Callable[[], Iterable[Page]], write: Callable[[Page], None], note: Callable[[Any], None]) -> int:
    made = 0
    for page in part():
        write(page)
        note(page.documents)
        made += 1
    return made


def _share(pages: PartedPages, write: Callable[[Page], None], tell: Tell | None, count: int) -> None:
    from multiprocessing import get_context
    from multiprocessing.connection import wait

    fork = get_context("fork")
    take, give = os.pipe()
    helpers: dict[Any, Any] = {}
    done, every = 0, len(pages.parts)
    try:
        for _ in range(count):
            receive, send = fork.Pipe(duplex=False)
            process = fork.Process(target=_run, args=(pages, write, take, send, (give, *helpers), os.getpid()))
            process.daemon = True
            process.start()
            send.close()
            helpers[receive] = process
        os.close(take)
        for at in range(every):
            os.write(give, at.to_bytes(_TOKEN, "big"))
        os.close(give)
        while done < every:
            for ready in cast(list[Any], wait(helpers)):
                try:
                    documents, failure = pickle.loads(ready.recv_bytes())
                except EOFError:
                    helpers.pop(ready).join()
                    if not helpers:
                        raise PagesLost("a process that wrote pages was ended from outside: build again") from None
                    continue
                if failure is not None:
                    raise failure
                pages.note(documents)
                done += 1
                if tell is not None:
                    tell("pages", done, every)
    finally:
        for process in helpers.values():
            if done < every:
                process.kill()
            process.join()


def _run(pages: PartedPages, write: Callable[[Page], None], take: int, send: Any, others: Any, parent: int) -> None:
    """Make parts until none is left; what the search knows of each goes back, or what went wrong."""
    ctypes.CDLL(None).prctl(_SET_DEATH_SIGNAL, signal.SIGKILL)  # nobody writes on into the site of a killed build
    if os.getppid() != parent:
        return
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process hears it and ends this one
    give, *receivers = others
    os.close(give)
    for receiver in receivers:
        receiver.close()
    while token := os.read(take, _TOKEN):
        at = int.from_bytes(token, "big")
        documents: list[Any] = []
        failure: BaseException | None = None
        try:
            _make(pages.parts[at], write, documents.extend)
        except Exception as error:
            failure = _as_sent(error)
        send.send_bytes(pickle.dumps(([] if failure else documents, failure)))
        if failure is not None:
            return


def _as_sent(error: Exception) -> Exception:
    """An exception that survives the way to the first process, whatever its class asks for."""
    try:
        if str(pickle.loads(pickle.dumps(error))) == str(error):
            return error
    except Exception:
        pass
    return RuntimeError(f"{type(error).__name__}: {error}")
