"""A library in which every text an author can type tries to become markup, script, a link or a template."""

from __future__ import annotations

NASTY = (
    "\"'><img src=x onerror=window.ran=1><script>window.ran=1</script><b onmouseover=window.ran=1>{{7*7}}</b>"
    "[x](javascript:window.ran=1)<!-- --></main></style>&lt;i&gt;${1+1}"
)
"""One line, so that it fits wherever a text is one line; YAML single quotes double the one quote in it."""
Q = "'" + NASTY.replace("'", "''") + "'"


def library() -> dict[str, str]:
    """Path → text: one small machine with something nasty in every text field, spelled so that it checks clean."""
    return {
        "shop.yaml": f"""record: shop
name: {Q}
emergency: {{stop: {Q}, extinguisher: {Q}, first-aid: {Q}, number: {Q}}}
synonyms:
  - [{Q}, film]
standing-safety: [nasty]
""",
        "safety.yaml": f"""record: safety
nasty:
  signal: WARNING
  hazard: {Q}
  consequence: {Q}
  avoid: {Q}
  where: {Q}
  symbol: W012
""",
        "tools.yaml": f"""record: tools
driver: {{name: {Q}, does: [PH1, isolate, prove dead], range: {Q}, supplier: {Q}, alternatives: [{Q}]}}
""",
        "supplies.yaml": f"""record: supplies
grease: {{name: {Q}, sds: {Q}, disposal: {Q}, supplier: {Q}, alternatives: [{Q}], part-number: {Q}}}
""",
        "glossary.yaml": f"""record: glossary
nasty word: {Q}
{Q}: {Q}
""",
        "m1/machine.yaml": f"""record: machine
id: m1
name: {Q}
note: {Q}
variants:
  a: {{is: {Q}, serials: [0100..0199], tell: {Q}}}
  b: {{is: {Q}, serials: [0200..], tell: {Q}}}
modifications:
  extra: {{is: {Q}, serials: ["0150"], tell: {Q}, by: {Q}}}
fasteners:
  screw: {{name: {Q}, thread: M3, length: 6 mm, head: {Q}, drive: PH1, part-number: {Q}, torque: {{value: 0.5 N·m,
    origin: measured, by: {Q}, serial: {Q}, date: {Q}, method: {Q}, instrument: {Q}, source: {Q}, condition: {Q}}}}}
items:
  frame: {{name: {Q}, held-by: none}}
  XP1: {{name: {Q}, behind: [], held-by: none}}
  cover: {{name: {Q}, part-number: {Q}, behind: [], held-by: {{screw: 4}}, comes-off: [lift up], supplier: {Q},
    alternatives: [{Q}], renew: {Q}, hazards: [nasty], note: {Q}, mass: 1 kg, supports: none,
    rests: any time}}
  A1: {{name: {Q}, behind: [cover], held-by: none, settings: {Q}, handling: [nasty], box: [0, 0, 0, 10, 10, 10],
    values: {{cold: {{value: 1 ohm, origin: measured, method: {Q}}}}}}}
energy:
  mains: {{name: {Q}, kind: electrical, isolate: [unplug XP1], lock: {Q}, note: {Q}, stored: none,
    prove-dead: [{{between: [A1-J1.1, A1-J1.2], expect: below 5 V AC, meter: {Q}}}]}}
adjusters:
  set: {{name: {Q}, on-item: A1, note: {Q}}}
checks:
  electrical-safety: {{title: {Q}, covers: [mains, cover, A1], text: {Q}, expect: {Q}}}
as-found:
  - {{serial: "0150", set: cover.screw, missing: 1, note: {Q}, date: {Q}}}
""",
        "m1/wiring.yaml": f"""record: wiring
machine: m1
connectors:
  A1-J1: {{family: {Q}, contacts: {{1: {Q}, 2: {Q}}}, keyed: {Q}, latch: {Q}, note: {Q}, face: [[1, 2]]}}
cables:
  W1: {{name: {Q}, ends: [XP1, A1-J1], wires: {{map: straight, colours: [BK, RD]}}, part-number: {Q}, note: {Q}}}
joins:
  A1: [{{kind: driver, between: [J1.1, J1.2], label: {Q}}}]
sources:
  mains: {{name: {Q}, at: [XP1.1], return: [XP1.2], nominal: 230 V AC, note: {Q}}}
signals:
  lid: {{name: {Q}, from: A1-J1.1, to: A1-J1.2, protects: {Q}}}
substitutions:
  - {{signal: lid, by: A1-J1.1, asserts: {Q}, applies: [extra], compensated-by: {Q},
     acknowledged: {{by: {Q}, date: {Q}, reason: {Q}}}}}
""",
        "m1/teardown/do-it.yaml": f"""record: teardown
id: do-it
machine: m1
title: {Q}
goal: {Q}
text: {Q}
supplies: [{{id: grease, amount: {Q}}}]
issue: {{number: {Q}, date: {Q}, reason: {Q}}}
verified: {{state: at the table, date: {Q}, serial: {Q}}}
steps:
  - title: {Q}
    do: [isolate: mains]
    text: {Q}
    expect: {Q}
    photos: [{{file: a.svg, shows: {Q}, marks: [{{at: [0.5, 0.5], is: cover.screw}}]}}]
    supplies: [{{id: grease, amount: {Q}}}]
  - title: {Q}
    do: [remove: cover.screw, lift off: cover, prove dead: mains]
    text: {Q}
  - title: {Q}
    text: {Q}
    changes: none
""",
        "m1/codes/e1.md": f"""---
record: code
code: {Q}
shown: {Q}
means: {Q}
signals: [lid]
no-fault-found: [electrical-safety]
exercise: {{do: {Q}, restore: {Q}}}
causes:
  one: {{likely: 2, mode: {Q}, why: {Q}, remedy: do-it}}
  two: {{likely: 1, mode: {Q}, remedy: replace A1}}
tests:
  look: {{do: {Q}, at: A1, takes: 2 min, state: powered, covers: closed, outcomes: {{good: [one], bad: rest}}}}
---
{NASTY}

# {NASTY}

    {NASTY}
""",
        "m1/symptoms/s1.md": f"""---
record: symptom
id: s1
title: {Q}
heard-as: [{Q}]
causes:
  one: {{mode: {Q}, remedy: do-it}}
---
{NASTY}
""",
    }
