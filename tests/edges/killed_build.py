"""Run by test_mkdocs_plugin in a process of its own: builds the same site over and over, killed at a later
point each time.

The points are all the moments at which Python is about to change something on a disk, as its audit events
tell; so no moment has to be marked in the program itself. Prints one JSON line a kill: the point, and the
site as it lay afterwards.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path

from benchleaf import mkdocs_plugin
from benchleaf.edges import site_swap
from benchleaf.pages.page import Asset, Frame, Manual, Page

CHANGES = {"os.rename", "os.mkdir", "os.remove", "os.rmdir", "shutil.rmtree", "shutil.copyfile", "ctypes.dlopen"}


def compile_words(content: Path) -> Manual:
    words = (content / "words.txt").read_text()
    pages = [
        Page(path=f"item/{n}.html", template="pages/plain.html", title=f"{words} {n}", kind="item") for n in (1, 2)
    ]
    return Manual(frame=Frame(name="Words"), pages=pages, assets=[Asset(path="data/words.js", data=words.encode())])


def tree(site: Path) -> dict[str, str]:
    files = (path for path in sorted(site.rglob("*")) if path.is_file())
    return {str(path.relative_to(site)): path.read_text(errors="surrogateescape") for path in files}


def killed_at(point: int, config: str) -> bool:
    """Builds in a child that dies at the given change; False when it came to its end before that."""
    child = os.fork()
    if child == 0:
        seen = 0

        def watch(event: str, details: tuple[object, ...]) -> None:
            nonlocal seen
            writing = event == "open" and (
                any(letter in str(details[1] or "") for letter in "wax+") or int(str(details[2] or 0)) & os.O_CREAT
            )
            if writing or event in CHANGES:
                seen += 1
                if seen == point:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(watch)
        status = 1
        try:
            mkdocs_plugin.build_manual(config)
            status = 0
        finally:
            os._exit(status)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return True
    if status != 0:
        raise SystemExit(f"the build failed at point {point}")
    return False


def main(project: Path, way: str) -> None:
    mkdocs_plugin.BenchleafPlugin.compile = staticmethod(compile_words)
    if way == "two renames":
        site_swap._exchange = lambda one, other: False
    config = str(project / "mkdocs.yml")
    point, killed = -1, True
    while killed:
        point += 1  # point 0 is never met: the first build comes to its end
        (project / "content" / "words.txt").write_text(f"build {point}")
        killed = killed_at(point, config)
        killed = killed or point == 0
        whole = (project / "site").exists()
        site_swap.recover(project / "site")
        left = sorted(entry.name for entry in project.iterdir() if entry.name.startswith("."))
        print(json.dumps({"point": point, "whole": whole, "site": tree(project / "site"), "left": left}))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
