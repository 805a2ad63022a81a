"""Words authors try for a key before they have read the manual of the language, and what they mean.

A slip of the fingers is found by its letters (``suggest``); these are slips of the tongue: the right idea under another
name, or a fact that belongs to another record. Common practice, no source: collected by writing records by hand.
"""

from __future__ import annotations

from collections.abc import Container, Mapping

OTHER_KEYS: Mapping[str, tuple[str, ...]] = {
    "amount": ("count",), "action": ("do",), "actions": ("do",), "allen": ("drive",), "arrives": ("as-found",),
    "bit": ("drive",), "body": ("text", "note"), "capacity": ("capacitance",), "chance": ("likely",),
    "connector": ("family", "contacts"), "connects": ("ends",), "cover": ("covers", "behind"),
    "description": ("text", "note", "is", "means", "why"), "details": ("text", "note"), "diameter": ("thread",),
    "discharged-by": ("discharge",), "duration": ("takes",), "fasteners": ("held-by",), "fix": ("remedy",),
    "fixed-by": ("held-by",), "hold": ("held-by",), "id": ("code", "name"), "image": ("photos", "file"),
    "images": ("photos",), "in-front": ("behind",), "instrument": ("with", "meter"), "label": ("name",),
    "location": ("in", "at"), "manufacturer": ("supplier",), "material": ("into",), "meaning": ("means",),
    "message": ("shown", "hazard"), "minutes": ("takes",), "name": ("is", "title", "family"), "notes": ("note", "text"),
    "number": ("count", "code"), "options": ("modifications", "variants"), "order": ("sequence",),
    "part": ("part-number",), "parts": ("items",), "people": ("persons",), "photo": ("photos", "file"),
    "picture": ("photos", "file"), "pictures": ("photos",), "pins": ("contacts",), "pitch": ("thread",),
    "poles": ("contacts",), "preconditions": ("conditions",), "probability": ("likely",), "procedure": ("remedy", "do"),
    "quantity": ("count",), "reachable": ("reach",), "reason": ("why",), "repair": ("remedy",),
    "results": ("outcomes",),
    "screw": ("held-by", "fastener"), "screws": ("held-by", "fasteners"), "serial": ("serials",), "size": ("thread",),
    "solution": ("remedy",), "spare": ("part-number",), "status": ("verified",), "sub-steps": ("do",),
    "task": ("do", "title"), "text": ("note", "why", "means"), "time": ("takes",), "title": ("name", "why", "is", "do"),
    "tool": ("drive", "with"), "type": ("kind", "family"), "value": ("likely",), "warning": ("safety", "hazards"),
    "warnings": ("safety", "hazards"), "weight": ("mass", "likely"), "wire": ("wires",), "words": ("heard-as",),
}  # fmt: skip
"""What was written → the keys it may mean; the first that the table has is named."""

ELSEWHERE: Mapping[str, str] = {
    "between": "write it into a measurement: `do: {measure: {between: [A1.1, A1.2], expect: 5 V}}`",
    "expect": "write it into a measurement: `do: {measure: {between: [A1.1, A1.2], expect: 5 V}}`",
    "parts": "parts follow from `renew:` and from `part-number` of the item",
    "spares": "spares follow from `renew:` and from `part-number` of the item",
    "tools": "tools follow from the `drive` of the fasteners and from tools.yaml",
    "tool": "tools follow from the `drive` of the fasteners and from tools.yaml",
    "torque": "a torque belongs to its fastener: `torque:` under `fasteners` or `held-by` in machine.yaml",
    "warning": "a warning belongs to what it is of: `hazards:` of the item, with its message in safety.yaml",
}
"""What was written → where such a fact belongs, in tables that have no key for it."""


def meant(word: str, known: Container[str]) -> str:
    """The way out for a key that ``known`` does not have, when it is one of these words; empty when it is not."""
    found = word.lower().replace("_", "-")
    key = next((one for one in OTHER_KEYS.get(found, ()) if one in known), None)
    return f"is it '{key}' that you mean?" if key is not None else ELSEWHERE.get(found, "")
