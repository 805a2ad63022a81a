"""The energy-control sheet of a machine: what to do about every kind of energy, in the order of 29 CFR 1910.147(d).

Know, shut down, isolate, lock, relieve, verify. What nobody recorded stands on it as a gap and counts as energised; no
waiting time stands without its measurement, and nothing on it says that anything is safe.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.frozen import dataclass
from benchleaf.records.energy import ENERGIES, Energy
from benchleaf.records.shared import ShopRecord
from benchleaf.values.stored_of_energy import not_recorded, stored_of_energy
from benchleaf.wiring.conduction import How
from benchleaf.wiring.isolation_states import IsolationState, isolation_states
from benchleaf.wiring.live_nets import LiveNet, proof_points, words_of_source
from benchleaf.wiring.wiring import Wiring

STANDARD = "29 CFR 1910.147(d)"
TITLES = (
    ("(d)(1)", "Know the energies"),
    ("(d)(2)", "Shut down"),
    ("(d)(3)", "Isolate"),
    ("(d)(4)", "Lock and tag"),
    ("(d)(5)", "Relieve what is stored"),
    ("(d)(6)", "Verify"),
)
TESTER_BEFORE = "Prove the tester on a known live source, then measure each pole to each other and to earth, AC and DC."
TESTER_AFTER = "Prove the tester again on the same known source. If it fails, nothing measured counts."
MOST_NETS = 6
_RELIEVE = {
    "thermal": "let it cool, however long that takes, then measure",
    "pneumatic": "vent it, then measure",
    "spring": "release the spring or hold it mechanically, then look that it can move nothing",
    "gravity": "lower it or block it, then look that the block bears it",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """What a line lists, so that the lists of several machines can be put together.

    ``stem`` begins the line, ``listed`` are the things in order; ``more`` counts the nets left out: all of them, those
    only through loads, those not recorded.
    """

    stem: str
    listed: tuple[str, ...]
    more: tuple[int, int, int] = (0, 0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One line: the energy it is about (empty = the machine), the words, and whether something is missing or left.

    ``listing`` holds the words once more where they are a list.
    """

    words: str
    energy: str = ""
    gap: bool = False
    listing: Listing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """One step of the standard with its lines in order."""

    clause: str
    title: str
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlSheet:
    """The sheet of one machine in one configuration. ``parts`` are the six steps in their order."""

    machine: str
    name: str
    configuration: str
    parts: tuple[SheetPart, ...]

    @property
    def gaps(self) -> tuple[SheetLine, ...]:
        return tuple(line for part in self.parts for line in part.lines if line.gap)


def control_sheet(wiring: Wiring, shop: ShopRecord) -> ControlSheet:
    """The energy-control sheet of a machine as built."""
    built = wiring.built
    writer = _Writer(wiring, shop)
    parts = (
        writer.know(), writer.shut_down(), writer.isolate(), writer.lock(), writer.relieve(), writer.verify(),
    )  # fmt: skip
    return ControlSheet(
        machine=str(built.machine.id),
        name=str(built.machine.name),
        configuration=built.configuration.label,
        parts=tuple(
            SheetPart(clause=clause, title=title, lines=tuple(lines))
            for (clause, title), lines in zip(TITLES, parts, strict=True)
        ),
    )


