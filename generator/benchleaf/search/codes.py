"""Codes, part numbers, contacts and designations: one form for all ways to write one, and the parts people type.

The form keeps letters and digits as runs. Between a letter and a digit no mark is needed, so ``E-0417`` is ``e0417``;
between two runs of digits the mark stays, so ``J1-12`` (``j1-12``) is never ``J11-2`` (``j11-2``).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_RUN = re.compile(r"[0-9]+|[^\W_0-9]+")


def runs_of(folded: str) -> list[str]:
    """The runs of letters and of digits in folded text; every other sign only separates."""
    return _RUN.findall(folded)


def canonical(folded: str) -> str:
    """The one form of a code: runs joined, with ``-`` where two runs of the same sort meet."""
    return join_runs(runs_of(folded))


def join_runs(runs: Sequence[str]) -> str:
    """Runs as one form; ``-`` keeps apart what would run together."""
    made: list[str] = []
    for run in runs:
        if made and is_digits(made[-1]) == is_digits(run):
            made.append("-")
        made.append(run)
    return "".join(made)


def is_digits(run: str) -> bool:
    """Whether a run is one of digits."""
    return "0" <= run[0] <= "9"


def has_digit(term: str) -> bool:
    """Whether a term is a code rather than a word."""
    return re.search("[0-9]", term) is not None


def short_forms(folded: str, field: str) -> list[str]:
    """Further forms by which a declared code is found, sorted: joined up, without its beginning, without zeros.

    ``field`` is ``codes``, ``part_numbers``, ``designations`` or ``contacts``. Each form can be typed in part too,
    since whatever is typed last is also looked up as a beginning.
    """
    whole = canonical(folded)
    forms = {whole.replace("-", "")}
    if field == "codes":
        forms.add(join_runs([_without_zeros(run) for run in runs_of(folded)]))  # F7 for F07
    runs: list[str] = []
    cuts: list[int] = []  # runs that begin a part of the code
    for match in _RUN.finditer(folded):
        if match.start() and (
            not folded[match.start() - 1].isalnum() or (field in ("codes", "part_numbers") and len(runs) == 1)
        ):
            cuts.append(len(runs))
        runs.append(match.group())
    for cut in cuts:
        rest = join_runs(runs[cut:])
        if field in ("contacts", "designations"):
            if not is_digits(rest) and has_digit(rest):
                forms.add(rest)
        elif has_digit(rest) and len(rest) >= (2 if field == "codes" else 3):
            forms.add(rest)
            if field == "part_numbers":
                forms.add(rest.replace("-", ""))
            if field == "codes" and len(rest.lstrip("0")) >= 2:
                forms.add(rest.lstrip("0"))
    return sorted(forms - {whole, ""})


def ends_in(term: str, typed: str) -> bool:
    """Whether ``typed`` is the end of a code, from the beginning of one of its runs; leading zeros do not matter.

    Dashes may be left out, but where they are typed they stand: ``j11-2`` is no end of ``j1-12``.
    """
    join = join_runs if "-" in typed else "".join
    runs = [_without_zeros(run) for run in runs_of(term)]
    wanted = join([_without_zeros(run) for run in runs_of(typed)])
    return any(join(runs[at:]) == wanted for at in range(len(runs)))


def _without_zeros(run: str) -> str:
    return run.lstrip("0") or run[-1]
