"""The demo's troubles as the tests of fault isolation meet them, worked out once a run."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from benchleaf.derived import Derived
from benchleaf.edges.files import read_library
from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.shape import shape
from benchleaf.source import Source
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.problem_of import Case, cases_of

CONTENT = Path(__file__).parents[2] / "content"


@cache
def derived() -> Derived:
    sources, assets, _ = read_library(CONTENT)
    shaped, misfits = shape(sources)
    library, dead = link(shaped, assets)
    assert not [one for one in (*misfits, *dead) if one.is_error]
    return Derived(library)


def machine(name: str) -> Machine:
    return derived().library.machines[name]


def trouble(name: str, id: str) -> Trouble:
    one = machine(name)
    return one.codes[id] if id in one.codes else one.symptoms[id]


def case(name: str, id: str, on: str | None = None) -> Case:
    """The case of a trouble that holds on the machine described by ``on``; the first when it is left out."""
    found = cases_of(derived(), machine(name), trouble(name, id))
    return next(one for one in found if on is None or on in one.on)


def every_case() -> list[Case]:
    found: list[Case] = []
    for one in derived().library.machines.values():
        troubles: list[Trouble] = [*one.codes.values(), *one.symptoms.values()]
        found += [case for trouble in troubles for case in cases_of(derived(), one, trouble)]
    return found


def derived_from(files: dict[str, str]) -> Derived:
    """A small library written in a test, path → text."""
    shaped, misfits = shape([Source(path, text) for path, text in files.items()])
    library, dead = link(shaped, [])
    wrong = [f"{one.place} {one.message}" for one in (*misfits, *dead) if one.is_error]
    assert not wrong, wrong
    return Derived(library)
