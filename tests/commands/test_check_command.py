"""``benchleaf check`` says everything at once, in three forms, and its exit code tells how it ended."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from benchleaf.cli import COMMANDS, main

HEAVY = {"mkdocs", "typst", "PIL", "pint", "jinja2", "graphviz", "markdown", "markdown_it", "rich", "networkx"}
CONTENT = Path(__file__).parents[2] / "content"


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    """A library with an error in each of two files, and a warning."""
    (tmp_path / "m" / "teardown").mkdir(parents=True)
    (tmp_path / "m" / "machine.yaml").write_text("record: machine\nid: m\nname: M\nitems: {lid: {nmae: Lid}}\n")
    (tmp_path / "m" / "teardown" / "a.yaml").write_text(
        "record: teardown\nid: a\ntitle: Open\nmachine: m\nsteps: [{title: The lid, do: [lift of: lid]}]\n"
    )
    return tmp_path


def test_a_library_without_errors_leaves_with_0() -> None:
    code, output = run("check", str(CONTENT))
    assert code == 0, output
    assert output.rstrip().splitlines()[-1].startswith("0 errors,")


def test_all_errors_of_all_files_come_in_one_run_and_leave_with_1(wrong: Path) -> None:
    code, output = run("check", str(wrong))
    assert code == 1
    assert "m/machine.yaml:4:15: error[unknown-key]" in output
    assert "m/teardown/a.yaml:5:31: error[unknown-verb]" in output
    assert "did you mean 'name'?" in output and "did you mean 'lift off'?" in output
    assert "^^^^" in output


def test_a_folder_that_is_not_there_leaves_with_2(tmp_path: Path) -> None:
    assert run("check", str(tmp_path / "nowhere"))[0] == 2


def test_warnings_leave_with_0_unless_strict(wrong: Path) -> None:
    (wrong / "m" / "machine.yaml").write_text("record: machine\nid: m\nname: M\nfasteners: {unused: {thread: M3}}\n")
    (wrong / "m" / "teardown" / "a.yaml").unlink()
    assert run("check", str(wrong))[0] == 0
    assert run("check", "--strict", str(wrong))[0] == 1


def test_json_has_every_finding_with_its_place(wrong: Path) -> None:
    code, output = run("check", str(wrong), "--format", "json")
    value = json.loads(output)
    assert code == 1 and value["errors"] == len([f for f in value["findings"] if f["severity"] == "error"])
    first = value["findings"][0]
    assert (first["file"], first["line"], first["column"]) == ("m/machine.yaml", 4, 14)


def test_annotations_name_file_line_and_column(wrong: Path) -> None:
    _, output = run("check", str(wrong), "--format", "ci")
    assert any(
        line.startswith(f"::error file={wrong.as_posix()}/m/machine.yaml,line=4,col=15") for line in output.splitlines()
    )


def test_every_command_has_help_and_leaves_with_2_when_called_wrongly() -> None:
    for name in COMMANDS:
        code, output = run(name, "--help")
        assert code == 0 and "Usage:" in output
        assert run(name, "--no-such-option")[0] == 2


@pytest.mark.parametrize("arguments", [["check", "content"], ["explain", "deadlock"], ["list", "content"]])
def test_what_only_reads_records_never_imports_a_heavy_library(arguments: list[str]) -> None:
    program = (
        "import sys\nfrom click.testing import CliRunner\nfrom benchleaf.cli import main\n"
        f"result = CliRunner().invoke(main, {arguments!r})\nassert result.exit_code == 0, result.output\n"
        f"heavy = {HEAVY}\n"
        "print(sorted(heavy & {name.partition('.')[0] for name in sys.modules}))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=CONTENT.parent, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
