"""The procedure checker: steps a second over every procedure of the demo on every machine it is for, there and back.

Processor time of one process, so that a busy machine does not change the figure.
"""

from __future__ import annotations

import os
from pathlib import Path
from time import process_time

from benchleaf.applicability import holds
from benchleaf.derived import Derived
from benchleaf.edges.files import read_library
from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.physical.findings import ground_of, procedure_findings
from benchleaf.physical.ground import Ground
from benchleaf.physical.reassembly import reassembly
from benchleaf.physical.replay import replay
from benchleaf.records.teardown import TeardownRecord
from benchleaf.shape import shape

CONTENT = Path(__file__).parents[1] / "content"
ROUNDS = 5


def jobs_of(derived: Derived) -> list[tuple[Ground, TeardownRecord, Machine]]:
    """Every procedure with every machine it is for."""
    return [
        (ground_of(derived, machine, one), procedure, machine)
        for machine, procedure in derived.library.procedures()
        for one in derived.configurations(machine)
        if holds(procedure.applies, one, machine.record) is not False
    ]


def run() -> list[str]:
    """The lines to print."""
    sources, assets, _ = read_library(CONTENT)
    library, _ = link(shape(sources)[0], assets)
    cold = Derived(library)
    start = process_time()
    for machine in library.machines.values():
        list(procedure_findings(cold, machine))
    first = process_time() - start
    jobs = jobs_of(cold)
    for ground, procedure, machine in jobs:
        replay(ground, procedure, machine.procedures)
    start = process_time()
    steps = acts = 0
    for _ in range(ROUNDS):
        for ground, procedure, machine in jobs:
            made = replay(ground, procedure, machine.procedures)
            steps += len(made.steps)
            acts += sum(len(step.done) for step in made.steps)
    there = process_time() - start
    replays = [replay(ground, procedure, machine.procedures) for ground, procedure, machine in jobs]
    start = process_time()
    back_acts = sum(len(step.done) for one in replays for step in reassembly(one).steps)
    back = process_time() - start
    cores = os.cpu_count()
    return [
        f"replay: {steps / there:,.0f} steps a second ({acts / there:,.0f} acts; {acts / steps:.1f} acts a step), "
        f"processor time, {cores} cores",
        f"replay: way back derived and replayed, {back_acts / back:,.0f} acts a second, "
        f"{1000 * back / len(jobs):.2f} ms a procedure and machine",
        f"replay: all findings of the demo from nothing, {len(jobs)} procedures × machines, {first:.2f} s",
    ]
