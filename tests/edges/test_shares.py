"""Machines are shared out between processes, and what is found does not depend on how."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from bench.check import synthetic

from benchleaf.checks import CHECKS, run_checks
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, in_order
from benchleaf.edges import shares
from benchleaf.edges.shares import check_in_shares
from benchleaf.pipeline import read

DEMO = Path(__file__).parents[2] / "content"


@pytest.fixture(scope="module", params=["demo", "synthetic", "faulty"])
def derived(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Derived:
    """The demo; machines as the benchmark has them; the same with every cover left on."""
    if request.param == "demo":
        return read(DEMO)
    folder: Path = tmp_path_factory.mktemp("library")
    synthetic(folder, 12, machines=5)
    if request.param == "faulty":
        for path in folder.glob("*/teardown/*.yaml"):
            path.write_text(path.read_text().replace(", lift off: cover", ""))
    return read(folder)


@pytest.mark.parametrize("cores", [1, 2, 3])
def test_any_number_of_processes_finds_the_same(derived: Derived, cores: int) -> None:
    alone = in_order(run_checks(Derived(derived.library)))
    assert alone
    assert in_order(check_in_shares(Derived(derived.library), cores, least=0)) == alone


def test_what_a_check_says_of_a_machine_depends_on_no_other(derived: Derived) -> None:
    library = derived.library
    for check in CHECKS:
        if check.by_machine:
            whole = set(check.run(Derived(library)))
            parts = {one for name in library.machines for one in check.run(Derived(library.only([name])))}
            assert parts == whole, check.codes


def test_a_process_that_is_lost_loses_no_finding(derived: Derived, monkeypatch: pytest.MonkeyPatch) -> None:
    here = os.getpid()

    def run_or_die(derived: Derived, *checks: Any) -> Iterator[Finding]:
        if os.getpid() != here:
            os._exit(9)
        return run_checks(derived, *checks)

    alone = in_order(run_checks(Derived(derived.library)))
    monkeypatch.setattr(shares, "run_checks", run_or_die)
    assert in_order(check_in_shares(Derived(derived.library), 2, least=0)) == alone


def test_every_machine_has_its_share_and_the_steps_are_spread(tmp_path: Path) -> None:
    synthetic(tmp_path, 40, machines=8)
    library = read(tmp_path).library
    made = shares.shares(library, 3)
    assert sorted(name for names in made for name in names) == sorted(library.machines)
    steps = [sum(len(p.steps) for name in names for p in library.machines[name].procedures.values()) for names in made]
    assert max(steps) <= 2 * min(steps)
