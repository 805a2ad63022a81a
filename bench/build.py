"""Building the site: synthetic procedures of eight steps, beside plain MkDocs on as many plain Markdown pages.

Goal: linear in the procedures, the largest process at most 300 MiB. ``BENCH_BUILD=100,1000`` chooses other numbers of
procedures than 1,000 and 10,000; plain MkDocs is left out above ``MOST_PLAIN`` pages, where it needs hours.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

from bench.check import STEPS, synthetic

PROCEDURES = os.environ.get("BENCH_BUILD", "1000,10000")
MOST_PLAIN = 20_000
RECORDS = "site_name: Bench\ntheme: benchleaf\nplugins: [{{benchleaf: {{content: {content}}}}}]\ndocs_dir: docs\n"
PLAIN = "site_name: Bench\ntheme: mkdocs\nplugins: []\nuse_directory_urls: false\n"
PARAGRAPH = "Take part {number} off. Hold it at the lower edge while the last screw comes out.\n\n"
PLAIN_PAGE = "# Page {number}\n\n" + PARAGRAPH * 8


def _measured(*arguments: str) -> tuple[float, float]:
    """Seconds and MiB of the largest process of a command. Raises RuntimeError when it fails."""
    started = time.perf_counter()
    with tempfile.TemporaryFile() as said:
        quiet = [(os.POSIX_SPAWN_DUP2, said.fileno(), stream) for stream in (1, 2)]
        child = os.posix_spawn(sys.executable, [sys.executable, *arguments], os.environ, file_actions=quiet)
        _, status, usage = os.wait4(child, 0)
        if status:
            said.seek(0)
            raise RuntimeError(said.read().decode()[-2000:])
    return time.perf_counter() - started, usage.ru_maxrss / 1024


def _written(site: Path) -> tuple[int, int, int]:
    """Pages, all files, and bytes below a folder."""
    files = [path for path in site.rglob("*") if path.is_file()]
    return sum(path.suffix == ".html" for path in files), len(files), sum(path.stat().st_size for path in files)


def records(place: Path, procedures: int) -> tuple[str, int, float]:
    """Build a manual; the line about it, its pages and its seconds."""
    synthetic(place / "content", procedures)
    (place / "docs").mkdir()
    settings = place / "mkdocs.yml"
    settings.write_text(RECORDS.format(content=place / "content"))
    seconds, most = _measured("-m", "benchleaf", "build", str(settings))
    pages, files, size = _written(place / "site")
    line = (
        f"build: {procedures:,} procedures of {STEPS} steps: {seconds:.1f} s, largest process {most:.0f} MiB; "
        f"{pages:,} pages, {files:,} files, {size / 1e6:.1f} MB; {1000 * seconds / pages:.1f} ms a page"
    )
    return line, pages, seconds


def plain(place: Path, pages: int) -> str:
    """Build as many plain pages with MkDocs alone, its own theme, no search."""
    for number in range(pages):
        path = place / "docs" / f"{number // 100:04d}" / f"{number:06d}.md"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(PLAIN_PAGE.format(number=number))
    (place / "docs" / "index.md").write_text("# Home\n")
    settings = place / "mkdocs.yml"
    settings.write_text(PLAIN + "nav: [index.md]\n")
    seconds, most = _measured("-m", "mkdocs", "build", "-q", "-f", str(settings))
    made, files, size = _written(place / "site")
    return (
        f"build: plain MkDocs, {made:,} Markdown pages: {seconds:.1f} s, largest process {most:.0f} MiB; "
        f"{files:,} files, {size / 1e6:.1f} MB; {1000 * seconds / made:.1f} ms a page"
    )


def run() -> list[str]:
    lines = []
    for procedures in map(int, PROCEDURES.split(",")):
        with tempfile.TemporaryDirectory() as place:
            line, pages, _ = records(Path(place), procedures)
            lines.append(line)
        if pages <= MOST_PLAIN:
            with tempfile.TemporaryDirectory() as place:
                lines.append(plain(Path(place), pages))
        else:
            lines.append(f"build: plain MkDocs on {pages:,} pages was left out: more than {MOST_PLAIN:,}")
    return lines
