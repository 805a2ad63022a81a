"""What can be live, worked out a second time in the plainest way, straight from the facts of a generated machine.

Nothing is shared with the program: contacts are strings, what may conduct is a list of pairs, a contact of which nobody
recorded where it goes is paired with every other contact there, and every set grows until it grows no more.
"""

from __future__ import annotations

from itertools import combinations, product
from typing import Any

Facts = dict[str, Any]
Pairs = list[tuple[str, str]]


class Plain:
    """One generated machine."""

    def __init__(self, facts: Facts) -> None:
        wiring = facts["wiring"]
        self.items = list(facts["machine"]["items"])
        self.energy = {n: e for n, e in facts["machine"]["energy"].items() if n in wiring["sources"]}
        self.connectors: Facts = wiring["connectors"]
        self.cables: Facts = wiring["cables"]
        self.sources: Facts = wiring["sources"]
        self.joins = {item: self._full(item, many) for item, many in wiring["joins"].items()}
        self.contacts = self._contacts()

    def _full(self, item: str, many: Any) -> list[tuple[str, list[str]]]:
        made = []
        for join in [] if many == "none" else many:
            kind, ends = ("copper", join) if isinstance(join, list) else (join["kind"], join["between"])
            made.append((kind, [f"{item}-{end}" if "." in end else f"{item}.{end}" for end in ends]))
        return made

    def _contacts(self) -> dict[str, list[str]]:
        """Connector or item → the contacts anything names there."""
        named = {f"{j}.{own}" for j, one in self.connectors.items() for own in one["contacts"]}
        named |= {end for many in self.joins.values() for _, ends in many for end in ends}
        for source in self.sources.values():
            for key in ("at", "return", "earth"):
                named |= set(source.get(key, ())) if source.get(key) != "none" else set()
        for energy in self.energy.values():
            for store in energy.get("stored", ()) if energy.get("stored") != "none" else ():
                named |= set(store.get("between", ()))
        for cable in self.cables.values():
            named |= {end for pair in cable.get("wires", {}).get("map", ()) for end in pair}
        found: dict[str, list[str]] = {}
        for one in sorted(named):
            if not one.startswith("parked"):
                found.setdefault(one.split(".")[0], []).append(one)
        return found

    def empty(self, contact: str) -> bool:
        owner, _, own = contact.partition(".")
        return owner in self.connectors and self.connectors[owner]["contacts"].get(own) == "-"

    def host(self, contact: str) -> str:
        owner = contact.split(".")[0]
        return owner if owner in self.items else owner.rpartition("-")[0]

    def on(self, item: str) -> list[str]:
        """Every contact fixed on an item."""
        return [one for many in self.contacts.values() for one in many if self.host(one) == item]

    # ---- what may conduct

    def cable_pairs(self, cut: set[tuple[str, str]]) -> tuple[Pairs, Pairs, list[tuple[str, list[str]]], list[str]]:
        """Wires; mated or landed ends; (contact nobody told about, everything it may reach); all nodes of cables."""
        landed = {
            end for c in self.cables.values() for pair in c.get("wires", {}).get("map", ()) for end in pair
        }  # fmt: skip
        wires: Pairs = []
        ends: Pairs = []
        untold: list[tuple[str, list[str]]] = []
        every: list[str] = []
        for name, cable in self.cables.items():
            pairs = cable.get("wires", {}).get("map", [])
            mapped = {end for pair in pairs for end in pair}
            here: dict[str, list[str]] = {}
            unsure: list[str] = []
            for end in cable["ends"]:
                if end in self.connectors:
                    here[end] = [one for one in self.contacts[end] if not self.empty(one) or one in mapped]
                    unsure += [one for one in here[end] if one not in mapped and not self.empty(one)]
                elif end == "parked":
                    here[end] = sorted(one for one in mapped if one.startswith("parked.")) or ["parked.?"]
                    unsure += [one for one in here[end] if one not in mapped]
                else:
                    mine = self.contacts.get(end, [])
                    here[end] = [one for one in mine if one in mapped] if pairs else mine
                    unsure += [one for one in here[end] if one not in mapped]
                    if not here[end]:  # a lead that goes nobody knows where
                        here[end] = [f"{end}.?"]
                        unsure += mine or here[end]
                    unsure += [one for one in mine if one not in landed]
            if unsure:
                for end in here:
                    if end in self.items:
                        here[end] = self.contacts.get(end, []) or [f"{end}.?"]
            nodes = sorted({f"{name}@{one}" for many in here.values() for one in many})
            every += nodes
            wires += [(f"{name}@{a}", f"{name}@{b}") for a, b in pairs]
            real = [node for node in nodes if not self.empty(node.split("@")[1])]
            untold += [(f"{name}@{one}", real) for one in dict.fromkeys(unsure)]
            for end, many in here.items():
                if end == "parked" or (name, end) in cut:
                    continue
                ends += [(f"{name}@{one}", one) for one in many if not self.empty(one) and not one.endswith("?")]
        return wires, ends, untold, every

    def inside(self, opened: set[tuple[str, str]]) -> tuple[Pairs, Pairs, Pairs, list[tuple[str, list[str]]]]:
        """Copper; what drops nothing; loads; (contact nobody told about, everything it may reach)."""
        copper: Pairs = []
        direct: Pairs = []
        through: Pairs = []
        for many in self.joins.values():
            for kind, ends in many:
                pairs = [(ends[0], other) for other in ends[1:]]
                if kind == "copper":
                    copper += pairs
                elif kind in ("load", "driver"):
                    through += pairs
                else:
                    direct += [pair for pair in pairs if not (kind == "switch" and pair in opened)]
        for source in self.sources.values():
            if "from" in source:
                outputs = [*source["at"], *source.get("return", ())]
                through += list(combinations(outputs, 2))
                if "one-way" not in source:
                    through += [p for p in product(outputs[:1], self.on(self.host(outputs[0]))) if not self.empty(p[1])]
        told = {end for many in self.joins.values() for _, ends in many for end in ends}
        untold = []
        for item in self.items:
            mine = [one for one in self.on(item) if not self.empty(one)]
            if self.joins.get(item) != []:
                untold += [(one, mine) for one in mine if one not in told]
        return copper, direct, through, untold

    # ---- the state

    def opened_by(self, operated: set[str]) -> set[tuple[str, str]]:
        """The switch poles that operated devices open."""
        found = set()
        for energy in self.energy.values():
            for device in energy["isolate"]:
                verb, _, name = device.partition(" ")
                if device in operated and verb == "open":
                    item, _, poles = name.partition(".")
                    for kind, ends in self.joins.get(item, ()):
                        if kind == "switch" and (not poles or {e.split(".")[1] for e in ends} <= set(poles.split("+"))):
                            found.add((ends[0], ends[1]))
        return found

    def live(self, operated: set[str], cut: set[tuple[str, str]], proved: set[str]) -> set[str]:
        """Every contact, on either half, that something may put a voltage on."""
        recorded = {device for energy in self.energy.values() for device in energy["isolate"]}
        operated = operated & recorded
        return self._live(operated, cut, proved)

    def _live(self, operated: set[str], cut: set[tuple[str, str]], proved: set[str]) -> set[str]:
        pulled = {device.split(" ")[1] for device in operated if device.startswith("unplug ")}
        wires, ends, maybe, every = self.cable_pairs(cut)
        copper, direct, through, unknown = self.inside(self.opened_by(operated))
        earths = {
            one for s in self.sources.values() if "from" not in s and s.get("earth", "none") != "none"
            for one in s["earth"] if one.split(".")[0] not in pulled
        }  # fmt: skip
        earth = grown(earths, wires + ends + copper, set())
        open_ = [(one, other) for one, others in (*maybe, *unknown) if one not in earth for other in others]
        conducting = wires + ends + copper + direct + through + open_
        reach = {name: set() for name in self.sources}
        reach |= {name: grown(start, conducting, earth) for name, start in self.others(every, proved).items()}
        alive = set(reach) - set(self.sources)
        bare = wires + ends + copper + direct + open_
        while True:
            fresh = {n for n in self.sources if n not in alive and self.lives(n, alive, reach, pulled, bare, earth)}
            if not fresh:
                break
            for name in fresh:
                reach[name] = grown(self.starts(name), conducting, earth)
            alive |= fresh
        return set().union(*(reach[name] for name in alive)) if alive else set()

    def others(self, every: list[str], proved: set[str]) -> dict[str, set[str]]:
        """Stored charge that is not proved dead, and what may be plugged in where nobody recorded anything."""
        found: dict[str, set[str]] = {}
        for name, energy in self.energy.items():
            for number, store in enumerate(energy.get("stored", ()) if energy.get("stored") != "none" else ()):
                if name not in proved:
                    found[f"charge {name} {number}"] = set(store.get("between") or self.on(store["in"]))
        for name, source in self.sources.items():
            if "from" not in source and "stored" not in self.energy.get(name, {}) and name not in proved:
                found[f"charge {name} ?"] = self.wherever(name)
        plugged = {end for cable in self.cables.values() for end in cable["ends"]}
        standing = {one.split(".")[0] for s in self.sources.values() if "from" not in s for one in s["at"]}
        for name, one in self.connectors.items():
            if name not in plugged and "cable" not in one:
                found[f"plug {name}"] = {c for c in self.contacts[name] if not self.empty(c)}
        for item in self.items:
            has = any(name.startswith(f"{item}-") for name in self.connectors)
            if item not in plugged and item not in standing and not has:
                found[f"lead {item}"] = set(self.contacts.get(item, ()))
        return found

    def wherever(self, name: str) -> set[str]:
        """Every contact that a source, or what is made from it, reaches with everything closed."""
        made = {name}
        for _ in self.sources:
            made |= {n for n, s in self.sources.items() if made & set(s.get("from", ()))}
        wires, ends, maybe, _ = self.cable_pairs(set())
        copper, direct, through, unknown = self.inside(set())
        earth = self.earth_closed()
        open_ = [(one, other) for one, others in (*maybe, *unknown) if one not in earth for other in others]
        starts = set().union(*(self.starts(one) for one in made))
        return grown(starts, wires + ends + copper + direct + through + open_, earth)

    def earth_closed(self) -> set[str]:
        wires, ends, _, _ = self.cable_pairs(set())
        copper, _, _, _ = self.inside(set())
        roots = {
            one
            for s in self.sources.values()
            if "from" not in s and s.get("earth", "none") != "none"
            for one in s["earth"]
        }  # fmt: skip
        return grown(roots, wires + ends + copper, set())

    def starts(self, name: str, sure: bool = False) -> set[str]:
        source = self.sources[name]
        if "from" in source or source.get("plug") == "polarised":
            return set(source["at"])
        found = {*source["at"], *source.get("return", ())}
        if not sure and ("return" not in source or "earth" not in source):
            earth = set(source.get("earth", ())) if source.get("earth") != "none" else set()
            owner = source["at"][0].split(".")[0]
            found |= set(self.contacts[owner]) - earth
        return found

    def lives(
        self, name: str, alive: set[str], reach: dict[str, set[str]], pulled: set[str], bare: Pairs, earth: set[str]
    ) -> bool:
        source = self.sources[name]
        if "from" not in source:
            return source["at"][0].split(".")[0] not in pulled
        host = set(self.on(self.host(source["at"][0])))
        outputs = {*source["at"], *source.get("return", ())}
        for other, one in self.sources.items():
            if "from" in one and other not in source["from"] and self.host(one["at"][0]) == self.host(source["at"][0]):
                outputs |= {*one["at"], *one.get("return", ())}
        copper = [pair for many in self.joins.values() for kind, ends in many if kind == "copper"
                  for pair in [(ends[0], other) for other in ends[1:]]]  # fmt: skip
        inputs = host - grown(outputs, copper, set())
        foreign = any(reach[one] & inputs for one in alive if one != name and one not in source["from"])
        fed = {one: one in alive and (bool(reach[one] & host) or not self.led(one, host)) for one in source["from"]}
        if source.get("needs") != "all":
            return foreign or any(fed.values())
        return all(live or foreign or self.joined(one, source, alive, bare, earth) for one, live in fed.items())

    def joined(self, name: str, source: Facts, alive: set[str], bare: Pairs, earth: set[str]) -> bool:
        """Whether another input's voltage stands where this one comes from, nothing between that drops it."""
        others = [other for other in source["from"] if other != name and other in alive]
        here = set(self.sources[name]["at"])
        return any(grown(self.starts(other), bare, earth) & here for other in others)

    def led(self, name: str, host: set[str]) -> bool:
        """Whether what is recorded leads from a source to a host, everything closed."""
        wires, ends, _, _ = self.cable_pairs(set())
        copper, direct, through, _ = self.inside(set())
        reached = grown(self.starts(name, sure=True), wires + ends + copper + direct + through, self.earth_closed())
        return bool(reached & host)


def grown(start: set[str], pairs: Pairs, barred: set[str]) -> set[str]:
    """``start`` with all that ``pairs`` join to it, nothing of ``barred``."""
    found = set(start) - barred
    while True:
        more = {b for a, b in pairs if a in found} | {a for a, b in pairs if b in found}
        more -= found | barred
        if not more:
            return found
        found |= more