class _Writer:
    """The lines of each step."""

    def __init__(self, wiring: Wiring, shop: ShopRecord) -> None:
        self.wiring, self.built, self.shop = wiring, wiring.built, shop
        self.states = isolation_states(wiring)

    def named(self, name: str) -> str:
        return str(self.built.energy[name].name or name)

    def know(self) -> Iterator[SheetLine]:
        built = self.built
        for name, energy in built.energy.items():
            yield SheetLine(energy=name, words=f"{self.named(name)}: {energy.kind}{self._magnitude(name, energy)}")
            where = self._where(name, energy)
            if where:
                yield _listing(Listing(stem=f"{self.named(name)} is at", listed=where), energy=name)
            else:
                yield SheetLine(
                    energy=name,
                    words=f"where {self.named(name)} is, is not recorded: it counts as everywhere",
                    gap=True,
                )
        if not built.energy:
            yield SheetLine(words="no energy is recorded: the machine counts as energised throughout", gap=True)
        for name in self.wiring.supplies:
            if name not in built.energy:
                words = f"{words_of_source(self.wiring, name)} has no entry under `energy`: nothing isolates it"
                yield SheetLine(words=words, gap=True)
        if not self.wiring.supplies:
            yield SheetLine(words="no source is recorded in the wiring: every contact counts as live", gap=True)
        fluids = sorted({str(line.circuit or line.id) for line in built.lines.values() if line.wet is not False})
        if fluids:
            yield SheetLine(words=f"fluids, drained or clamped before a joint is opened: {', '.join(fluids)}")
        missing = [kind for kind in ENERGIES if kind not in {one.kind for one in built.energy.values()}]
        if missing:
            words = f"no entry for: {', '.join(missing)}. Not recorded is not none: look for them at the machine"
            yield SheetLine(words=words, gap=True)

    def _magnitude(self, name: str, energy: Energy) -> str:
        source = self.built.sources.get(name)
        if source is not None and source.nominal is not None:
            return f", {source.nominal.tidy}"
        return ", how much is not recorded" if energy.kind == "electrical" else ""

    def _where(self, name: str, energy: Energy) -> tuple[str, ...]:
        items = [str(one.item) for one in energy.at or () if one.item in self.built.items]
        if energy.kind == "electrical" and energy.at is None:
            live = self.states[0].live
            names = {feed.name for feed in live.feeds if name in live.behind(feed.name)}
            found = {
                item
                for contact, ways in live.contacts.items()
                if any(way.source in names for way in ways)
                and (item := self.built.item_of_contact(contact)) is not None
            }
            items = [item for item in self.built.items if item in found]
        return tuple(items)

    def shut_down(self) -> Iterator[SheetLine]:
        using = [
            procedure.id
            for procedure in self.built.machine.procedures.values()
            if any(action.verb == "isolate" for step in procedure.steps for action in step.do or ())
        ]
        if using:
            yield SheetLine(words=f"procedures that shut down and isolate: {', '.join(using)}")
        else:
            yield SheetLine(words="no procedure shuts this machine down and isolates it", gap=True)
        yield SheetLine(words="Stop the machine by its own controls. A control isolates nothing.")

    def isolate(self) -> Iterator[SheetLine]:
        for name, energy in self.built.energy.items():
            if energy.isolate is None:
                words = f"how {self.named(name)} is isolated is not recorded: it counts as energised"
                yield SheetLine(energy=name, words=words, gap=True)
            elif not energy.isolate:
                yield SheetLine(energy=name, words=f"nothing isolates {self.named(name)}, as recorded", gap=True)
        for number, device in enumerate(self.wiring.devices, start=1):
            for_what = tuple(self.named(name) for name in device.energies)
            stem = f"{number}. {device.words}, for"
            yield _listing(Listing(stem=stem, listed=for_what), energy=device.energies[0], colon="")
            why = device.refused or device.problem
            if why:
                yield SheetLine(energy=device.energies[0], words=f"it isolates nothing as recorded: {why}", gap=True)
        for state in self.states[1:]:
            yield self._left(state)

    def _left(self, state: IsolationState) -> SheetLine:
        together = len(state.devices) > 1
        done = "after all together" if state.kind == "all" else f"after {state.title}{'' if together else ' alone'}"
        left = state.fed_nets
        if state.fed.nothing_recorded:
            return SheetLine(words=f"{done}: wiring not recorded, everything counts as live", gap=True)
        if not left:
            return SheetLine(words=f"{done}: no recorded source reaches anything any more; stored charge may. Measure")
        behind = list(dict.fromkeys(source for net in left for source in net.behind))
        by = ", ".join(words_of_source(self.wiring, source) for source in behind)
        listed, more = _nets(left)
        return _listing(Listing(stem=f"{done}, still live from {by}", listed=listed, more=more), gap=True)

    def lock(self) -> Iterator[SheetLine]:
        for name, energy in self.built.energy.items():
            if energy.lock:
                yield SheetLine(energy=name, words=f"{self.named(name)}: {energy.lock}")
            elif energy.isolate and (other := self._kept_with(name)):
                yield SheetLine(energy=name, words=f"{self.named(name)}: kept isolated as {self.named(other)}")
            elif energy.isolate:
                words = f"how the isolation of {self.named(name)} is kept is not recorded: watch it, or lock and tag it"
                yield SheetLine(energy=name, words=words, gap=True)
        if not self.built.energy:
            yield SheetLine(words="nothing to lock is recorded", gap=True)

    def _kept_with(self, name: str) -> str:
        """Another energy with a recorded lock that has every device of this one."""
        mine = {device.words for device in self.wiring.devices if name in device.energies}
        for other, energy in self.built.energy.items():
            if energy.lock and mine <= {device.words for device in self.wiring.devices if other in device.energies}:
                return other
        return ""

    def relieve(self) -> Iterator[SheetLine]:
        for name, energy in self.built.energy.items():
            if energy.kind in _RELIEVE:
                limit = f": gone at {energy.limit.tidy}" if energy.limit is not None else ""
                yield SheetLine(energy=name, words=f"{self.named(name)}: {_RELIEVE[energy.kind]}{limit}")
                if energy.limit is None and energy.kind in ("thermal", "pneumatic"):
                    words = f"the value at which {self.named(name)} counts as gone is not recorded"
                    yield SheetLine(energy=name, words=words, gap=True)
                continue
            unknown = not_recorded(self.built, name)
            if unknown:
                yield SheetLine(energy=name, words=unknown, gap=True)
            elif not energy.stored:
                yield SheetLine(
                    energy=name, words=f"{self.named(name)}: somebody looked, no charge stays; still measure"
                )
            for stored in stored_of_energy(self.built, name, self.shop, graph=self.wiring.graph):
                lines = [line for line in stored.lines if line]
                yield SheetLine(energy=name, words=f"{stored.charge.name}: {'; '.join(lines)}")
        if any(energy.stored for energy in self.built.energy.values()):
            words = "A capacitor can win back part of its charge (common practice, no source): measure before touching"
            yield SheetLine(words=words)

    def verify(self) -> Iterator[SheetLine]:
        yield SheetLine(words=TESTER_BEFORE)
        for name, energy in self.built.energy.items():
            if not energy.prove_dead:
                words = f"where {self.named(name)} is proved gone is not recorded: it counts as energised"
                yield SheetLine(energy=name, words=words, gap=True)
        seen: dict[str, str] = {}
        for points in proof_points(self.wiring).values():
            seen.update((f"{point.energy} {point.words}", point.energy) for point in points)
        for words, energy_id in sorted(seen.items(), key=lambda one: list(self.built.energy).index(one[1])):
            yield SheetLine(energy=energy_id, words=f"{self.named(energy_id)}: {words.partition(' ')[2]}")
        for name, energy in self.built.energy.items():
            for proof in energy.prove_dead or ():
                if proof.at is not None:
                    expect = proof.expect.tidy if proof.expect is not None else "what must be read is not recorded"
                    with_ = f", with {proof.meter}" if proof.meter else ""
                    yield SheetLine(energy=name, words=f"{self.named(name)}: at {proof.at.item}: {expect}{with_}")
        yield SheetLine(words=TESTER_AFTER)
        open_ = [net for net in self.states[0].nets if net.gap]
        if self.states[0].live.nothing_recorded:
            yield SheetLine(words="wiring not recorded: prove every contact dead before it is touched", gap=True)
        elif open_:
            stem = "each counts as live until measured, for no point to prove it dead is recorded"
            listed, more = _nets(open_)
            yield _listing(Listing(stem=stem, listed=listed, more=more), gap=True)
        yield from self._metal()

    def _metal(self) -> Iterator[SheetLine]:
        """Exposed metal without recorded earth, and where nobody recorded whether there is any: it may be live."""
        bonded, _ = self.wiring.closed
        bare, unknown = [], []
        for name, item in self.built.items.items():
            if item.metal_earth is None:
                unknown.append(name)
            elif self.wiring.pieces.of.get(str(item.metal_earth)) not in bonded:
                bare.append(name)
        if bare:
            stem = "exposed metal that no recorded earth reaches, to be measured to earth like a pole"
            yield _listing(Listing(stem=stem, listed=tuple(bare)), gap=True)
        carrying = {self.built.item_of_contact(contact) for contact in self.states[0].live.contacts}
        named = [name for name in unknown if name in carrying or self.states[0].live.nothing_recorded]
        if named:
            what = "whether their exposed metal is earthed is not recorded, it counts as live"
            yield _listing(Listing(stem=what, listed=tuple(named)), gap=True)


