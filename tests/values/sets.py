"""Fastener sets and small machines for the tests of values, read from text as an author writes it."""

from __future__ import annotations

from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.fastener_sets import FastenerSet
from benchleaf.pipeline import check_sources
from benchleaf.records.shared import ShopRecord
from benchleaf.source import Source

SHOP = "record: shop\nname: A shop\n"


def derived_of(machine: str, shop: str = SHOP, **more: str) -> Derived:
    """A library of one machine ``m``; ``more`` are other files, ``wiring`` for ``m/wiring.yaml``."""
    files = {"shop.yaml": shop, "m/machine.yaml": "record: machine\nid: m\nname: Machine\n" + machine}
    files |= {f"m/{name.replace('__', '/')}.yaml": text for name, text in more.items()}
    checked = check_sources(Source(path, text) for path, text in files.items())
    assert not [one for one in checked.findings if one.is_error], checked.findings
    return checked.derived


def builts_of(derived: Derived) -> tuple[Built, ...]:
    return derived.all_built(derived.library.machines["m"])


def set_of(keys: str, count: int = 4, shop: str = SHOP) -> tuple[FastenerSet, ShopRecord]:
    """The set ``lid.screws`` with these keys, and the shop."""
    machine = (
        "fasteners:\n  screw: {thread: M3}\n"
        f"items:\n  lid: {{name: Lid, held-by: {{screws: {{fastener: screw, count: {count}, {keys}}}}}}}\n"
    )
    derived = derived_of(machine, shop)
    return builts_of(derived)[0].sets["lid.screws"], derived.library.shop
