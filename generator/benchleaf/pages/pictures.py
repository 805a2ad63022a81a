"""The pictures of a step with their numbered marks, and the files they are copied from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.fastener_words import set_pieces
from benchleaf.pages.page import Asset
from benchleaf.pages.sentences import plain
from benchleaf.pages.shown import Picture, PictureMark
from benchleaf.records.teardown import Photo
from benchleaf.refs import SetRef

UNKNOWN_SIZE = (640, 480)
SHOWN = ("png", "jpeg", "webp", "svg")
"""Kinds of picture that are shown, by their first bytes; anything else is left where it is."""


def step_pictures(mbook: MachineBook, photos: Iterable[Photo]) -> tuple[Picture, ...]:
    """The pictures that are there; one that is missing is a finding of the checks, not a broken frame on a page."""
    return tuple(_picture(mbook, photo) for photo in photos if source_of(mbook, str(photo.file)) is not None)


def source_of(mbook: MachineBook, file: str) -> str | None:
    """The picture's path below the content folder; ``None`` when it is not there or is no picture."""
    path = f"{mbook.machine.folder}/photos/{file}" if mbook.machine.folder else f"photos/{file}"
    asset = mbook.book.library.assets.get(path)
    return path if asset is not None and asset.kind in SHOWN else None


def _picture(mbook: MachineBook, photo: Photo) -> Picture:
    path = source_of(mbook, str(photo.file))
    asset = mbook.book.library.assets[path or ""]
    return Picture(
        path=mbook.at.photo(str(photo.file)),
        width=asset.width or UNKNOWN_SIZE[0],
        height=asset.height or UNKNOWN_SIZE[1],
        shows=str(photo.shows or "What this picture shows is not recorded"),
        marks=tuple(
            PictureMark(
                x=mark.at[0], y=mark.at[1], words=_mark_words(mbook, mark.is_), path=_mark_path(mbook, mark.is_)
            )
            for mark in photo.marks
            if mark.is_ is not None
        ),
    )


def _mark_words(mbook: MachineBook, name: SetRef) -> str:
    item, _, own = name.partition(".")
    return f"{plain(set_pieces(mbook, name))} of {mbook.item_name(item)}" if own else mbook.item_words(item)


def _mark_path(mbook: MachineBook, name: SetRef) -> str | None:
    return mbook.at.item(name.item) if name.item in mbook.record.items else None


def picture_assets(book: Book, content: str) -> Iterator[Asset]:
    """Every picture some step shows, to be copied from the ``content`` folder."""
    for mbook in book.machines():
        files = {
            str(photo.file) for one in mbook.machine.procedures.values() for step in one.steps for photo in step.photos
        }
        for file in sorted(files):
            path = source_of(mbook, file)
            if path is not None:
                yield Asset(path=mbook.at.photo(file), source=f"{content}/{path}", inputs=(path,))
