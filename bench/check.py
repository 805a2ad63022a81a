"""Checking many records: 1,000 and 10,000 synthetic teardown records, and what a small library costs at the start.

Goal: 1 s and 10 s from cold, linear; ``benchleaf check`` of a small library at most 0.15 s beyond reading it.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from benchleaf.edges.files import read_library
from benchleaf.shape import shape
from benchleaf.starter import files

STEPS = 8


def synthetic(folder: Path, records: int, machines: int = 20) -> None:
    """A library of ``records`` procedures of eight steps over ``machines`` machines."""
    for number in range(machines):
        name = f"m{number:02d}"
        items = "\n".join(
            f"  part-{n}: {{name: Part {n}, behind: [cover], held-by: {{screw: 2}}, supports: none}}" for n in range(20)
        )
        base = folder / name
        (base / "teardown").mkdir(parents=True)
        (base / "machine.yaml").write_text(
            f"record: machine\nid: {name}\nname: Machine {number}\n"
            "fasteners: {screw: {thread: M3, drive: PH1, into: steel}}\n"
            "items:\n  frame: Frame\n  cover: {name: Cover, behind: [], held-by: {screw: 4}, supports: none}\n"
            f"{items}\n"
        )
    for number in range(records):
        machine = f"m{number % machines:02d}"
        steps = "\n".join(
            f"  - title: Take part {n} off\n    do: [remove: part-{n}, lift off: part-{n}]\n"
            f"    text: Hold it at the lower edge while the last screw comes out."
            for n in range(STEPS - 1)
        )
        (folder / machine / "teardown" / f"p{number}.yaml").write_text(
            f"record: teardown\nid: p{number}\ntitle: Procedure {number}\nmachine: {machine}\nsteps:\n"
            f"  - title: Take the cover off\n    do: [remove: cover, lift off: cover]\n{steps}\n"
        )


def _command(content: Path, compiled: Path) -> tuple[float, float]:
    """Seconds on the clock and of the processors; the program is compiled to ``compiled``, as pip leaves it."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    started = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "benchleaf", "check", str(content), "--format", "json"],
        capture_output=True,
        check=False,
        env={**kept, "PYTHONPYCACHEPREFIX": str(compiled)},
    )
    seconds = time.perf_counter() - started
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return seconds, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def run() -> list[str]:
    with tempfile.TemporaryDirectory() as compiled:
        return _lines(Path(compiled))


def _lines(compiled: Path) -> list[str]:
    lines = []
    with tempfile.TemporaryDirectory() as place:
        _command(Path(place), compiled)
    for records in (1_000, 10_000):
        with tempfile.TemporaryDirectory() as place:
            synthetic(Path(place), records)
            seconds, busy = _command(Path(place), compiled)
            lines.append(
                f"check: {records:,} records of {STEPS} steps, from cold: {seconds:.2f} s, {busy:.2f} s of processor"
            )
    with tempfile.TemporaryDirectory() as place:
        for path, text in files().items():
            target = Path(place) / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
        content = Path(place) / "content"
        started = time.perf_counter()
        shape(read_library(content)[0])
        reading = time.perf_counter() - started
        whole = min(_command(content, compiled)[0] for _ in range(5))
        lines.append(f"check: the starter library, whole command {whole:.2f} s, of which reading {reading:.3f} s")
    return lines
