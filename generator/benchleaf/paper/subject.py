"""What a sheet is printed for: a procedure, on all its machines, on one variant or on one serial.

A variant somebody names narrows everything. A serial alone never narrows hazards, required conditions or what stays
live: those stay the union, and modifications nobody has ruled out stay in (records.md, "modifications").
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from functools import cached_property

from benchleaf.applicability import (
    Configuration,
    holds,
    modifications_of_serial,
    recorded_variants,
    serial_key,
    variants_of,
    variants_of_serial,
)
from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import Applies, StepView
from benchleaf.pages.step_view import Scene, step_view
from benchleaf.physical.findings import ground_of, reassemblies_of, replays_of
from benchleaf.physical.reassembly import Reassembly, reassembly
from benchleaf.physical.replay import Replay, replay
from benchleaf.records.teardown import TeardownRecord


class NotFor(ValueError):
    """The procedure is not for what was asked; the words say what it is for."""


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A procedure with the machines it is printed for. ``full`` holds all machines of the procedure, ``mbook`` those
    asked for; ``words`` say which they are. ``is_machine``: of the whole machine, the procedure is then an empty one.
    """

    full: MachineBook
    mbook: MachineBook
    procedure: TeardownRecord
    words: str
    is_serial: bool = False
    is_machine: bool = False

    @property
    def code(self) -> str:
        """What is typed to find the record again: ``fp420/draw-tray``."""
        return f"{self.full.machine.id}/{self.procedure.id}"

    @property
    def page(self) -> str:
        """The page of the site about it, below the site's folder."""
        return self.full.at.home if self.is_machine else self.full.at.procedure(self.procedure.id)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What must be read before anything else, beside how far the procedure was proved."""
        return ()

    @property
    def has_words(self) -> bool:
        """Whether the page shows the three words of the sheet."""
        return True

    def view(self, scene: Scene) -> StepView:
        """A step as its page shows it."""
        return step_view(scene)

    @property
    def hazards(self) -> MachineBook:
        """The machines whose hazards are printed: never narrowed by a serial alone."""
        return self.full if self.is_serial else self.mbook

    @property
    def configurations(self) -> tuple[Configuration, ...]:
        return self.mbook.narrowed(self.procedure.applies).configurations

    @cached_property
    def replays(self) -> tuple[Replay, ...]:
        """The procedure replayed on each of the machines asked for."""
        derived, machine = self.full.book.derived, self.full.machine
        known = {one.ground.built.configuration: one for one in replays_of(derived, machine, self.procedure)}
        return tuple(
            known.get(one) or replay(ground_of(derived, machine, one), self.procedure, machine.procedures)
            for one in self.configurations
        )

    @cached_property
    def reassemblies(self) -> tuple[Reassembly, ...]:
        """The way back of each of them."""
        derived, machine = self.full.book.derived, self.full.machine
        known = {id(one.replay): one for one in reassemblies_of(derived, machine, self.procedure)}
        return tuple(known.get(id(one)) or reassembly(one) for one in self.replays)

    def only(self, on: Collection[Configuration]) -> str | None:
        """Words for some of the machines printed for; ``None`` = all of them."""
        return words_of(self.mbook.narrowed(self.procedure.applies).words_for(on))


def words_of(applies: Applies | None) -> str | None:
    return applies.words if applies is not None else None


def subject_of(
    mbook: MachineBook, procedure: TeardownRecord, *, variant: str | None = None, serial: str | None = None
) -> Subject:
    """The subject of a sheet. Raises ``NotFor`` when the procedure is for none of the machines asked for."""
    record = mbook.record
    if variant is not None:
        known = variants_of(record)
        if variant not in known:
            raise NotFor(f"{record.name} has no variant '{variant}'. It has: {', '.join(known)}.")
        kept = tuple(one for one in mbook.builts if one.configuration.variant == variant)
        words = f"variant {variant}"
    elif serial is not None:
        kept = _machines_of(mbook, serial)
        words = f"serial {serial}" + _open_questions(mbook, serial)
    else:
        kept, words = mbook.builts, ""
    fit = [one for one in kept if holds(procedure.applies, one.configuration, record) is not False]
    if not fit:
        raise NotFor(f"'{procedure.title}' is not for {words or 'any recorded machine'}.")
    narrow = mbook if len(kept) == len(mbook.builts) else MachineBook(mbook.book, mbook.machine, kept)
    own = words_of(mbook.applies(procedure.applies))
    if not words:
        words = own or "every variant and serial"
    return Subject(full=mbook, mbook=narrow, procedure=procedure, words=words, is_serial=serial is not None)


def machine_subject(mbook: MachineBook, *, variant: str | None = None, serial: str | None = None) -> Subject:
    """The whole machine as the subject of a sheet. Raises ``NotFor`` as ``subject_of`` does."""
    own = mbook.record
    nothing = TeardownRecord(place=own.place, record=None, id=own.id, title=own.name, machine=own.id, steps=())
    return replace(subject_of(mbook, nothing, variant=variant, serial=serial), is_machine=True)


def _machines_of(mbook: MachineBook, serial: str) -> tuple[Built, ...]:
    """Every machine the serial can be: what is listed for it is fitted, what is not listed may be fitted."""
    record, derived = mbook.record, mbook.book.derived
    listed = modifications_of_serial(record, serial)
    mine = serial_key(serial)
    spelled = next((c.serial for c in mbook.configurations if c.serial and serial_key(c.serial) == mine), serial)
    combinations = sorted({one.modifications | listed for one in mbook.configurations}, key=sorted)
    return tuple(
        derived.built(mbook.machine, Configuration(variant, modifications, spelled))
        for variant in variants_of_serial(record, serial)
        for modifications in combinations
    )


def _open_questions(mbook: MachineBook, serial: str) -> str:
    record = mbook.record
    said = "" if recorded_variants(record, serial) or len(variants_of(record)) < 2 else ", of a variant not recorded"
    known = modifications_of_serial(record, serial)
    open_ones = [str(name) for name in record.modifications if name not in known]
    return f"{said}, with or without {' and '.join(open_ones)}" if open_ones else said
