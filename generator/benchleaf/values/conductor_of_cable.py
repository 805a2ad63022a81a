"""One wire of a recorded cable as the computations want it: gauge, length, rating, each with where it is written.

Which wire is which follows the cable's map; gauge and rating are one for all wires, or one each in map order.
"""

from __future__ import annotations

from typing import TypeVar

from benchleaf.records.wiring import Cable
from benchleaf.values.conductors import Conductor
from benchleaf.values.origin import Origin, Recorded
from benchleaf.values.quantity import Quantity
from benchleaf.values.recorded import highest, origin_in

T = TypeVar("T")


def conductor_of(cable: Cable, number: int, *, contacts: int = 2, leads_zeroed: bool = False) -> Conductor:
    """Wire ``number`` (from 0, in map order) of a cable, with where each fact is written.

    ``contacts`` are those between the probes: 2 when both ends are mated, 0 when probing the bare wire.
    """
    wires = cable.wires
    gauge = one_of(wires.gauge, number) if wires is not None else None
    length = highest(cable.length)
    origins: dict[str, Origin | None] = {
        "length": origin_in(length),
        "gauge": Recorded(gauge.tidy, wires.place_of("gauge")) if wires is not None and gauge is not None else None,
    }
    return Conductor(
        gauge=gauge,
        length=length.quantity if length is not None else None,
        contacts=contacts,
        leads_zeroed=leads_zeroed,
        origins={key: origin for key, origin in origins.items() if origin is not None},
    )


def one_of(given: tuple[T, ...] | None, number: int) -> T | None:
    """One for all, or the one of this wire; ``None`` when not recorded or the list is too short."""
    if not given:
        return None
    return given[0] if len(given) == 1 else given[number] if number < len(given) else None


def rated_of(cable: Cable, number: int) -> Quantity | None:
    """The current wire ``number`` is rated for; ``None`` = not recorded."""
    return one_of(cable.wires.rated, number) if cable.wires is not None else None
