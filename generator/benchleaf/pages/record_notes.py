"""The foot of a page: which record it was made from, which issue that is, and how far it was proved."""

from __future__ import annotations

from benchleaf.diagnostics import Place
from benchleaf.pages.shown import RecordNote, Verification, VerifiedState
from benchleaf.records.teardown import TeardownRecord

_STATES: dict[str, VerifiedState] = {
    "at the table": "verified at the table", "at the machine": "verified at the machine",
}  # fmt: skip
WITHDRAWN = "withdrawn"


def note_of(place: Place) -> RecordNote:
    """The foot of a page whose record carries no issue of its own."""
    return RecordNote(file=place.file, line=max(place.line, 1))


def verification_of(procedure: TeardownRecord) -> Verification:
    """How far a procedure was proved; nothing recorded is *unverified*, never something better."""
    verified = procedure.verified
    if verified is None:
        return Verification()
    withdrawn = None
    if verified.state == WITHDRAWN:
        reason = procedure.issue.reason if procedure.issue is not None else None
        withdrawn = str(reason) if reason else "Why is not recorded."
    return Verification(
        state=_STATES.get(verified.state, "unverified"),
        date=verified.date,
        serial=verified.serial,
        withdrawn=withdrawn,
    )


def is_withdrawn(procedure: TeardownRecord) -> bool:
    return procedure.verified is not None and procedure.verified.state == WITHDRAWN


def procedure_note(procedure: TeardownRecord, place: Place | None = None) -> RecordNote:
    """The foot of a procedure's pages; ``place`` is that of a step where the page is about one."""
    issue = procedure.issue
    at = place or procedure.place
    return RecordNote(
        file=at.file,
        line=max(at.line, 1),
        issue=issue.number if issue is not None else None,
        date=issue.date if issue is not None else None,
        reason=issue.reason if issue is not None else None,
        verification=verification_of(procedure),
    )
