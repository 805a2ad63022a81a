"""The manual of the record language tells the truth: its examples are read, its tables hold every key."""

from __future__ import annotations

import re
from typing import cast

import pytest

from benchleaf.json_schema import tables_of
from benchleaf.key_tables import title_of, whole_reference
from benchleaf.manual import language
from benchleaf.records import KINDS
from benchleaf.records.reading import keys_of
from benchleaf.shape import shape
from benchleaf.source import Source

EXAMPLES = re.findall(r"```yaml (\w+)\n(.*?)```", language(), re.DOTALL)


@pytest.mark.parametrize(("kind", "text"), EXAMPLES, ids=[f"{n}-{kind}" for n, (kind, _) in enumerate(EXAMPLES)])
def test_an_example_of_the_manual_is_read_without_a_finding(kind: str, text: str) -> None:
    path = f"m/codes/x.md" if kind == "code" else f"m/{kind}.yaml"  # noqa: F541
    body = f"---\n{text}---\n" if kind == "code" else text
    _, findings = shape([Source(path, body)])
    assert [f"{one.place} {one.message}" for one in findings] == []


def test_the_manual_has_an_example_of_each_of_the_main_kinds() -> None:
    assert {kind for kind, _ in EXAMPLES} >= {"machine", "wiring", "teardown", "code"}


def test_every_key_of_every_table_stands_in_the_reference() -> None:
    reference = whole_reference()
    for kind in KINDS.values():
        for table in tables_of(kind.row) if kind.row else ():
            chapter = reference.split(f"### {title_of(table).capitalize()}\n")[1].split("\n### ")[0]
            for name in keys_of(cast("type", table)):
                assert f"| `{name}` |" in chapter
