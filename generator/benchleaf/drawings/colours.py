"""Wire colours by their letter codes, so that a drawing says a colour in letters, words and paint, never in
paint alone.

Codes and their order are those of IEC 60757. What an author typed is kept; a spelling or an order the
standard does not know comes back as a note with the remedy, never silently mended into another colour.
"""

from __future__ import annotations

from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Colour:
    """One colour: its IEC 60757 code, its word, and the paint a drawing uses (``#rrggbb``, our own
    choice).
    """

    code: str
    word: str
    paint: str


# IEC 60757 Table 1, in the standard's order: it is the order in which two colours on one wire are written.
STANDARD: tuple[Colour, ...] = (
    Colour("BK", "black", "#1b1b1b"),
    Colour("BN", "brown", "#7a4a24"),
    Colour("RD", "red", "#d22f27"),
    Colour("OG", "orange", "#ef8220"),
    Colour("YE", "yellow", "#f5d327"),
    Colour("GN", "green", "#2f9444"),
    Colour("BU", "blue", "#2a62c9"),
    Colour("VT", "violet", "#8545b5"),
    Colour("GY", "grey", "#8f9499"),
    Colour("WH", "white", "#ffffff"),
    Colour("PK", "pink", "#f2a0b9"),
    Colour("GD", "gold", "#c39a3c"),
    Colour("TQ", "turquoise", "#37bdb8"),
    Colour("SR", "silver", "#c9cdd1"),
)
BY_CODE = {colour.code: colour for colour in STANDARD}
_RANK = {colour.code: rank for rank, colour in enumerate(STANDARD)}
EARTH = "GNYE"

# Spellings met on old drawings. One meaning: the code it stands for. Two meanings: both, and no guess is
# made. From memory, no source, apart from the list of spellings itself (they are common on German and
# maker's drawings).
SPELLINGS: dict[str, tuple[str, ...]] = {
    "BL": ("BU", "BK"),
    "BR": ("BN",),
    "GR": ("GY", "GN"),
    "SW": ("BK",),
    "WS": ("WH",),
    "YW": ("YE",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a colour code says.

    ``written`` is what the author typed. ``code`` is the standard's spelling and order, empty where it
    could not be read. ``colours`` are the colours in the order typed (the first is drawn as the ground, the
    second as the stripe). ``notes`` say what the standard would have written; ``understood`` is false when
    a part has no one meaning.
    """

    written: str
    code: str
    colours: tuple[Colour, ...]
    notes: tuple[str, ...]
    understood: bool

    @property
    def words(self) -> str:
        """``green and white``; the code itself, said to be unreadable, where it has no one meaning."""
        if not self.understood:
            return f"{self.written} (not an IEC 60757 code)"
        if self.code == EARTH:
            return "green-and-yellow"
        return " and ".join(colour.word for colour in self.colours)


def read_colour(written: str) -> Reading:
    """The colour of one wire: ``RD``, ``GNYE``, ``GNWH``; lower case means the same (IEC 60757).

    Several wires joined by ``+`` are read by :func:`read_colours`. Never raises: what cannot be read is a
    note.
    """
    typed = written.strip()
    letters = "".join(c for c in typed.upper() if c not in "/- ")
    notes: list[str] = []
    if letters != typed.upper():
        notes.append(f"'{typed}': IEC 60757 writes two colours without a sign between them: {letters}")
    pieces = [letters[n : n + 2] for n in range(0, len(letters), 2)]
    codes: list[str] = []
    understood = bool(pieces)
    for piece in pieces:
        meanings = (piece,) if piece in BY_CODE else SPELLINGS.get(piece, ())
        if len(meanings) == 1:
            codes.append(meanings[0])
            if meanings[0] != piece:
                notes.append(_misspelt(piece, meanings[0]))
        else:
            understood = False
            notes.append(_unreadable(piece, meanings))
    colours = tuple(BY_CODE[code] for code in codes)
    if not understood:
        return Reading(written=typed, code="", colours=colours, notes=tuple(notes), understood=False)
    standard = _in_order(codes)
    if "".join(codes) != standard:
        notes.append(f"'{typed}': IEC 60757 writes these colours in the order {standard}")
    if "GN" in codes and "YE" in codes and standard != EARTH:
        notes.append(f"'{typed}': green stands with yellow only as {EARTH}, the protective conductor (IEC 60445)")
    if len(set(codes)) != len(codes):
        notes.append(f"'{typed}' names one colour twice; several wires are joined by +: {'+'.join(codes)}")
    return Reading(written=typed, code=standard, colours=colours, notes=tuple(notes), understood=True)


def read_colours(written: str) -> tuple[Reading, ...]:
    """The colours of several wires joined by ``+``, as ``BK+BK+BN+BU+GNYE``; one wire gives one reading."""
    return tuple(read_colour(part) for part in written.split("+"))


def _in_order(codes: list[str]) -> str:
    """The codes in Table 1 order, except that green with yellow is written GNYE (IEC 60757, IEC 60445)."""
    ordered = "".join(sorted(codes, key=_RANK.__getitem__))
    return EARTH if ordered == "YEGN" else ordered


def _misspelt(piece: str, meant: str) -> str:
    return f"'{piece}' is not an IEC 60757 code: {BY_CODE[meant].word} is {meant}"


def _unreadable(piece: str, meanings: tuple[str, ...]) -> str:
    if meanings:
        choice = " or ".join(f"{BY_CODE[code].word} ({code})" for code in meanings)
        return f"'{piece}' is not an IEC 60757 code and could be {choice}: write which"
    known = ", ".join(colour.code for colour in STANDARD)
    return f"'{piece}' is not an IEC 60757 code; the codes are {known} and {EARTH}"
