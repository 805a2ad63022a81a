"""Machines for the tests, written as their author would write them."""

from __future__ import annotations

import re
from collections.abc import Mapping

from benchleaf.applicability import Configuration
from benchleaf.built import Built, build, configurations_of
from benchleaf.link import link
from benchleaf.model import Library, Machine
from benchleaf.records.reading import Row
from benchleaf.shape import shape
from benchleaf.source import Source
from benchleaf.wiring.wiring import Wiring

_DECLARED = re.compile(r"^  ([A-Za-z0-9-]+):", re.MULTILINE)


def library_of(machine: str, wiring: str = "", more: Mapping[str, str] | None = None) -> Library:
    """A library of one machine ``t``; raises AssertionError with the findings when it does not read or link."""
    sources = [Source("t/machine.yaml", f"record: machine\nid: t\nname: Test machine\n{machine}")]
    if wiring:
        sources.append(Source("t/wiring.yaml", f"record: wiring\nmachine: t\n{wiring}"))
    sources += [Source(path, text) for path, text in (more or {}).items()]
    shaped, misfits = shape(sources)
    library, dead = link(shaped)
    assert not (*misfits, *dead), "\n".join(f"{one.place}: {one.message}" for one in (*misfits, *dead))
    return library


def machine_of(machine: str, wiring: str = "", more: Mapping[str, str] | None = None) -> Machine:
    return library_of(machine, wiring, more).machines["t"]


def built_of(machine: str, wiring: str = "", *, on: Configuration | None = None) -> Built:
    """The machine as built: in its first configuration where none is said."""
    made = machine_of(machine, wiring)
    return build(made, on if on is not None else configurations_of(made)[0])


def wired(machine: str, wiring: str = "", *, on: Configuration | None = None) -> Wiring:
    return Wiring.of(built_of(machine, wiring, on=on))


def rows_named(row: Row) -> str:
    return type(row).__name__
