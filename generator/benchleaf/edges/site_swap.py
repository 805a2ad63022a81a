"""The last good site stays whole: a new one is built in a folder beside it and takes its place at one stroke.

Where the system can exchange two folders (Linux) there is no moment without a whole site. Elsewhere two
renames do it; killed between them, the old site lies whole beside its place and ``recover`` brings it back
at the next start.
"""

from __future__ import annotations

import ctypes
import errno
import os
import re
import secrets
import shutil
import sys
from dataclasses import field
from pathlib import Path

from benchleaf.frozen import dataclass

_PATH = re.compile(r"[^\x00-\x1f\x7f\\:/]+(?:/[^\x00-\x1f\x7f\\:/]+)*")
_FOLDERS_KEPT = 64  # whose names are remembered: pages of one folder are written one after the other
_AT_FDCWD = -100
_RENAME_EXCHANGE = 2  # linux/fs.h


class PathRefused(ValueError):
    """A path that would leave the site's folder, or that two files of the site ask for."""


@dataclass(slots=True, kw_only=True)
class Stage:
    """A site on its way: ``folder`` is where it is built, ``target`` its place, ``retired`` the site it took
    it from. ``folders`` holds what lies in those that were written to lately: names without capitals → names.
    """

    target: Path
    folder: Path
    retired: Path | None = None
    swapped: bool = False
    folders: dict[str, dict[str, str]] = field(default_factory=dict)
    lock: int | None = None


def _beside(target: Path, what: str) -> Path:
    return target.parent / f".{target.name}.{what}-{secrets.token_hex(4)}"


def _hold(folder: Path, *, wait: bool) -> int | None:
    """A lock on a folder, given back by the system when its process ends however it ends; None where there
    is none.
    """
    try:
        import fcntl
    except ImportError:  # pragma: no cover - not on this system
        return None
    held = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(held)
        raise
    return held


def recover(target: Path) -> tuple[str, ...]:
    """Puts right what a killed build left beside ``target`` and returns the names of the folders that were
    dealt with.

    A missing site comes back from the folder it was moved to; half-built ones go. A folder that a living
    build holds is left alone.
    """
    target = target.resolve()
    done: list[str] = []
    for what in ("old", "new"):
        for left in sorted(target.parent.glob(f".{target.name}.{what}-*")):
            try:
                held = _hold(left, wait=False)
            except OSError:
                continue
            try:
                if what == "old" and not target.exists():
                    left.rename(target)
                else:
                    shutil.rmtree(left)
            finally:
                if held is not None:
                    os.close(held)
            done.append(left.name)
    return tuple(done)


def open_stage(target: Path) -> Stage:
    """An empty folder beside ``target``, on the same disk, held by this process until the stage is closed."""
    target = target.resolve()
    target.parent.mkdir(parents=True, exist_ok=True)
    folder = _beside(target, "new")
    folder.mkdir()
    return Stage(target=target, folder=folder, lock=_hold(folder, wait=True))


def write_file(stage: Stage, path: str, content: bytes | Path) -> None:
    """Writes bytes, or copies a file, to ``path`` below the stage; what would land elsewhere is refused.

    Two paths that differ by capitals only are refused as well: on many disks they are one file.
    """
    parts = path.split("/")
    if not _PATH.fullmatch(path) or any(part in (".", "..") for part in parts):
        raise PathRefused(f"'{path}' is not a path within the site")
    folder, _, name = path.rpartition("/")
    names = _names(stage, folder)
    if name.casefold() in names:
        raise _taken(path, folder, names[name.casefold()])
    names[name.casefold()] = name
    try:
        with (stage.folder / path).open("xb") as file:
            if isinstance(content, Path):
                with content.open("rb") as source:
                    shutil.copyfileobj(source, file)
            else:
                file.write(content)
    except FileExistsError:
        raise _taken(path, folder, name) from None


