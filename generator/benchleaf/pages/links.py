"""Links to records as lists show them: title, what stands beside it, and for which machines it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.record_notes import is_withdrawn, verification_of
from benchleaf.pages.shown import CodeRef, Line
from benchleaf.pages.uses import StepUse, Trouble, TroubleUse, in_record_order
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.teardown import TeardownRecord


def procedure_line(mbook: MachineBook, procedure: TeardownRecord, note: str | None = None) -> Line:
    """A procedure with its state of proof; a withdrawn one says so before anything else."""
    stamp = "withdrawn" if is_withdrawn(procedure) else verification_of(procedure).state
    words = f"{procedure.title}"
    return Line(
        words=words,
        path=mbook.at.procedure(procedure.id),
        note="; ".join(part for part in (note, stamp) if part),
        applies=mbook.applies(procedure.applies),
    )


def step_lines(mbook: MachineBook, uses: Iterable[StepUse]) -> Iterator[Line]:
    """Steps by procedure: ``Replace the pump and cap, step 7: remove, lift off``."""
    for procedure, many in in_record_order(tuple(uses)):
        for use in many:
            verbs = ", ".join(use.verbs)
            withdrawn = "withdrawn; " if is_withdrawn(procedure) else ""
            yield Line(
                words=f"{procedure.title}, step {use.number}",
                path=mbook.at.step(procedure.id, use.number),
                note=f"{withdrawn}{use.step.title}{f' ({verbs})' if verbs else ''}",
                applies=mbook.applies(use.step.applies or procedure.applies),
            )


def trouble_ref(mbook: MachineBook, trouble: Trouble) -> CodeRef | Line:
    """A code as the machine shows it, a symptom by its title."""
    if isinstance(trouble, CodeRecord):
        return CodeRef(
            code=str(trouble.shown or trouble.code), means=str(trouble.means or ""), path=mbook.at.code(trouble.code)
        )
    return Line(words=symptom_title(trouble), path=mbook.at.symptom(trouble.id))


def trouble_line(mbook: MachineBook, use: TroubleUse) -> Line:
    """A code or symptom that leads here, and by what cause or test."""
    trouble = use.trouble
    if isinstance(trouble, CodeRecord):
        words = f"Code {trouble.shown or trouble.code}"
        path = mbook.at.code(trouble.code)
    else:
        words, path = symptom_title(trouble), mbook.at.symptom(trouble.id)
    note = None
    if use.cause is not None:
        note = str(use.cause.mode or use.cause.id)
    elif use.test is not None:
        note = f"test {use.test.id.replace('-', ' ')}"
    return Line(words=words, path=path, note=note, applies=mbook.applies(trouble.applies))


def symptom_title(symptom: SymptomRecord) -> str:
    return str(symptom.title or (symptom.heard_as[0] if symptom.heard_as else symptom.id))
