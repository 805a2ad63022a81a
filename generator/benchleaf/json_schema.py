"""JSON Schemas of the record kinds, for completion and hints in an editor, drawn from the tables that read them."""

from __future__ import annotations

from typing import Any, cast

from benchleaf.records import KINDS, RecordKind
from benchleaf.records.reading import Row, keys_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(kind: RecordKind) -> dict[str, Any]:
    """The schema of one record kind; every table it uses stands under ``$defs`` by the name of its row."""
    made: dict[str, Any] = {"$schema": DIALECT, "title": f"benchleaf record: {kind.name}"}
    if kind.row is None:
        return {**made, "type": "object", "additionalProperties": {"type": "string"}}
    tables = tables_of(kind.row)
    defs = {table.__name__: _row_schema(table) for table in tables}
    if kind.named:
        body: dict[str, Any] = {
            "type": "object",
            "properties": {"record": {"const": kind.name}},
            "additionalProperties": {"$ref": f"#/$defs/{kind.row.__name__}"},
        }
    else:
        body = {**defs[kind.row.__name__]}
        properties = {**body["properties"], "record": {"const": kind.name}}
        body = {**body, "properties": properties}
    return {**made, **body, "$defs": dict(sorted(defs.items()))}


def _row_schema(table: type[Row]) -> dict[str, Any]:
    properties: dict[str, Any] = {}
    required: list[str] = []
    for name, (_, key) in keys_of(cast(Any, table)).items():
        help = key.doc if key.required else f"{key.doc}. Left out: {key.left_out}"
        shape = key.reader.schema()
        properties[name] = (
            {**shape, "description": help} if "$ref" not in shape else {"allOf": [shape], "description": help}
        )
        if key.required:
            required.append(name)
    made: dict[str, Any] = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**made, "required": required} if required else made


def tables_of(start: type[Row]) -> list[type[Row]]:
    """Every table reachable from ``start``, each once."""
    known = {sub.__name__: sub for sub in _all_rows(Row)}
    found: list[type[Row]] = []
    waiting = [start]
    while waiting:
        table = waiting.pop()
        if table in found:
            continue
        found.append(table)
        for _, key in keys_of(cast(Any, table)).values():
            waiting += [known[name] for name in _referred(key.reader.schema()) if name in known]
    return found


def _all_rows(table: type[Row]) -> list[type[Row]]:
    return [sub for child in table.__subclasses__() for sub in (child, *_all_rows(child))]


def _referred(schema: Any) -> list[str]:
    if isinstance(schema, dict):
        own = [schema["$ref"].rpartition("/")[2]] if "$ref" in schema else []
        return own + [name for value in schema.values() for name in _referred(value)]
    if isinstance(schema, list):
        return [name for value in schema for name in _referred(value)]
    return []


def all_schemas() -> dict[str, dict[str, Any]]:
    """Record kind → its schema."""
    return {name: schema_of(kind) for name, kind in KINDS.items()}