def _listing(listing: Listing, *, energy: str = "", gap: bool = False, colon: str = ":") -> SheetLine:
    words = f"{listing.stem}{colon} {', '.join(listing.listed)}{more_words(listing.more, listing.more)}"
    return SheetLine(words=words, energy=energy, gap=gap, listing=listing)


def more_words(least: tuple[int, int, int], most: tuple[int, int, int]) -> str:
    """`` and 31 more nets (30 only through loads)``; with two counts, ``30 to 31``, over machines that differ."""
    if not most[0]:
        return ""
    many, through, unknown = (str(a) if a == b else f"{a} to {b}" for a, b in zip(least, most, strict=True))
    kinds = [f"{through} only through loads"] if most[1] else []
    kinds += [f"{unknown} not recorded"] if most[2] else []
    told = f" ({', '.join(kinds)})" if kinds else ""
    return f" and {many} more net{'s' * (most[0] != 1)}{told}"


def _nets(nets: list[LiveNet] | tuple[LiveNet, ...]) -> tuple[tuple[str, ...], tuple[int, int, int]]:
    """``A1-J2:1 (24 V DC)`` …, those reached by copper first, and how many more there are."""
    first = [net for net in nets if net.how is How.DIRECT][:MOST_NETS] or list(nets[:MOST_NETS])
    said = tuple(f"{net.net.name.replace('.', ':', 1)}{f' ({net.label})' if net.label else ''}" for net in first)
    rest = [net for net in nets if net not in first]
    through = sum(net.how is How.THROUGH for net in rest)
    return said, (len(nets) - len(first), through, sum(net.how is How.NOT_RECORDED for net in rest))