def _taken(path: str, folder: str, name: str) -> PathRefused:
    return PathRefused(f"'{path}' is already taken by '{f'{folder}/{name}' if folder else name}'")


def _names(stage: Stage, folder: str) -> dict[str, str]:
    """What lies in a folder of the stage, by its names without capitals. The folder is made if it is not there."""
    if folder in stage.folders:
        return stage.folders[folder]
    if folder:
        above, _, name = folder.rpartition("/")
        other = _names(stage, above).setdefault(name.casefold(), name)
        if other != name:
            raise _taken(folder, above, other)
    place = stage.folder / folder
    if not place.resolve().is_relative_to(stage.folder):
        raise PathRefused(f"'{folder}' leads out of the site through a link")
    place.mkdir(exist_ok=True)
    while len(stage.folders) >= _FOLDERS_KEPT:
        del stage.folders[next(iter(stage.folders))]
    names = stage.folders[folder] = {one.name.casefold(): one.name for one in place.iterdir()}
    return names


def has_file(stage: Stage, path: str) -> bool:
    """Whether a file was written to ``path``."""
    place = stage.folder / path
    return bool(_PATH.fullmatch(path)) and place.is_file() and place.resolve().is_relative_to(stage.folder)


def refuse_clashes(stage: Stage) -> None:
    """Look once more for two files that are one on many disks: processes that wrote together did not see it."""
    for folder, names, files in os.walk(stage.folder):
        found: dict[str, str] = {}
        for name in sorted((*names, *files)):
            other = found.setdefault(name.casefold(), name)
            if other != name:
                below = Path(folder).relative_to(stage.folder)
                raise _taken((below / name).as_posix(), "" if below == Path() else below.as_posix(), other)


def _exchange(one: Path, other: Path) -> bool:
    """Lets two folders change names at one stroke. False where the system cannot."""
    if sys.platform != "linux":
        return False
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP):
        return False
    raise OSError(number, os.strerror(number), str(other))


def _keep_hidden(stage: Stage) -> None:
    # MkDocs leaves hidden files in a site alone (a .git, a .nojekyll): they go along.
    for entry in sorted(stage.target.glob(".*")):
        place = stage.folder / entry.name
        if place.exists():
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.copytree(entry, place, symlinks=True)
        else:
            shutil.copy2(entry, place, follow_symlinks=False)


def _change_places(stage: Stage) -> None:
    if not stage.target.exists():
        stage.folder.rename(stage.target)
    elif _exchange(stage.folder, stage.target):
        stage.retired = stage.folder
    else:
        stage.retired = _beside(stage.target, "old")
        stage.target.rename(stage.retired)
        stage.folder.rename(stage.target)


def swap_in(stage: Stage) -> None:
    """Puts the new site in its place. The one it replaces is kept until ``close_stage``, for ``undo`` to
    bring back.

    Raises OSError when the system refuses (the place is a mount, say); the old site is then still there.
    """
    if stage.target.is_dir():
        _keep_hidden(stage)
    _change_places(stage)
    stage.swapped = True


def undo(stage: Stage) -> None:
    """The build failed: the last good site is in its place again, the new one is gone."""
    if stage.swapped:
        if stage.retired is not None and _exchange(stage.retired, stage.target):
            stage.folder, stage.retired = stage.retired, None
        else:
            stage.folder = _beside(stage.target, "new")
            stage.target.rename(stage.folder)
        stage.swapped = False
    close_stage(stage)


def close_stage(stage: Stage) -> None:
    """Removes what is no longer needed: the retired site, or the half-built one. Never leaves the place
    empty of a site.
    """
    if stage.retired is not None and stage.retired.exists() and not stage.target.exists():
        stage.retired.rename(stage.target)
    for folder in (stage.retired, None if stage.swapped else stage.folder):
        if folder is not None and folder.exists():
            shutil.rmtree(folder)
    stage.retired = None
    if stage.lock is not None:
        os.close(stage.lock)
        stage.lock = None
