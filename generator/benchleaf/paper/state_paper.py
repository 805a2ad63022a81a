"""The state sheet: how the machine stands after each step, for whoever has to stop there or take over."""

from __future__ import annotations

from benchleaf.applicability import Configuration
from benchleaf.paper.bench_parts import Part, bench_sheet, head, lines, note, write
from benchleaf.paper.merged import by_value, merged
from benchleaf.paper.names import named, set_words
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.state_lines import sheets_after, state_of
from benchleaf.paper.subject import Subject
from benchleaf.physical.state_sheet import StateSheet

LISTS = (
    ("Off", "off"), ("Moved", "moved"), ("Loose", "loose"), ("Unplugged", "unplugged"), ("Leads lifted", "lifted"),
    ("Lines and covers", "wet"), ("Hot", "hot"),
)  # fmt: skip
Said = tuple[tuple[str, tuple[str, ...]], ...]
RULE = "What is not recorded counts as energised, as open, and as: do not stop here."


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """A part a step; what is the same on several machines stands once."""
    parts: list[Part] = [note(RULE)]
    titles = ["Before step 1", *(f"After step {n}: {s.title}" for n, s in enumerate(subject.procedure.steps, 1))]
    for number, title in enumerate(titles):
        found = [(on, state_words(subject, one)) for on, one in sheets_after(subject, number)]
        if found:
            every = frozenset(on for on, _ in found)
            parts.append({"k": "group", "of": [head(title, subject.only(every)), *_lines(subject, found)]})
    write_on = ("After step", "Left by", "Date and time", "Taken over by", "Proved dead again", "Time")
    parts += [head("Handed over"), write(*write_on)]
    return bench_sheet(subject, "state-sheet", "State sheet", parts, paper)


def state_words(subject: Subject, one: StateSheet) -> Said:
    """The sheet as labelled lines; the answer to "may I stop" first."""
    mbook = subject.mbook
    reasons = (named(mbook, words) for words in one.stop.reasons)
    said: list[tuple[str, tuple[str, ...]]] = [("May I stop here", (one.stop.words, *reasons))]
    if one.stop.before_going_on:
        said.append(("After any break", tuple(named(mbook, words) for words in one.stop.before_going_on)))
    said += [(named(mbook, line.energy), (state_of(subject, line),)) for line in one.energies]
    if not one.energies:
        said.append(("Energy", ("none is recorded: everything counts as energised",)))
    for label, name in LISTS:
        words = getattr(one, name)
        if words:
            said.append((label, tuple(named(mbook, each) for each in words)))
    if one.trays:
        said.append(("Trays", tuple(f"tray {t.tray}: {set_words(mbook, t.set, t.count)}" for t in one.trays)))
    return tuple(said)


def _lines(subject: Subject, found: list[tuple[Configuration, Said]]) -> list[Part]:
    """Each label once where it reads the same on every machine, else once a reading with its machines."""
    every = frozenset(on for on, _ in found)
    labels = [label for label, _ in merged([(on, [label for label, _ in said]) for on, said in found])]
    made: list[Part] = []
    for label in dict.fromkeys(labels):
        pairs = [(on, of) for on, said in found for name, of in said if name == label]
        made += [lines(label, of, None if on == every else subject.only(on)) for of, on in by_value(pairs)]
    return made
