"""Codes that a substituted signal may keep from appearing: the machine that is told so can no longer tell.

A code depends on signals; where something else supplies one of them, the machine sees what it is told. Nobody recorded
signals: then whether the code can be kept from appearing is not known, and that is said too.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.built import Built
from benchleaf.records.codes import CodeRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class Masking:
    """One signal of a code that is supplied by something else on this machine.

    ``by`` is the contact that supplies it now; ``compensated`` what makes up for it, as recorded; ``None`` = not
    recorded, ``""`` = recorded as nothing. ``lost``: nothing is recorded that makes up for it, so the code counts as
    one that can no longer appear.
    """

    code: str
    signal: str
    by: str
    asserts: str | None
    compensated: str | None
    restore: str | None

    @property
    def lost(self) -> bool:
        return not self.compensated

    @property
    def words(self) -> str:
        """In one sentence for a page."""
        told = f" and tells the machine: {self.asserts}" if self.asserts else "; what it says is not recorded"
        start = f"{self.by} supplies the signal {self.signal} here{told}."
        if not self.lost:
            made_up = str(self.compensated).rstrip(".")
            return f"{start} As recorded: {made_up}. Whether code {self.code} still appears depends on that."
        why = "Nothing makes up for it" if self.compensated == "" else "What makes up for it is not recorded"
        return (
            f"Code {self.code} may be kept from appearing on this machine. {start} {why}, so that no code does not "
            "mean no fault."
        )


def maskings(code: CodeRecord, built: Built) -> tuple[Masking, ...]:
    """The substituted signals that a code depends on, in one configuration."""
    wanted = {str(one) for one in code.signals or ()}
    return tuple(
        Masking(
            code=str(code.code),
            signal=str(one.signal),
            by=one.by.shown if one.by is not None else "something not recorded",
            asserts=str(one.asserts) if one.asserts is not None else None,
            compensated=_compensation(one.compensated_by),
            restore=str(one.restore) if one.restore is not None else None,
        )
        for one in built.substitutions
        if str(one.signal) in wanted
    )


def _compensation(said: object) -> str | None:
    if said is None:
        return None
    words = str(said)
    return "" if words in ("none", "()") else words
