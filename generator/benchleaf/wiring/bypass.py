"""The bypass register: every signal that no longer comes from its own sensor or guard, against the unmodified machine.

A substitution is what somebody wrote down. A signal whose wires no longer lead to its reader, or whose reader hangs on
a supply or return it did not hang on before, stands in the register too, for nobody wrote down what stands in for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Acknowledged, Signal, Substitution
from benchleaf.values.quantity import Dimension, Misread, read_quantity
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import natural, role_of, shown
from benchleaf.wiring.wiring import Wiring

NOT_RECORDED = "not recorded"
COUNTS_AS_PROTECTION = "not recorded: it counts as a protection"


@dataclass(frozen=True, slots=True, kw_only=True)
class BypassRow:
    """One signal. ``passed_on``: recorded copper still leads from its own source to its reader, and to nothing that
    could override it; ``None`` is not recorded. ``masked`` are the codes that can no longer appear.
    """

    signal: str
    name: str
    protects: str
    """What it protects; ``none``; or that this is not recorded and counts as a protection."""
    source: str
    """The contact it comes from on the unmodified machine."""
    source_item: str
    readers: tuple[str, ...]
    by: str
    """The contact that supplies it now; empty = not recorded."""
    by_item: str
    tied_to: tuple[str, ...]
    """Supplies and returns that the reader hangs on by recorded copper, in words."""
    asserts: str
    passed_on: bool | None
    masked: tuple[str, ...]
    still_possible: tuple[str, ...]
    compensation: str
    restore: str
    acknowledged: Acknowledged | None
    recorded: bool
    place: Place

    @property
    def is_protection(self) -> bool:
        return self.protects != "none"

    @property
    def is_lost(self) -> bool:
        """Whether a protection is lost: not recorded counts as lost."""
        return self.is_protection and not self.passed_on

    @property
    def is_open(self) -> bool:
        """Whether a lost protection is neither compensated nor acknowledged: an error."""
        return self.is_lost and self.compensation in ("none", NOT_RECORDED) and self.acknowledged is None


def bypass_register(now: Wiring, before: Wiring) -> tuple[BypassRow, ...]:
    """The rows of a machine as modified, against the unmodified one, by name of the signal.

    ``before`` is the same variant without modifications. For an unmodified machine give it twice.
    """
    built = now.built
    rows: dict[str, BypassRow] = {}
    for substitution in built.substitutions:
        signal = built.signals.get(substitution.signal) or before.built.signals.get(substitution.signal)
        if signal is not None:
            rows[f"{substitution.signal} {substitution.by}"] = _row(now, before, signal, substitution)
    told = {row.signal for row in rows.values()}
    if now is not before:
        for name, signal in built.signals.items():
            if name not in told and name in before.built.signals and _is_changed(now, before, signal):
                rows[name] = _row(now, before, signal, None)
        for name, signal in before.built.signals.items():
            if name not in told and name not in built.signals:
                rows[name] = _row(now, before, signal, None)
    return tuple(sorted(rows.values(), key=lambda row: (natural(row.signal), natural(row.by))))


def _row(now: Wiring, before: Wiring, signal: Signal, substitution: Substitution | None) -> BypassRow:
    name = str(signal.id)
    first = before.built.signals.get(name, signal)
    source = str(first.from_) if first.from_ is not None else ""
    readers = tuple(str(one) for one in signal.to or ())
    passed = passed_on(now, signal)
    codes = tuple(
        str(code.code) for code in now.built.machine.codes.values() if name in {str(one) for one in code.signals or ()}
    )
    compensation = substitution.compensated_by if substitution is not None else None
    by = str(substitution.by) if substitution is not None and substitution.by is not None else ""
    return BypassRow(
        signal=name,
        name=str(signal.name or name.replace("-", " ")),
        protects=COUNTS_AS_PROTECTION if signal.protects is None else str(signal.protects) or "none",
        source=source,
        source_item=_item_words(before.built, source),
        readers=readers,
        by=by,
        by_item=_item_words(now.built, by),
        tied_to=tuple(dict.fromkeys(words for reader in readers for words in tied_to(now, reader))),
        asserts=str(substitution.asserts) if substitution is not None and substitution.asserts else NOT_RECORDED,
        passed_on=passed,
        masked=() if passed else codes,
        still_possible=codes if passed else (),
        compensation=NOT_RECORDED if compensation is None else str(compensation) or "none",
        restore=str(substitution.restore) if substitution is not None and substitution.restore else "",
        acknowledged=substitution.acknowledged if substitution is not None else None,
        recorded=substitution is not None,
        place=substitution.place if substitution is not None else signal.place,
    )


def _item_words(built: Built, contact: str) -> str:
    """``S1 Lid switch``; empty when the contact is on nothing recorded."""
    item = built.item_of_contact(contact) if contact else None
    return f"{item} {built.items[item].name}" if item is not None else ""


def passed_on(wiring: Wiring, signal: Signal) -> bool | None:
    """Whether recorded copper leads from a signal's source to every reader and hangs on nothing that overrides it.

    ``None``: only what nobody recorded may lead there. A switch or board between them passes nothing on for sure.
    """
    if signal.from_ is None or not signal.to:
        return None
    source = wiring.net_of.get(str(signal.from_))
    answers = [_leads(wiring, source.name if source else "", str(one)) for one in signal.to]
    if all(answer is True for answer in answers):
        return not any(_overrides(wiring, str(one), signal) for one in signal.to)
    return None if all(answer is not False for answer in answers) else False


def _leads(wiring: Wiring, source: str, reader: str) -> bool | None:
    net = wiring.net_of.get(reader)
    if net is not None and net.name == source:
        return True
    _, levels = wiring.closed
    of = wiring.pieces.of
    if not source or source not in of or reader not in of:
        return None
    joined = levels[How.NOT_RECORDED][of[source]] == levels[How.NOT_RECORDED][of[reader]]
    known = levels[How.THROUGH][of[source]] == levels[How.THROUGH][of[reader]]
    return None if joined and not known else False


def _overrides(wiring: Wiring, reader: str, signal: Signal) -> bool:
    """Whether a reader hangs on a supply or return. A signal that comes from a supply's own pole is not overridden."""
    return str(signal.from_) not in _poles(wiring) and any(tied_to(wiring, reader))


