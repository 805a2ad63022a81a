"""Which tools a step asks for, down to the bit, and what a person wears for it.

A tool is found by what it ``does``: a drive (``PH1``), a verb (``prove dead``), or the id of a safety message it
guards against. What no tool of the shop does is said aloud, never left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.drawings.safety_sign import TITLES, sign_title
from benchleaf.fastener_sets import HAND
from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.fastener_words import kind_words, size_words
from benchleaf.pages.shown import Line
from benchleaf.pages.uses import SET_VERBS, touched
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step

PARTS_OF = {"disconnect": ("label", "photograph"), "disconnect all": ("label", "photograph")}
NO_TOOL = (
    "loosen", "remove", "start", "tighten", "slide", "lift off", "install", "move", "open", "close", "unplug", "plug",
    "disconnect", "disconnect all", "tie", "unclamp", "uncap", "uncover", "energise", "stand", "renew", "inspect",
    "back up", "restore", "land lead", "mark", "measure", "prove dead",
)  # fmt: skip
"""Verbs that ask for no tool of their own; fasteners ask for their driver, readings for their meter."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing asked for: a drive, a verb, a tool by id or a piece of equipment in words; ``why`` it is needed."""

    kind: str
    name: str
    why: str = ""


def asked_by(mbook: MachineBook, step: Step) -> tuple[Asked, ...]:
    """What a step asks for, each once, in the order met."""
    actions = (*(step.do or ()), *(step.on_return or ()))
    return tuple(dict.fromkeys(one for action in actions for one in _of_action(mbook, action)))


def _of_action(mbook: MachineBook, action: Action) -> Iterator[Asked]:
    if action.verb in SET_VERBS:
        for name in touched(mbook, action).sets:
            for form in mbook.sets(name):
                one = form.value
                words = f"{kind_words(one)} {size_words(one)}".strip()
                if one.tool is None:
                    yield Asked("unknown", name, f"drive of {words} not recorded")
                elif one.tool != HAND:
                    yield Asked("drive" if one.kind in ("screw", "nut") else "tool", one.tool, words)
                if one.torque is not None and action.verb in ("tighten", "remove", "loosen"):
                    yield Asked("torque", one.drive or "", "to set the torque")
    if action.verb == "isolate":
        yield from _to_isolate(mbook, str(action.target))
        return
    for verb in PARTS_OF.get(action.verb, (action.verb,)):
        if verb not in NO_TOOL:
            yield Asked("verb", verb)
    if action.verb == "prove dead":
        energy = mbook.record.energy.get(str(action.target))
        for proof in (energy.prove_dead or ()) if energy is not None else ():
            yield Asked("tool", str(proof.meter)) if proof.meter else Asked("verb", "prove dead")
    if action.verb == "measure":
        given = action.measure.with_ if action.measure is not None else None
        yield Asked("tool", str(given)) if given else Asked("verb", "measure")


def _to_isolate(mbook: MachineBook, name: str) -> Iterator[Asked]:
    """What keeps each isolating device of an energy where it is. A tool that does ``isolate block`` serves devices that
    are blocked and no others; one that does ``isolate`` serves any."""
    energy = mbook.record.energy.get(name)
    done = {word for tool in mbook.book.library.tools.values() for word in tool.does or ()}
    ways = [f"isolate {one.verb}" for one in (energy.isolate or () if energy is not None else ())]
    served = [way for way in dict.fromkeys(ways) if way in done]
    yield from (Asked("verb", way) for way in served or ("isolate",))


def tool_lines(book: Book, asked: Iterable[Asked]) -> tuple[Line, ...]:
    """The tools that do what is asked, one line a tool or a choice of tools."""
    lines: dict[tuple[str, str | None], dict[str, None]] = {}
    for one in asked:
        words, path = _tool_words(book, one)
        if words:
            lines.setdefault((words, path), {}).update({one.why: None} if one.why else {})
    return tuple(Line(words=words, path=path, note="; ".join(why) or None) for (words, path), why in lines.items())


def _tool_words(book: Book, one: Asked) -> tuple[str, str | None]:
    tools = book.library.tools
    if one.kind == "unknown":
        return "Driver", None
    if one.kind == "tool":
        return (str(tools[one.name].name), tool_path(one.name)) if one.name in tools else (one.name, None)
    if one.kind == "torque":
        fit = [id for id, tool in tools.items() if tool.does and "tighten" in tool.does and one.name in tool.does]
    elif one.kind == "drive":
        fit = [id for id, tool in tools.items() if tool.does and one.name in tool.does and "tighten" not in tool.does]
    else:
        fit = [id for id, tool in tools.items() if tool.does and one.name in tool.does]
    if not fit:
        said = {"drive": f"Driver {one.name}", "torque": f"Torque driver for {one.name}"}.get(
            one.kind, f"Something to {one.name} with"
        )
        return f"{said}: no tool recorded that does it", None
    return " or ".join(str(tools[id].name) for id in fit), tool_path(fit[0])


def tool_path(id: str) -> str:
    return f"tools.html#tool-{id}"


def worn_for(book: Book, safety: Iterable[str]) -> tuple[Line, ...]:
    """What is worn or clipped on against the hazards named: tools that guard against them, and what a sign orders."""
    lines: dict[Line, None] = {}
    for id in dict.fromkeys(safety):
        message = book.library.safety.get(id)
        worn = [(tool_id, tool) for tool_id, tool in book.library.tools.items() if tool.does and id in tool.does]
        for tool_id, tool in worn:
            lines[Line(words=str(tool.name), path=tool_path(tool_id))] = None
        symbol = message.symbol if message is not None else None
        if not worn and symbol is not None and symbol.startswith("M0") and orders_to_wear(symbol):
            lines[Line(words=sign_title(symbol), path=f"safety.html#safety-{id}", note=f"sign {symbol}")] = None
    return tuple(lines)


def orders_to_wear(symbol: str) -> bool:
    """Whether a mandatory sign of ISO 7010 is about something worn; one with a title not known here counts as such."""
    return symbol not in TITLES or sign_title(symbol).startswith("Wear")
