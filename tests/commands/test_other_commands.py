"""``explain``, ``list``, ``schema`` and ``new``: what they print and write."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner
from ruamel.yaml import YAML

from benchleaf.cli import main
from benchleaf.edges.files import read_library
from benchleaf.explanations import explanations
from benchleaf.json_schema import all_schemas
from benchleaf.pipeline import load
from benchleaf.shape import guess_kind
from benchleaf.starter import files

CONTENT = Path(__file__).parents[2] / "content"


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(arguments))
    return result.exit_code, result.output


def test_explain_gives_the_page_of_every_code() -> None:
    for code, page in explanations().items():
        ended, output = run("explain", code)
        assert ended == 0 and page in output


def test_explain_suggests_a_code_and_leaves_with_2() -> None:
    code, output = run("explain", "deadlok")
    assert code == 2 and "Did you mean 'deadlock'?" in output


def test_explain_shows_every_key_of_a_record_kind() -> None:
    code, output = run("explain", "teardown")
    assert code == 0 and "| `on-return` |" in output


def test_list_has_the_promised_json_keys() -> None:
    code, output = run("list", str(CONTENT), "--json")
    listed = json.loads(output)
    assert code == 0 and list(listed) == ["machines", "procedures", "codes", "symptoms"]
    assert "fp420/make-dead" in [one["ref"] for one in listed["procedures"]]
    assert "fp420/07" in [one["ref"] for one in listed["codes"]]
    assert all(one["ref"] for kind in ("codes", "symptoms", "procedures") for one in listed[kind])


def as_an_editor_reads(text: str) -> Any:
    """The record as a YAML library with the usual types reads it (ruamel.yaml); dates stay text."""
    body = text.split("---\n")[1] if text.startswith("---") else text
    return json.loads(json.dumps(YAML(typ="safe").load(body), default=str))


def test_every_schema_is_a_json_schema() -> None:
    for schema in all_schemas().values():
        jsonschema.Draft202012Validator.check_schema(schema)


def test_the_demo_records_are_valid_under_the_schemas() -> None:
    """Outside check: the jsonschema library reads our schemas; what the program accepts an editor must accept."""
    schemas = {name: jsonschema.Draft202012Validator(schema) for name, schema in all_schemas().items()}
    checked = 0
    for source in read_library(CONTENT)[0]:
        kind = guess_kind(source.path)
        assert kind is not None
        record = as_an_editor_reads(source.text)
        errors = [f"{source.path}: {e.json_path}: {e.message[:200]}" for e in schemas[kind.name].iter_errors(record)]
        assert errors == []
        checked += 1
    assert checked > 50


def test_a_schema_refuses_a_misspelt_key() -> None:
    validator = jsonschema.Draft202012Validator(all_schemas()["machine"])
    assert not validator.is_valid({"record": "machine", "id": "m", "name": "M", "itmes": {}})


def test_the_schemas_beside_the_demo_are_the_ones_the_program_writes() -> None:
    for name, schema in all_schemas().items():
        written = (CONTENT / "schema" / f"{name}.json").read_text(encoding="utf-8")
        assert json.loads(written) == schema, "run: benchleaf schema --to content/schema"


def test_new_makes_a_library_that_checks_clean(tmp_path: Path) -> None:
    code, output = run("new", str(tmp_path / "ours"))
    assert code == 0 and "benchleaf check" in output
    checked = load(tmp_path / "ours" / "content")
    assert [f"{one.place} {one.message}" for one in checked.findings] == []
    assert list(checked.derived.library.machines) == ["my-machine"]


def test_new_touches_nothing_that_is_there(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine")
    code, output = run("new", str(tmp_path))
    assert code == 2 and "nothing was written" in output
    assert [path.name for path in tmp_path.iterdir()] == ["note.txt"]


@pytest.mark.parametrize("path", sorted(files()))
def test_the_starter_library_says_what_each_file_is(path: str) -> None:
    assert files()[path].startswith(("record: ", "---\n", "# "))
