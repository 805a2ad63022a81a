"""What the functions of a machine hang on, as a page without Python reads it: functions, links, supplies.

The page is told what is dead and what works, and finds what the dead share and where to measure next by the rule of
``common_path``. The words of the measurement are put together there from the parts written here.
"""

from __future__ import annotations

import json
from typing import Any

from benchleaf.access.ways import ways_of
from benchleaf.derived import Derived
from benchleaf.model import Machine
from benchleaf.troubles.common_path import POWERED
from benchleaf.troubles.supply_chain import Link, Supplies, place_words, supplies_of
from benchleaf.wiring.contacts import shown

FORM = 1
"""The form of the table; js/supplies.js refuses another."""
NOT_RECORDED = "a voltage not recorded"
NO_RETURN = "its return (not recorded)"


def supply_table(supplies: Supplies) -> dict[str, Any]:
    """One machine as built. ``functions``: [item, words, its links by number, upstream first; none = not recorded].

    ``links``: [id, words, where its far side is measured (empty: nowhere), number of the supply measured there,
    whether it shows only under power, whether copper leads there from the supply]. ``sources``: where the voltage
    comes out, what it is, against what it is measured.
    """
    numbers: dict[Link, int] = {}
    sources: dict[str, int] = {}
    functions = []
    for item in supplies.functions:
        chain = supplies.chain(item)
        for link in chain.links:
            numbers.setdefault(link, len(numbers))
            sources.setdefault(link.source, len(sources))
        words = supplies.item_words(item)
        functions.append([item, words, [numbers[link] for link in chain.links] if chain.known else []])
    return {
        "form": FORM,
        "functions": functions,
        "links": [
            [
                link.id,
                supplies.words(link.id),
                place_words(link.after) if link.after else "",
                sources[link.source],
                int(link.id.startswith(POWERED)),
                int(bool(link.after) and supplies.conducts(link.source, link.after)),
            ]
            for link in numbers
        ],
        "sources": [_source(supplies, name) for name in sources],
    }


def _source(supplies: Supplies, name: str) -> list[str]:
    source = supplies.built.sources[name]
    start = " or ".join(shown(str(one)) for one in source.at)
    nominal = source.nominal.tidy if source.nominal is not None else NOT_RECORDED
    back = " and ".join(shown(str(one)) for one in source.return_ or ()) or NO_RETURN
    return [start, nominal, back]


def supply_tables(derived: Derived, machine: Machine) -> tuple[tuple[tuple[str, ...], Any, dict[str, Any]], ...]:
    """The tables of a machine: (configurations in words, configurations, table), those with one table together."""

    def make() -> tuple[tuple[tuple[str, ...], Any, dict[str, Any]], ...]:
        found: dict[str, tuple[list[str], list[Any], dict[str, Any]]] = {}
        for configuration in derived.configurations(machine):
            table = supply_table(supplies_of(ways_of(derived, machine, configuration)))
            labels, on, _ = found.setdefault(json.dumps(table), ([], [], table))
            labels.append(configuration.label)
            on.append(configuration)
        return tuple((tuple(labels), tuple(on), table) for labels, on, table in found.values())

    return derived.remember(("supply tables", str(machine.id)), make)
