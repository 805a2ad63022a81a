"""What the program has to say about a record: findings as data, never printed or raised by the stage that made them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field
from enum import Enum

from benchleaf.frozen import dataclass


class Severity(Enum):
    """An error stops publication; a warning does not."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where in the author's files: a path below the content folder, line and column from 1.

    ``end_column`` is one past the last character on the same line; ``None`` means "to the end of the word".
    """

    file: str
    line: int = 1
    column: int = 1
    end_column: int | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    def part(self, start: int, length: int) -> Place:
        """The narrower place ``start`` characters in, ``length`` characters long (same line)."""
        column = self.column + start
        return Place(self.file, self.line, column, column + length)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong or doubtful, in the author's words.

    ``code`` is the name of the bad thing (``benchleaf explain CODE`` is its page); ``help`` says the way out;
    ``related`` holds other places that belong to it, each with a few words.
    """

    code: str
    message: str
    place: Place
    help: str = ""
    severity: Severity = Severity.ERROR
    related: tuple[tuple[Place, str], ...] = ()

    @property
    def is_error(self) -> bool:
        return self.severity is Severity.ERROR


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings by file, line, column, code and message, each once."""
    return tuple(sorted(set(findings), key=lambda f: (f.place, f.code, f.message)))
