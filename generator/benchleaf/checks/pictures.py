"""A picture that a step names is not in the machine's photos folder, or one in the folder is named by no step.

The page then shows the words of `shows` in place of the picture, so the step stays usable; copy the picture, mend its
name, or take the line out. A picture without `shows` says nothing to someone who cannot see it, nor on a torn sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.suggest import closest

CODES = ("photo-missing", "photo-unused", "photo-outside", "picture-without-words")
FILE_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]*(?:/[A-Za-z0-9_][A-Za-z0-9_.-]*){0,3}")


def run(derived: Derived) -> Iterator[Finding]:
    library = derived.library
    used: set[str] = set()
    for machine, procedure in library.procedures():
        folder = f"{machine.folder}/photos/"
        there = {path.removeprefix(folder): path for path in library.assets if path.startswith(folder)}
        for photo in (photo for step in procedure.steps for photo in step.photos):
            place = photo.file.place
            if not FILE_NAME.fullmatch(photo.file) or ".." in photo.file.split("/"):
                message = f"'{photo.file}' is not a file name below {folder}"
                yield Finding("photo-outside", message, place, "write the name of a file in the photos folder")
                continue
            used.add(folder + photo.file)
            if photo.file not in there:
                near = closest(photo.file, tuple(there))
                help = f"did you mean '{near[0]}'?" if near else f"copy the picture to {folder}{photo.file}"
                yield Finding(
                    "photo-missing", f"there is no picture {folder}{photo.file}", place, help, Severity.WARNING
                )
            if photo.shows is None:
                message, help = "this picture does not say what it shows", "add `shows:` with a few words"
                yield Finding("picture-without-words", message, place, help, Severity.WARNING)
    for path in library.assets:
        if "/photos/" in path and path not in used:
            message = "no step shows this picture"
            yield Finding("photo-unused", message, Place(path), "name it in a step, or take it away", Severity.WARNING)
