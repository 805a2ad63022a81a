"""The isolation states of a machine to look at: nothing, each device alone, the recorded sequence, all together."""

from __future__ import annotations

from functools import cached_property

from benchleaf.frozen import dataclass
from benchleaf.wiring.devices import Device
from benchleaf.wiring.live_nets import LiveNet, live_nets
from benchleaf.wiring.still_live import LiveMap, live_map
from benchleaf.wiring.wiring import Wiring

NOTHING, SINGLE, SEQUENCE, ALL = "nothing", "single", "sequence", "all"


@dataclass(frozen=True, eq=False)
class IsolationState:
    """One state. ``devices`` in their order, as words: ``unplug XP1``.

    ``live`` is what can be live just after: stored charge has not been proved gone. ``fed`` is what still comes in once
    it has been.
    """

    kind: str
    title: str
    devices: tuple[str, ...]
    live: LiveMap
    fed: LiveMap

    @cached_property
    def nets(self) -> tuple[LiveNet, ...]:
        """The live nets just after, surest first."""
        return live_nets(self.live)

    @cached_property
    def fed_nets(self) -> tuple[LiveNet, ...]:
        """The nets that still live when every stored charge is proved gone, surest first."""
        return live_nets(self.fed)


def isolation_states(wiring: Wiring) -> tuple[IsolationState, ...]:
    """Nothing isolated; each single device; the recorded sequence step by step; all together. Each set once."""
    order = sequence_of(wiring)
    wanted: list[tuple[str, str, tuple[Device, ...]]] = [(NOTHING, "nothing isolated", ())]
    wanted += [(SINGLE, device.words, (device,)) for device in order]
    if len(order) > 1:
        wanted += [(SEQUENCE, _after(order[:n]), order[:n]) for n in range(2, len(order))]
        wanted.append((ALL, "all together", order))
    return tuple(state_of(wiring, kind, title, tuple(d.words for d in devices)) for kind, title, devices in wanted)


def sequence_of(wiring: Wiring) -> tuple[Device, ...]:
    """The devices that isolate anything electrical, in the order of the energies and of each one's list."""
    return tuple(device for device in wiring.devices if _is_electrical(wiring, device))


def _is_electrical(wiring: Wiring, device: Device) -> bool:
    energy = wiring.built.energy
    return device.isolates or any(energy[name].kind == "electrical" for name in device.energies)


def _after(devices: tuple[Device, ...]) -> str:
    return " and ".join((", ".join(d.words for d in devices[:-1]), devices[-1].words))


def state_of(wiring: Wiring, kind: str, title: str, devices: tuple[str, ...]) -> IsolationState:
    """One state by the names of its devices."""
    live = live_map(wiring, devices)
    everything = tuple(wiring.supplies) + tuple(wiring.built.energy)
    fed = live_map(wiring, devices, proved_dead=everything) if wiring.stores else live
    return IsolationState(kind, title, devices, live, fed)
