"""The way back of a procedure: derived, replayed, and put together over the machines it differs on.

Every machine has its own sequence. Steps that read the same are one; each keeps the machines it is for. Where machines
want another order, the sequences stand one after the other instead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.pages.action_words import cable_pieces, connector_piece
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import set_pieces
from benchleaf.pages.readable import readable, sentence_of
from benchleaf.pages.safety_shown import joined as joined_messages
from benchleaf.pages.safety_shown import shown as shown_messages
from benchleaf.pages.sentences import Sentence, Told, say
from benchleaf.pages.shown import Applies, Line, Need, SafetyMessage, StepView
from benchleaf.pages.support import Asked, tool_lines, tool_path
from benchleaf.pages.torque_shown import callouts
from benchleaf.physical.findings import reassemblies_of
from benchleaf.physical.instructions import Instruction
from benchleaf.physical.ledger import Entry
from benchleaf.physical.owed_checks import owed_checks
from benchleaf.physical.reassembly import BackStep, Reassembly
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.safety_of_step import safety_of_step
from benchleaf.text import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """A step of the way back as it reads, and the machines it is for with their own record of it."""

    on: tuple[tuple[Configuration, BackStep], ...]

    @property
    def first(self) -> BackStep:
        return self.on[0][1]

    @property
    def machines(self) -> frozenset[Configuration]:
        return frozenset(one for one, _ in self.on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """How the way back ends on some machines: the ledger, and where it stopped short."""

    words: str
    open: tuple[str, ...]
    exceptions: tuple[str, ...]
    as_found: tuple[str, ...]
    is_closed: bool
    applies: Applies | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WayBack:
    """``groups``: one sequence of steps, or one for each order there is, each with the machines it is for."""

    groups: tuple[tuple[Applies | None, tuple[StepView, ...]], ...]
    endings: tuple[Ending, ...]
    owed: tuple[Line, ...]

    @property
    def is_empty(self) -> bool:
        return not any(steps for _, steps in self.groups)


def way_back(mbook: MachineBook, procedure: TeardownRecord) -> WayBack:
    """The way back of a procedure, its endings and the checks owed after it."""

    def made() -> WayBack:
        backs = reassemblies_of(mbook.book.derived, mbook.machine, procedure)
        return way_back_of(mbook.narrowed(procedure.applies), backs)

    return mbook.remember_lately(("way back", procedure.id), made)


def way_back_of(narrow: MachineBook, backs: tuple[Reassembly, ...]) -> WayBack:
    """The ways back of one procedure on the machines ``narrow`` holds, put together."""
    return WayBack(
        groups=tuple(_groups(narrow, backs)),
        endings=tuple(_endings(narrow, backs)),
        owed=tuple(_owed(narrow, backs)),
    )


def _built(back: Reassembly) -> Built:
    return back.replay.ground.built


def _groups(
    narrow: MachineBook, backs: tuple[Reassembly, ...]
) -> Iterator[tuple[Applies | None, tuple[StepView, ...]]]:
    merged = merge([[(_built(back).configuration, step) for step in back.steps] for back in backs])
    if merged is not None:
        yield None, tuple(_view(narrow, number, one) for number, one in enumerate(merged, 1))
        return
    by_reading: dict[tuple[object, ...], list[Reassembly]] = {}
    for back in backs:
        by_reading.setdefault(tuple(reading_of(step) for step in back.steps), []).append(back)
    for many in by_reading.values():
        merged = merge([[(_built(back).configuration, step) for step in back.steps] for back in many]) or []
        on = {_built(back).configuration for back in many}
        yield narrow.words_for(on), tuple(_view(narrow, number, one) for number, one in enumerate(merged, 1))


def reading_of(step: BackStep) -> tuple[object, ...]:
    """What a step says, so that two of them can be told to be the same."""
    of = (step.of.procedure, step.of.number) if step.of is not None else None
    said = tuple((one.words, one.tool, one.direction, one.torque) for one in step.instructions)
    return (step.title, of, said, step.notes, step.persons)


def merge(sequences: list[list[tuple[Configuration, BackStep]]]) -> list[Merged] | None:
    """One sequence that holds every one in its own order; ``None`` when two machines want two orders.

    A reading that comes twice on one machine is two steps.
    """
    steps: dict[tuple[object, ...], list[tuple[Configuration, BackStep]]] = {}
    after: dict[tuple[object, ...], set[tuple[object, ...]]] = {}
    ranks: dict[tuple[object, ...], int] = {}
    for sequence in sequences:
        before: tuple[object, ...] | None = None
        seen: dict[tuple[object, ...], int] = {}
        for place, (on, step) in enumerate(sequence):
            reading = reading_of(step)
            seen[reading] = seen.get(reading, 0) + 1
            key = (*reading, seen[reading])
            steps.setdefault(key, []).append((on, step))
            after.setdefault(key, set())
            ranks[key] = max(ranks.get(key, 0), place)
            if before is not None:
                after[key].add(before)
            before = key
    made: list[Merged] = []
    done: set[tuple[object, ...]] = set()
    names = {key: place for place, key in enumerate(steps)}
    while len(done) < len(names):
        ready = [key for key in names if key not in done and after[key] <= done]
        if not ready:
            return None
        key = min(ready, key=lambda one: (ranks[one], names[one]))
        done.add(key)
        made.append(Merged(on=tuple(steps[key])))
    return made


def _view(narrow: MachineBook, number: int, one: Merged) -> StepView:
    step = one.first
    here = narrow.only(one.machines)
    tightened = tuple(
        dict.fromkeys(did.act.what for _, back in one.on for did in back.done if did.act.verb == "tighten")
    )
    needs: list[Need] = []
    tools = tuple(_tools(narrow, step))
    if tools:
        needs.append(Need(label="Tools", lines=tools))
    if step.persons is not None and step.persons > 1:
        needs.append(Need(label="People", lines=(Line(words=str(step.persons)),)))
    return StepView(
        number=number,
        title=sentence_of(readable(narrow, step.title)),
        anchor=f"back-{number}",
        path=None,
        safety=_messages(here, one),
        actions=tuple(_told(here, said, _notes_at(one, place)) for place, said in enumerate(step.instructions)),
        text="",
        torques=callouts(here, tightened),
        needs=tuple(needs),
        applies=narrow.words_for(one.machines),
        energy=any(did.act.verb in ("isolate", "discharge", "prove dead") for did in step.done),
        came_from=_came_from(narrow, step),
        notes=tuple(sentence_of(readable(narrow, note)) for note in step.notes),
    )


def _tools(mbook: MachineBook, step: BackStep) -> tuple[Line, ...]:
    """The tools of a step, those of the shop with their page."""
    stocks = {str(tool.name): tool_path(id) for id, tool in mbook.book.library.tools.items()}
    asked: list[Line] = []
    for said in step.instructions:
        if not said.tool or said.tool == "hand":
            continue
        if said.tool in stocks:
            asked.append(Line(words=said.tool, path=stocks[said.tool]))
        elif said.tool in mbook.book.library.tools:
            asked += tool_lines(mbook.book, (Asked("tool", said.tool),))
        elif said.count is not None and said.tool != "not recorded":
            asked += tool_lines(mbook.book, (Asked("drive", said.tool),))
        else:
            asked.append(Line(words=said.tool))
        if said.torque and said.torque_value is not None:
            asked += tool_lines(mbook.book, (Asked("torque", said.tool, "to set the torque"),))
    return tuple(dict.fromkeys(asked))


def _came_from(mbook: MachineBook, step: BackStep) -> Line:
    """Which step of the record it undoes, or why it is there."""
    if step.of is None:
        return Line(words=sentence_of(step.why))
    procedure = mbook.machine.procedures.get(step.of.procedure)
    why = "" if step.why == "the step backward" else f" ({step.why})"
    if procedure is None:  # nobody wrote it: it stands on the same page
        return Line(words=f"step {step.of.number}{why}", path=f"#step-{step.of.number}")
    return Line(
        words=f"{procedure.title}, step {step.of.number}{why}",
        path=mbook.at.step(step.of.procedure, step.of.number),
    )


def _messages(here: MachineBook, one: Merged) -> tuple[SafetyMessage, ...]:
    """The messages of what the step lays hands on, as for any step."""
    library = here.book.library
    found = []
    for on, back in one.on:
        built = next((each for each in here.builts if each.configuration == on), None)
        if built is not None and back.procedure is not None:
            step = Step(
                title=Text(back.title), do=tuple(did.act.action for did in back.done), place=back.procedure.place
            )
            found.append((on, safety_of_step(built, library, back.procedure, step).messages))
    return shown_messages(here, joined_messages(found))


ALIKE = " may be like it"


def _notes_at(one: Merged, place: int) -> tuple[str, ...]:
    """The notes of one instruction on every machine; what may be taken for it is one list."""
    notes = [note for _, back in one.on for note in back.instructions[place].notes]
    alike = dict.fromkeys(name for note in notes if note.endswith(ALIKE) for name in note[: -len(ALIKE)].split(", "))
    plain = dict.fromkeys(note for note in notes if not note.endswith(ALIKE))
    return (*plain, *((f"{', '.join(alike)}{ALIKE}",) if alike else ()))


def _told(mbook: MachineBook, said: Instruction, notes: tuple[str, ...]) -> Told:
    """An instruction with its direction and notes; names lead to their pages."""
    act = said.act
    parts: list[Sentence] = []
    sentence: Sentence
    if act.what in {name for item in mbook.record.items for name in mbook.sets_of(item)} and act.verb in _SET_WORDS:
        item = act.what.partition(".")[0]
        verb = _SET_WORDS[act.verb]
        sentence = say(f"{verb} ", set_pieces(mbook, act.what, exact=said.count), " of ", mbook.item_piece(item))
    elif act.verb in ("install", "slide", "move") and act.what in mbook.record.items:
        verb = {"install": "Fit ", "slide": "Slide ", "move": "Move "}[act.verb]
        tail = {"install": "", "slide": " home", "move": " back to its seat" if act.at == "seated" else f" to {act.at}"}
        sentence = say(verb, mbook.item_piece(act.what), tail[act.verb])
    elif act.verb == "plug" and act.at:
        sentence = say("Plug ", cable_pieces(mbook, act.at), " in at ", connector_piece(mbook, act.what))
    else:
        sentence = say(sentence_of(readable(mbook, said.words)))
    if said.direction:
        sentence = say(sentence, f": {said.direction}")
    parts += [say(sentence_of(readable(mbook, note))) for note in notes]
    return Told(sentence, tuple(parts))


_SET_WORDS = {
    "tighten": "Tighten", "start": "Start by hand, none tight yet:", "loosen": "Loosen", "remove": "Remove",
    "renew": "Take to hand, new:",
}  # fmt: skip


def _endings(narrow: MachineBook, backs: Iterable[Reassembly]) -> Iterator[Ending]:
    by_words: dict[Ending, set[Configuration]] = {}
    for back in backs:
        ending = Ending(
            words=sentence_of(readable(narrow, back.words)),
            open=_lines(narrow, back.ledger.open),
            exceptions=_lines(narrow, back.ledger.exceptions),
            as_found=_lines(narrow, back.ledger.as_found),
            is_closed=back.ledger.is_closed,
        )
        by_words.setdefault(ending, set()).add(_built(back).configuration)
    for ending, on in by_words.items():
        yield replace(ending, applies=narrow.words_for(on))


def _lines(mbook: MachineBook, entries: Iterable[Entry]) -> tuple[str, ...]:
    return tuple(sentence_of(readable(mbook, entry.words)) for entry in entries)


def _owed(narrow: MachineBook, backs: Iterable[Reassembly]) -> Iterator[Line]:
    """The return-to-service list: what is owed, because of what; what was disturbed and no check covers."""
    checks: dict[tuple[str, str | None], dict[str, None]] = {}
    on: dict[tuple[str, str | None], set[Configuration]] = {}
    for back in backs:
        found = owed_checks(back.replay.ground, back.end)
        rows = [
            (one.title, f"{narrow.at.list('checks')}#check-{one.id}" if one.check is not None else None, one.because)
            for one in found.owed
        ]
        rows += [(f"No recorded check covers {readable(narrow, name)}", None, ()) for name in found.uncovered]
        if found.unchecked_steps:
            rows.append(("Unchecked steps may have disturbed more than is listed", None, ()))
        for title, path, because in rows:
            checks.setdefault((title, path), {}).update(dict.fromkeys(because))
            on.setdefault((title, path), set()).add(_built(back).configuration)
    for (title, path), why in checks.items():
        words = ", ".join(_because(narrow, one) for one in why)
        yield Line(
            words=title,
            path=path,
            note=f"because of {words}" if words else None,
            applies=narrow.words_for(on[title, path]),
        )


def _because(mbook: MachineBook, name: str) -> str:
    return mbook.item_words(name) if name in mbook.record.items else readable(mbook, name)