def _poles(wiring: Wiring) -> frozenset[str]:
    sources = wiring.built.sources.values()
    return frozenset(str(one) for s in sources for group in (s.at, s.return_, s.earth) for one in group or ())


def tied_to(wiring: Wiring, contact: str) -> Iterator[str]:
    """The supplies, returns and earths a contact hangs on by recorded copper: ``0 V at A1-J9:2``."""
    net = wiring.net_of.get(contact)
    if net is None:
        return
    for name, source in wiring.built.sources.items():
        for words, group in (("", source.at), ("return of ", source.return_), ("earth of ", source.earth)):
            found = [str(one) for one in group or () if str(one) in net.contacts]
            if found:
                yield f"{words}{name} at {shown(found[0])}"
    for other in net.contacts:
        role = role_of(wiring.built, other)
        if _is_rail(role):
            yield f"{role} at {shown(other)}"
            return


def _is_rail(role: str) -> bool:
    if role in ("PE", "0 V"):
        return True
    return bool(role) and not isinstance(read_quantity(role, expected=Dimension.VOLTAGE), Misread)


def _is_changed(now: Wiring, before: Wiring, signal: Signal) -> bool:
    """Whether a signal was passed on before, as recorded, and is no longer."""
    return passed_on(before, before.built.signals[str(signal.id)]) is True and passed_on(now, signal) is not True


@dataclass(frozen=True, slots=True, kw_only=True)
class Disclosure:
    """What the owner of a modified machine is told, in plain sentences: a title and its lines for each part."""

    machine: str
    name: str
    configuration: str
    parts: tuple[tuple[str, tuple[str, ...]], ...]


def disclosure(now: Wiring, before: Wiring, *, names_are_published: bool = False) -> Disclosure:
    """What an owner has to be told of a machine as modified."""
    built = now.built
    record = built.machine.record
    parts: list[tuple[str, tuple[str, ...]]] = []
    for name in sorted(built.configuration.modifications):
        made = record.modifications.get(name)
        if made is not None:
            by = f"Fitted by {made.by}." if made.by else "Who fitted it is not recorded."
            parts.append((f"Modification {name}", (f"{made.is_ or 'What was changed is not recorded'}.", by)))
    rows = bypass_register(now, before)
    parts += [(f"Signal '{row.name}'", tuple(_told(row, names_are_published))) for row in rows]
    plugs = [name for name in now.supplies if name not in before.supplies]
    if plugs:
        line = f"Added: {', '.join(plugs)}. Pulling one plug leaves the others live."
        parts.append(("Where power comes in", (f"Sources: {', '.join(now.supplies)}.", line)))
    if not parts:
        parts.append(("Nothing recorded", ("No modification of this machine is recorded. Not recorded is not none.",)))
    return Disclosure(
        machine=str(record.id), name=str(record.name), configuration=built.configuration.label, parts=tuple(parts)
    )  # fmt: skip


def _told(row: BypassRow, names: bool) -> Iterator[str]:
    came = row.source_item or "a source that is not recorded"
    if row.passed_on:
        yield f"It still comes from {came}, by way of {row.by_item or 'added wiring'}."
    else:
        now = f"{row.by_item} at {shown(row.by)}" if row.by else "something that is not recorded"
        yield f"It no longer comes from {came}. It comes from {now}, and says: {row.asserts}."
    if row.is_protection:
        lost = "" if row.passed_on else " That protection is lost."
        yield f"What it protects: {row.protects}.{lost}"
    else:
        yield "It protects nothing, as recorded."
    if row.compensation == "none":
        yield "Nothing takes its place."
    else:
        yield f"What takes its place: {row.compensation}."
    if row.masked:
        yield f"The machine can no longer show: {', '.join(row.masked)}."
    if row.acknowledged is not None:
        by = f" by {row.acknowledged.by}" if names else ""
        yield f"Accepted{by} on {row.acknowledged.date}: {row.acknowledged.reason}"
    elif row.is_open:
        yield "Nobody has accepted this in writing."
    yield f"Taken back by: {row.restore}." if row.restore else "How to take it back is not recorded."
