"""Checking many records: 1,000 and 10,000 synthetic teardown records, and what a small library costs at the start.

Goal: 1 s and 10 s from cold, linear; ``benchleaf check`` of a small library at most 0.15 s beyond reading it.
"""

from __future__ import annotations

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


def _command(content: Path) -> float:
    started = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "benchleaf", "check", str(content), "--format", "json"], capture_output=True, check=False
    )
    return time.perf_counter() - started


def run() -> list[str]:
    lines = []
    for records in (1_000, 10_000):
        with tempfile.TemporaryDirectory() as place:
            synthetic(Path(place), records)
            lines.append(f"check: {records:,} records of {STEPS} steps, from cold: {_command(Path(place)):.2f} s")
    with tempfile.TemporaryDirectory() as place:
        for path, text in files().items():
            target = Path(place) / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
        content = Path(place) / "content"
        started = time.perf_counter()
        shape(read_library(content)[0])
        reading = time.perf_counter() - started
        whole = min(_command(content) for _ in range(3))
        lines.append(f"check: the starter library, whole command {whole:.2f} s, of which reading {reading:.3f} s")
    return lines
