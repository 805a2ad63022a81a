"""Small invented machines for the tests of this package, made from record text as an author would write it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.pipeline import read
from benchleaf.records.teardown import TeardownRecord
from benchleaf.shape import shape
from benchleaf.source import Source

CONTENT = Path(__file__).parents[2] / "content"


def machine_of(wiring: str, items: str = "", *, modifications: str = "", **procedures: str) -> tuple[Derived, Machine]:
    """A machine ``m1``: ``items``, ``modifications`` as lines of machine.yaml, procedures as lines of steps."""
    sources = [
        Source("shop.yaml", "record: shop\nname: Test shop\n"),
        Source("m1/machine.yaml", _machine(items, modifications)),
        Source("m1/wiring.yaml", f"record: wiring\nmachine: m1\n{wiring}"),
        *(
            Source(f"m1/teardown/{name.replace('_', '-')}.yaml", _procedure(name.replace("_", "-"), steps))
            for name, steps in procedures.items()
        ),
    ]
    shaped, misfits = shape(sources)
    assert not misfits, [f"{one.place} {one.code} {one.message}" for one in misfits]
    library, _ = link(shaped)
    return Derived(library), library.machines["m1"]


def _machine(items: str, modifications: str) -> str:
    text = "record: machine\nid: m1\nname: Test machine\n"
    text += f"modifications:\n{modifications}" if modifications else ""
    return text + f"items:\n{items}"


def _procedure(name: str, steps: str) -> str:
    head = "" if steps.lstrip().startswith(("steps:", "conditions:", "applies:")) else "steps:\n"
    return f"record: teardown\nid: {name}\nmachine: m1\ntitle: {name}\n{head}{steps}"


def built_of(wiring: str, items: str = "", *, modified: str = "", modifications: str = "", **procedures: str) -> Built:
    """The machine of :func:`machine_of`, unmodified, or with the modifications named in ``modified``."""
    derived, machine = machine_of(wiring, items, modifications=modifications, **procedures)
    wanted = frozenset(modified.split())
    configuration = next(
        one for one in derived.configurations(machine) if one.modifications == wanted and one.serial is None
    )
    return derived.built(machine, configuration)


@lru_cache(maxsize=1)
def demo() -> Derived:
    """The demo library."""
    return read(CONTENT)


def demo_machine(name: str, variant: str, *modifications: str) -> Built:
    """A demo machine in one configuration without a serial."""
    derived = demo()
    return derived.built(derived.library.machines[name], Configuration(variant, frozenset(modifications)))


def demo_procedure(name: str, procedure: str) -> TeardownRecord:
    return demo().library.machines[name].procedures[procedure]
