"""What the shared drawings of the theme (its macros) are given: safety messages, torque callouts, values,
footers.

Each is what stands on the page, already in words. ``None`` always means *not recorded*, and the theme says
so aloud.
"""

from __future__ import annotations

import json
from typing import ClassVar, Literal, TypeAlias

from benchleaf.frozen import dataclass
from benchleaf.pages.sentences import Told

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
ValueStatus = Literal["agreed", "disputed", "single observation", "not recorded"]
VerifiedState = Literal["unverified", "verified at the table", "verified at the machine"]

SIGNALS: tuple[Signal, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")  # most severe first, ANSI Z535.6 8.1


@dataclass(frozen=True, slots=True)
class Term:
    """One term of an applicability; the terms of a list are joined by "or".

    ``kind`` is ``variant``, ``modification`` or ``without`` (a modification that is not there), with ``id``;
    or ``serials`` with ``first`` and ``last`` (either may be empty: open at that end).
    """

    kind: Literal["variant", "modification", "without", "serials"]
    id: str = ""
    first: str = ""
    last: str = ""

    @property
    def entry(self) -> dict[str, str]:
        if self.kind == "serials":
            return {"kind": self.kind, "first": self.first, "last": self.last}
        return {"kind": self.kind, "id": self.id}


@dataclass(frozen=True, slots=True)
class Applies:
    """Which machines something is for: in words for the reader, in terms for the script of the page."""

    words: str
    terms: tuple[Term, ...]

    @property
    def json(self) -> str:
        """The terms as the page's script reads them, always the same text for the same terms."""
        return json.dumps([term.entry for term in self.terms], separators=(",", ":"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyMessage:
    """A safety message in the parts of ANSI Z535.6 and ISO 3864-2. ``sign`` is the path of its ISO 7010
    drawing."""

    signal: Signal
    hazard: str
    consequence: str | None = None
    avoid: str | None = None
    where: str | None = None
    symbol: str | None = None
    sign: str | None = None
    applies: Applies | None = None
    link: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a value comes from, in words, down to the record (``file:line``) or the formula and its
    inputs."""

    kind: str
    words: str = ""
    place: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownValue:
    """A value as it is read: ``text`` is the whole (``0.5 ± 0.1 N·m``), ``machine`` the form for programs
    (``0.5``)."""

    shape: ClassVar[str] = "value"
    text: str | None
    machine: str = ""
    status: ValueStatus = "single observation"
    origins: tuple[Origin, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueCallout:
    """The five elements a torque needs to be of use. A computed torque stands in ``limit``, never in ``value``.

    ``interim`` is what to do while the value is disputed; ``limit_words`` say what sets the limit; ``against`` what
    speaks against the recorded torque; ``later`` is for a step that only takes it out.
    """

    what: str
    count: str | None = None
    value: str | None = None
    unit: str | None = None
    tolerance: str | None = None
    friction: str | None = None
    sequence: str | None = None
    status: ValueStatus = "not recorded"
    text: str = ""
    origins: tuple[Origin, ...] = ()
    interim: str | None = None
    limit: str | None = None
    limit_words: str = ""
    limit_origins: tuple[Origin, ...] = ()
    against: tuple[str, ...] = ()
    not_computed: str = ""
    later: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Verification:
    """Proof of a procedure. ``withdrawn`` gives the reason; such a record never shows as current."""

    state: VerifiedState = "unverified"
    date: str | None = None
    serial: str | None = None
    withdrawn: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordNote:
    """The foot of a page: where its record stands, which issue it is and how far it was proved."""

    file: str
    line: int
    issue: str | None = None
    date: str | None = None
    reason: str | None = None
    verification: Verification | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantChoice:
    id: str
    words: str
    tell: str | None = None
    serials: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ModificationChoice:
    """``serials`` are the listed single serials known to carry it; any other serial leaves the question
    open."""

    id: str
    words: str
    tell: str | None = None
    serials: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineChoice:
    """What the reader can say once about the machine in front of them."""

    id: str
    name: str
    variants: tuple[VariantChoice, ...] = ()
    modifications: tuple[ModificationChoice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedState:
    """A row of a state list. ``mark`` picks the shape: live, off, open, lifted, wet, hot, hold, pause, done,
    unknown.

    ``name`` is the state in words (*still live*), ``words`` what is in it; the shape alone never tells.
    """

    mark: str
    name: str
    words: str
    note: str | None = None
    applies: Applies | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of a list, with the page it leads to."""

    shape: ClassVar[str] = "line"
    words: str
    path: str | None = None
    note: str | None = None
    applies: Applies | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a procedure or step needs. ``lines`` empty is an explicit *none*; ``None`` is *not recorded*."""

    label: str
    lines: tuple[Line, ...] | None


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact that is not a value: words the record holds, in a table cell. ``None`` = not recorded."""

    shape: ClassVar[str] = "fact"
    text: str | None
    prose: bool = False


Cell: TypeAlias = "str | Line | ShownValue | CodeRef | Fact | tuple[Cell, ...] | None"
"""What stands in one place of a table; a tuple stands below one another, ``None`` is *not recorded*."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a table; its first cell names it. ``anchor`` lets others point at it."""

    cells: tuple[Cell, ...]
    anchor: str | None = None
    applies: Applies | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table that never prints empty: ``nothing`` says what it means that there are no rows. ``quiet``: the heading
    above says what the caption says, so the caption is for those who hear the page.
    """

    shape: ClassVar[str] = "table"
    caption: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    nothing: str
    name: str = ""
    quiet: bool = False
    careful: bool = False
    """A list of hazards or live places: never narrowed by a serial alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Art:
    """A drawing of ours with the same facts as a table. ``svg`` is markup made by the drawings package."""

    shape: ClassVar[str] = "art"
    svg: str
    title: str
    table: Table
    narrow: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Arts:
    """Drawings that are read together: side by side where there is room."""

    shape: ClassVar[str] = "arts"
    arts: tuple[Art, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Links:
    """A list of links; ``nothing`` says what it means that there are none."""

    shape: ClassVar[str] = "links"
    lines: tuple[Line, ...]
    nothing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Facts of one thing: the first cell of a row names the fact."""

    shape: ClassVar[str] = "facts"
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """An author's paragraphs."""

    shape: ClassVar[str] = "prose"
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A sentence of ours; ``grave`` is one nobody may overlook."""

    shape: ClassVar[str] = "note"
    words: str
    grave: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class States:
    """A list of states; ``nothing`` says what it counts as that nothing is recorded."""

    shape: ClassVar[str] = "states"
    rows: tuple[ListedState, ...]
    nothing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Messages:
    """Safety messages in full."""

    shape: ClassVar[str] = "messages"
    messages: tuple[SafetyMessage, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Doings:
    """Things to do, one after the other."""

    shape: ClassVar[str] = "doings"
    told: tuple[Told | str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Torques:
    """Torque callouts in full."""

    shape: ClassVar[str] = "torques"
    callouts: tuple[TorqueCallout, ...]


Block: TypeAlias = "Torques | Table | Art | Arts | Links | Facts | Prose | Note | States | Messages | Doings"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A heading and what stands below it. ``anchor`` lets others point at it."""

    title: str
    blocks: tuple[Block, ...]
    anchor: str | None = None
    applies: Applies | None = None
    level: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeRef:
    """A code or procedure that a line points to; ``code`` is shown as the machine or the record spells it."""

    shape: ClassVar[str] = "code"
    code: str
    means: str = ""
    path: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureMark:
    """A numbered mark; x and y are 0..1 from the top left."""

    x: float
    y: float
    words: str
    path: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """``shows`` says what is to be seen and stands in for the picture; ``later`` lets the browser load it
    when needed.
    """

    path: str
    width: int
    height: int
    shows: str
    marks: tuple[PictureMark, ...] = ()
    later: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class EndShown:
    """One end that a step opens or plugs: what to read on its label, what it can be taken for, both its faces."""

    connector: Line
    cable: Line
    verb: str
    label: str
    own: str
    warning: str
    takes_another: bool
    faces: tuple[Art, ...]
    applies: Applies | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """A step as the reader sees it, the same on every page that shows it.

    ``energy`` is true for one that isolates, discharges or proves dead: the bench view never keeps its tick.
    ``stop`` says whether one may stop after it; ``unchecked`` marks a step of prose only; ``powered`` says why a
    declared powered test is one; ``exposes`` what a prose step may expose, for all anybody knows; ``swaps`` are
    the plugs that go elsewhere too, ``ends`` all it opens or plugs with their faces; ``came_from`` which step a derived
    one undoes.
    """

    number: int
    title: str
    anchor: str
    path: str | None = None
    safety: tuple[SafetyMessage, ...] = ()
    actions: tuple[Told | str, ...] = ()
    text: str = ""
    pictures: tuple[Picture, ...] = ()
    torques: tuple[TorqueCallout, ...] = ()
    needs: tuple[Need, ...] = ()
    expect: str | None = None
    otherwise: CodeRef | None = None
    stop: ListedState | None = None
    applies: Applies | None = None
    energy: bool = False
    unchecked: bool = False
    powered: str | None = None
    exposes: str = ""
    swaps: tuple[Line, ...] = ()
    ends: tuple[EndShown, ...] = ()
    came_from: Line | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchView:
    """One procedure at the bench. ``content`` is a hash of all that a reader acts on: when it changes, ticks
    are void.
    """

    procedure: str
    path: str
    title: str
    issue: str | None
    content: str
    steps: tuple[StepView, ...]
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
