"""Codes that a bypass keeps from appearing: the machine that is told so can no longer tell.

From the bypass register: every signal a code depends on that no longer comes from its own sensor. Nobody recorded the
signals of a code: then whether a bypass keeps it from appearing is not known, and that is said too.
"""

from __future__ import annotations

from benchleaf.applicability import Configuration
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.codes import CodeRecord
from benchleaf.wiring.bypass import NOT_RECORDED, BypassRow, bypass_register
from benchleaf.wiring.configurations import unmodified, wiring_of
from benchleaf.wiring.contacts import shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Masking:
    """One signal of a code that is not, or may not be, what its own sensor says on this machine.

    ``is_masked``: the code can no longer appear; otherwise its own sensor is still heard, by way of what was added.
    """

    code: str
    signal: str
    is_masked: bool
    words: str
    restore: str


def maskings(derived: Derived, machine: Machine, configuration: Configuration, code: CodeRecord) -> tuple[Masking, ...]:
    """The signals of a code in the bypass register of one configuration."""
    wanted = {str(one) for one in code.signals or ()}
    rows = register_of(derived, machine, configuration) if wanted else ()
    return tuple(
        Masking(
            code=str(code.code),
            signal=row.signal,
            is_masked=str(code.code) in row.masked,
            words=_words(str(code.code), row),
            restore=row.restore,
        )
        for row in rows
        if row.signal in wanted
    )


def register_of(derived: Derived, machine: Machine, configuration: Configuration) -> tuple[BypassRow, ...]:
    """The bypass register of a machine as built, remembered."""
    built = derived.built(machine, configuration)
    return derived.remember(
        ("bypass register", machine.id, configuration),
        lambda: bypass_register(wiring_of(derived, built), unmodified(derived, built)),
    )


def _words(code: str, row: BypassRow) -> str:
    by = f"{row.by_item or 'something'} at {shown(row.by)}" if row.by else "something that is not recorded"
    own = row.source_item or "its own sensor"
    if code not in row.masked:
        return (
            f"The signal {row.name} that code {code} depends on still comes from {own}, by way of {by}. {_made_up(row)}"
        )
    return (
        f"Code {code} can no longer appear on this machine: the signal {row.name} comes from {by}, not from {own}, and "
        f"says: {row.asserts}. No code does not mean no fault. {_made_up(row)}"
    )


def _made_up(row: BypassRow) -> str:
    if row.compensation == "none":
        return "Nothing takes its place."
    if row.compensation == NOT_RECORDED:
        return "What takes its place is not recorded."
    return f"What takes its place: {row.compensation.rstrip('.')}."
