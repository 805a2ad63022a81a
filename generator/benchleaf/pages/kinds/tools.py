"""The tools of the shop: what each does, and the steps that ask for it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.safety_shown import gather
from benchleaf.pages.shown import Facts, Line, Links, Note, Row, Section
from benchleaf.pages.step_view import scenes
from benchleaf.pages.support import asked_by, tool_lines, worn_for
from benchleaf.pages.uses import StepUse
from benchleaf.records.shared import Stock


def pages(book: Book) -> Iterator[Page]:
    used = _steps_by_tool(book)
    at_hand = book.shop.tools_at_hand
    sections = []
    for id, tool in sorted(book.library.tools.items(), key=lambda pair: str(pair[1].name).casefold()):
        rows = [
            Row(cells=("Does", ", ".join(tool.does) if tool.does else None)),
            Row(cells=("Range", tool.range)),
            *stock_rows(tool),
            Row(cells=("In the shop", None if at_hand is None else "yes" if id in at_hand else "no")),
        ]
        sections.append(
            Section(
                title=str(tool.name),
                anchor=f"tool-{id}",
                blocks=(
                    Facts(rows=tuple(rows)),
                    Links(lines=used.get(f"tools.html#tool-{id}", ()), nothing="No recorded step asks for it."),
                ),
            )
        )
    opening = (
        () if sections else (Note(words="No tool is recorded: every step says so where it asks for one.", grave=True),)
    )
    yield list_page(
        book, path="tools.html", title="Tools", kind="tools", sections=sections, opening=opening, inputs=("tools.yaml",)
    )


def stock_rows(stock: Stock) -> Iterator[Row]:
    """Part number, supplier, alternatives; what is not recorded says so."""
    yield Row(cells=("Part number", stock.part_number))
    yield Row(cells=("Supplier", stock.supplier))
    yield Row(cells=("Serves as well", None if stock.alternatives is None else ", ".join(stock.alternatives) or "none"))
    yield Row(cells=("Recorded at", f"{stock.place.file}:{stock.place.line}"))


def _steps_by_tool(book: Book) -> dict[str, tuple[Line, ...]]:
    found: dict[str, list[Line]] = {}
    for mbook in book.machines():
        by: dict[str, list[StepUse]] = {}
        for procedure in mbook.machine.procedures.values():
            for scene in scenes(mbook, procedure):
                lines = [line for one in asked_by(scene.narrow, scene.step) for line in tool_lines(book, (one,))]
                lines += worn_for(book, [one.id for one in gather(scene.narrow, procedure, scene.step).gathered])
                for path in dict.fromkeys(line.path for line in lines if line.path is not None):
                    by.setdefault(path, []).append(StepUse(procedure, scene.number, scene.step))
        for path, uses in by.items():
            found.setdefault(path, []).extend(step_lines(mbook, uses))
    return {path: tuple(lines) for path, lines in found.items()}
