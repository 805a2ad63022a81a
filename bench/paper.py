"""Paper: a procedure of ten steps cold and warm, and a sheet of labels. Cold is the first sheet of a process.

The records are read and checked before the clock starts; setting the fonts up is part of the cold figure.
Processor time of all threads, so that a busy machine does not change the figure.
"""

from __future__ import annotations

from pathlib import Path
from time import process_time

from benchleaf.edges.pdf import pdf_of
from benchleaf.pages.book import Book
from benchleaf.paper import labels, procedure
from benchleaf.paper.subject import subject_of
from benchleaf.pipeline import load

CONTENT = Path(__file__).parents[1] / "content"
MACHINE, PROCEDURE = "fp420", "make-dead"


def run() -> list[str]:
    """Printed lines; the times asked for are 0.5 s cold, 0.15 s warm, 0.1 s for labels."""
    checked = load(CONTENT)
    lines = []
    for name in ("cold", "warm"):
        mbook = Book(checked.derived).machine(MACHINE)
        subject = subject_of(mbook, mbook.machine.procedures[PROCEDURE])
        start = process_time()
        made = procedure.sheet(subject, lambda path: (CONTENT / path).read_bytes())
        between = process_time()
        data = pdf_of(made)
        end = process_time()
        steps = len(subject.procedure.steps)
        lines.append(
            f"paper: {steps} steps {name} {end - start:.2f} s (data {between - start:.2f}, set {end - between:.2f}), "
            f"{len(data) // 1000} kB"
        )
    subject = subject_of(mbook, mbook.machine.procedures["replace-main-board"])
    start = process_time()
    sheet = labels.sheet(subject)
    between = process_time()
    pdf_of(sheet)
    count = len(sheet.data["labels"])
    lines.append(f"paper: {count} labels {process_time() - between:.2f} s, their data {between - start:.2f} s")
    return lines
