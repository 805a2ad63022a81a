"""Small machines written as a technician writes them, made ready for asking the way."""

from __future__ import annotations

from textwrap import dedent

from benchleaf.access.ways import Ways, ways_of
from benchleaf.applicability import Configuration
from benchleaf.derived import Derived
from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.shape import shape
from benchleaf.source import Source

NO_ENERGY = "energy: {}\n"


def derived_of(machine: str, wiring: str = "", shop: str = "", *, no_links: bool = False, **more: str) -> Derived:
    """A library of one machine ``m`` with the procedures ``more``. Fails on any misfit; ``no_links``: not on names."""
    head = "record: machine\nid: m\nname: Machine\n"
    sources = [Source("shop.yaml", "record: shop\n" + dedent(shop)), Source("m/machine.yaml", head + dedent(machine))]
    if wiring:
        sources.append(Source("m/wiring.yaml", "record: wiring\nmachine: m\n" + dedent(wiring)))
    sources += [Source(f"m/teardown/{name}.yaml", dedent(text)) for name, text in more.items()]
    shaped, misfits = shape(sources)
    library, dead = link(shaped, ())
    wrong = [f"{one.place}: {one.message}" for one in (*misfits, *(() if no_links else dead))]
    assert not wrong, wrong
    return Derived(library)


def the_machine(derived: Derived) -> Machine:
    return derived.library.machines["m"]


def ways(machine: str, wiring: str = "", shop: str = "", on: Configuration | None = None) -> Ways:
    """The ways into a machine; without ``on``, in its first configuration."""
    derived = derived_of(machine, wiring, shop)
    one = the_machine(derived)
    return ways_of(derived, one, on if on is not None else derived.configurations(one)[0])
