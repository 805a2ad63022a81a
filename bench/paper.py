"""Paper: a procedure of ten steps cold and warm, one with its plugs drawn, a sheet of labels, all PDFs of the site.

Cold is the first sheet of a process. The records are read and checked before the clock starts; setting the fonts up is
part of the cold figure. Processor time of all threads and processes, so that a busy machine does not change the figure.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from time import process_time

from benchleaf.edges.graphviz_edge import drawn
from benchleaf.edges.pdf import pdf_of
from benchleaf.pages.book import Book
from benchleaf.paper import labels, procedure
from benchleaf.paper.subject import subject_of
from benchleaf.pipeline import Checked, load
from benchleaf.site_paper import PaperOrder, site_paper

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
    return [*lines, *_plugs(checked), *_site(checked)]


def _plugs(checked: Checked) -> list[str]:
    """A procedure that opens plugs: its diagram is drawn by a program of its own."""
    mbook = Book(checked.derived, drawn).machine(MACHINE)
    subject = subject_of(mbook, mbook.machine.procedures["draw-tray"])
    start = _spent()
    made = procedure.sheet(subject, lambda path: (CONTENT / path).read_bytes())
    between = _spent()
    pdf_of(made)
    drawings = sum(name.startswith("drawing") for name in made.files)
    return [f"paper: {drawings} drawings of plugs: data {between - start:.2f} s, set {_spent() - between:.2f} s"]


def _site(checked: Checked) -> list[str]:
    """Every PDF of the demo, made and then found."""
    lines: list[str] = []
    with tempfile.TemporaryDirectory() as folder:
        order = PaperOrder(paper="a4", shelf=Path(folder), progress=lambda *_: None, tell=lines.append)
        for _ in range(2):
            start = _spent()
            site_paper(checked, CONTENT, order)
            lines[-1] = f"paper of the site: {lines[-1]}, {_spent() - start:.2f} s"
    return lines


def _spent() -> float:
    """Processor seconds of this process and of those that have ended."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system
