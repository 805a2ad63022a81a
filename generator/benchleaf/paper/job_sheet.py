"""The job sheet: what was found and what was left, readings in boxes, parts fitted, checks owed and signed."""

from __future__ import annotations

from benchleaf.pages.spare_lines import spares_of
from benchleaf.pages.step_view import scenes
from benchleaf.paper.bench_parts import BOX, TICK, Part, bench_sheet, head, note, table, write
from benchleaf.paper.boxes import actions_of
from benchleaf.paper.origins import Footnotes
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.paper.way_back import owed_rows

HEADS = ("Step", "Reading", "As found", "As left", "Unit")


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """One sheet a job: it goes with the machine and is filed."""
    owed = owed_rows(subject)
    parts: list[Part] = [
        write("Serial", "Hours or count", "Job number", "Customer", "Came in on", "Trouble as told"),
        head("As found"),
        write("Condition", "Codes shown", "Changes from the maker's build", columns=1),
        head("Readings"),
        *_readings(subject),
        head("Parts fitted"),
        *_fitted(subject),
        head("Checks owed"),
        *(note(words, grave=True) for words in owed["owed-notes"]),
        table((1.5, 1.4, 1.1, "28mm", "24mm"), ("Check", "Because", "Expect", "Found", "Signed"), owed["owed"]),
        head("As left"),
        write("Condition", "Left open, and why", "Told to the customer", columns=1),
        write("Begun", "Ended", "Signed"),
    ]
    return bench_sheet(subject, "job-sheet", "Job sheet", parts, paper)


def _readings(subject: Subject) -> list[Part]:
    notes = Footnotes()
    rows = []
    for scene in scenes(subject.mbook, subject.procedure):
        if not scene.narrow.builts:
            continue
        for action in actions_of(scene, notes):
            for box in action.boxes:
                label = box["label"] if isinstance(box["label"], list) else action.said
                rows.append([f"Step {scene.number}", label, BOX, BOX, box["unit"] or "unit?"])
    if not rows:
        return [note("No step asks for a reading."), table((3.0, "26mm", "26mm", 0.7), HEADS[1:], _blank())]
    made = table((0.6, 3.0, "26mm", "26mm", 0.7), HEADS, [*rows, *_more()])
    return [made, *([{"k": "origins", "of": notes.listed}] if notes.listed else [])]


def _more() -> list[list[object]]:
    return [["", "", BOX, BOX, ""] for _ in range(2)]


def _blank() -> list[list[object]]:
    return [["", BOX, BOX, ""] for _ in range(3)]


def _fitted(subject: Subject) -> list[Part]:
    acts = tuple(scene for scene in scenes(subject.mbook, subject.procedure) if scene.narrow.builts)
    rows: list[list[object]] = []
    for one in spares_of(acts):
        only = f" (for {one.applies.words})" if one.applies is not None else ""
        rows.append([f"{one.count} × {one.words}{only}", one.part_number, one.why, TICK, BOX])
    rows += [["", "", "", TICK, BOX] for _ in range(2)]
    heads = ("Part", "Part number", "Why", "Fitted", "Serial or batch")
    return [table((1.6, 0.8, 1.0, "12mm", "30mm"), heads, rows)]
