"""Where each page of the manual lies: names that work on every desk, in every address, and stay the same next year.

A name an author chose becomes small letters, digits and hyphens. Where two names would lie on one file (``A1`` and
``a1``, or ``E-1`` and ``E 1``), the one that is spelled so already keeps it and the others get a few letters of their
hash: the same names always lie in the same places.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cached_property

from benchleaf.file_names import odd_name
from benchleaf.model import Library, Machine

LONGEST = 60
_OTHER = re.compile(r"[^a-z0-9]+")
_KEPT_BACK = ("index",)


def slug(name: str) -> str:
    """``E-0417`` → ``e-0417``; empty when no letter or digit of it can be kept."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return _OTHER.sub("-", plain).strip("-")[:LONGEST].strip("-")


def slugs(names: Iterable[str]) -> dict[str, str]:
    """A file name for each of the names, no two alike, whatever the order they come in."""
    wanted = {name: slug(name) for name in sorted(set(names))}
    many = Counter(wanted.values())
    plain = {name: made for name, made in wanted.items() if made and (name == made or many[made] == 1)}
    plain = {name: made for name, made in plain.items() if not odd_name(f"{made}.html") and made not in _KEPT_BACK}
    taken = set(plain.values())
    result = dict(plain)
    for name, made in wanted.items():
        if name not in plain:
            digest = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()
            length = 6
            while (tried := f"{made}-{digest[:length]}".lstrip("-")) in taken or odd_name(tried):
                length += 1
            taken.add(tried)
            result[name] = tried
    return result


class MachineAddresses:
    """The pages of one machine, each below its folder."""

    def __init__(self, machine: Machine, folder: str) -> None:
        self.machine = machine
        self.folder = folder

    @property
    def home(self) -> str:
        return f"{self.folder}/index.html"

    def list(self, name: str) -> str:
        """A list page of the machine: ``checks``, ``fasteners``, ``spares`` …"""
        return f"{self.folder}/{name}.html"

    @cached_property
    def _procedures(self) -> Mapping[str, str]:
        return slugs(self.machine.procedures)

    @cached_property
    def _tables(self) -> Mapping[str, Mapping[str, str]]:
        record, wiring = self.machine.record, self.machine.wiring
        hosts = {str(item): item for item in record.items}
        return {
            "item": slugs(hosts),
            "code": slugs(self.machine.codes),
            "symptom": slugs(self.machine.symptoms),
            "connector": slugs(wiring.connectors),
            "cable": slugs(wiring.cables),
        }

    def _one(self, kind: str, name: str) -> str:
        return f"{self.folder}/{kind}/{self._tables[kind][name]}.html"

    def item(self, name: str) -> str:
        return self._one("item", name)

    def derived(self, item: str, goal: str) -> str:
        """The derived procedure to ``reach``, ``remove`` or ``replace`` an item."""
        return f"{self.folder}/derived/{self._tables['item'][item]}/{goal}.html"

    def code(self, name: str) -> str:
        return self._one("code", name)

    def symptom(self, name: str) -> str:
        return self._one("symptom", name)

    def connector(self, name: str) -> str:
        return self._one("connector", name)

    def cable(self, name: str) -> str:
        return self._one("cable", name)

    def _within(self, procedure: str, page: str) -> str:
        return f"{self.folder}/procedure/{self._procedures[procedure]}/{page}.html"

    def procedure(self, name: str) -> str:
        return self._within(name, "index")

    def step(self, procedure: str, number: int) -> str:
        return self._within(procedure, f"step-{number}")

    def bench(self, procedure: str) -> str:
        return self._within(procedure, "bench")

    def plugs(self, procedure: str) -> str:
        """Swaps, labels and pictures of a procedure."""
        return self._within(procedure, "plugs")

    def order(self, procedure: str) -> str:
        return self._within(procedure, "order")

    def ledger(self, procedure: str) -> str:
        return self._within(procedure, "ledger")

    def torque(self, procedure: str) -> str:
        return self._within(procedure, "torque")

    @cached_property
    def _photos(self) -> Mapping[str, str]:
        steps = (step for procedure in self.machine.procedures.values() for step in procedure.steps)
        return slugs(str(photo.file) for step in steps for photo in step.photos)

    def photo(self, file: str) -> str:
        """Where a picture of the machine is copied to, with the ending it has."""
        ending = re.sub(r"[^a-z0-9]", "", file.rpartition(".")[2].lower())
        return f"{self.folder}/photos/{self._photos[file].removesuffix(f'-{ending}')}.{ending or 'picture'}"


class Addresses:
    """The pages of the whole manual."""

    home = "index.html"
    find = "find.html"

    def __init__(self, library: Library) -> None:
        folders = slugs(library.machines)
        self._machines = {
            name: MachineAddresses(machine, f"machine/{folders[name]}") for name, machine in library.machines.items()
        }

    def machine(self, name: str) -> MachineAddresses:
        return self._machines[name]

    def list(self, name: str) -> str:
        """A list page of the whole manual: ``codes``, ``spares``, ``safety`` …"""
        return f"{name}.html"

    def entry(self, name: str, id: str) -> str:
        """The place of one entry on a list page."""
        return f"{name}.html#{anchor(id)}"

    @staticmethod
    def sign(number: str) -> str:
        return f"img/signs/{slug(number) or 'general'}.svg"

    @staticmethod
    def article(path: str) -> str:
        """The page MkDocs makes of an article below the content folder."""
        return path.removesuffix(".md") + ".html"


def anchor(id: str) -> str:
    """An id for a place on a page, for any text: two different texts never give the same one."""
    made = slug(id)
    if made == id:
        return f"on-{made}"
    return f"on-{made}-{hashlib.sha256(id.encode('utf-8', 'surrogatepass')).hexdigest()[:6]}"
