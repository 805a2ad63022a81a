"""Operations and their tools in words, as they stand on a page, on paper and in a terminal."""

from __future__ import annotations

from math import ceil

from benchleaf.access.ways import Ways
from benchleaf.fastener_sets import HAND
from benchleaf.physical.instructions import NOT_RECORDED, kind_words
from benchleaf.physical.least_path import OutOfReach
from benchleaf.physical.operations import Named, missing_of, named, short_words


class Words:
    """Says what belongs to one machine as built."""

    def __init__(self, ways: Ways) -> None:
        self.ways = ways
        self.built = ways.built

    def item(self, name: str) -> str:
        """``the feed motor (M2)``; an item without a designation goes by its name alone: ``the top shell``."""
        item = self.built.items.get(name)
        if item is None:
            return name
        said = lower(str(item.name))
        return f"the {said}" if name == name.lower() else f"the {said} ({name})"

    def end(self, operation: str) -> str:
        """An opened end: ``W5 at A1-J5``."""
        one = named(operation)
        return f"{one.what} at {one.at}"

    def tool(self, tool: str) -> str:
        """A tool by the name the shop gives it, a drive as it is written; ``not recorded`` where nobody said."""
        if tool == HAND or not tool:
            return HAND
        stock = self.ways.ground.library.tools.get(tool)
        if stock is not None:
            return lower(str(stock.name))
        return f"driver {NOT_RECORDED}" if tool.startswith("driver for ") else tool

    def of(self, operation: str) -> str:
        """One operation as an instruction."""
        one = named(operation)
        if one.kind == "un":
            return self._release(one)
        if one.kind in ("off", "to"):
            return self._move(one)
        if one.kind == "open":
            is_plug = one.at in self.built.connectors
            return f"Disconnect {one.what} at {one.at}" if is_plug else f"Label {one.what} and lift it off {one.at}"
        if one.kind == "joint":
            capped = " and cap both openings" if self.ways.ground.is_wet(one.what) else ""
            return f"Open {one.what} at {self.item(one.at)}{capped}"
        if one.kind == "tie":
            return f"{'Open' if self.built.ties[one.what].opens == 'by hand' else 'Cut'} the tie {one.what}"
        if one.kind == "drain":
            return f"Drain the {one.what} circuit"
        if one.kind == "clamp":
            return f"Clamp {one.what}"
        return f"Cover {self.item(one.what)}" if one.kind == "cover" else short_words(operation)

    def _release(self, one: Named) -> str:
        fasteners = self.built.sets[one.what]
        missing = missing_of(self.ways.ground, one.what)
        many = f"{fasteners.count - missing} " if fasteners.count != 1 else ""
        since = f", {missing} missing when it came in" if missing else ""
        verb = fasteners.release.capitalize()
        return f"{verb} the {many}{kind_words(fasteners)} of {self.item(fasteners.item)}{since}"

    def _move(self, one: Named) -> str:
        item = self.built.items[one.what]
        if one.kind == "to":
            motion = item.positions[one.at].motion
            way = str(motion.text) if motion is not None else f"motion {NOT_RECORDED}"
            return f"Move {self.item(one.what)} to {one.at}: {way}"
        motions = item.comes_off
        way = ", then ".join(str(motion.text) for motion in motions) if motions else f"direction {NOT_RECORDED}"
        persons = f", {item.persons} persons" if (item.persons or 1) > 1 else ""
        return f"Take {self.item(one.what)} off{persons}: {way}"

    def why_not(self, barred: OutOfReach) -> str:
        """Why there is no way, in words."""
        said = []
        ring = [short_words(one) for one in barred.ring if named(one).is_work]
        if ring:
            said.append(f"each waits for the next: {', '.join([*ring, ring[0]])}")
        parts = [self._never(named(one)) for one in barred.never]
        said += list(dict.fromkeys(parts))
        if barred.missing:
            missing = [self._missing(named(one)) for one in barred.missing]
            said.append("; ".join(dict.fromkeys(missing)))
        return "; ".join(said) or "nothing recorded leads to it"

    def _never(self, one: Named) -> str:
        """An operation with a clause that nothing meets: what can neither stay nor travel, or lies behind the frame."""
        if one.kind in ("off", "to"):
            stuck = [
                crossing.id
                for crossing in self.ways.ground.crossings(one.what)
                if not all(end.opens for end in crossing.inner) and not all(end.opens for end in crossing.outer)
            ]
            if stuck:
                return f"nothing recorded of {' and '.join(stuck)} can be opened, and {one.what} cannot move before it"
        return f"nothing recorded makes way for {short_words(f'{one.kind}:{one.what}@{one.at}'.rstrip('@'))}"

    def _missing(self, one: Named) -> str:
        asked = short_words(f"{one.kind}:{one.what}@{one.at}".rstrip("@"))
        return f"{asked} is asked for, and nothing is recorded of it"


def lower(name: str) -> str:
    """A name inside a sentence; one that begins with a short form stays as it is (``USB plug``)."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def listed(names: list[str] | tuple[str, ...]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""


def duration(seconds: float) -> str:
    """``4 min 20 s``: to the second, rounded up."""
    whole = ceil(seconds - 1e-6)
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{many} {unit}" for many, unit in ((hours, "h"), (minutes, "min"), (rest, "s")) if many]
    return " ".join(parts) or "0 s"
