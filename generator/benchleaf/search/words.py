"""How text becomes words and codes: the one tokeniser, held to its twin ``search-words.js`` by shared test vectors.

A chunk with a digit in it is a **code** and keeps its parts apart: ``E-0417``, ``e0417`` and ``E 0417`` are one code,
``J1-12`` and ``J11-2`` are two. A chunk without a digit is one **word**, or several when it is hyphenated.
Nothing here depends on a language setting; what Unicode calls a letter or a digit counts as one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import lru_cache

from benchleaf.frozen import dataclass
from benchleaf.search.codes import canonical

_STOP_WORDS = """
a an and are as at be by for from in into is it its of or that the then these this those to was were with
"""
STOP_WORDS = frozenset(_STOP_WORDS.split())

_CHUNK = re.compile(r"[^\W_]+(?:[-‐‑–−_.:,'’ʼ·⋅×][^\W_]+)*")
_TIMES = re.compile(" [xX] |×")
_CUT = re.compile("[,–]")
_JOINERS = re.compile(r"[-‐‑–−_.:,×]")
_SILENT = re.compile(r"['’ʼ·⋅]")
_POSSESSIVE = re.compile(r"['’ʼ]s$", re.IGNORECASE)
# Letters that decomposition leaves alone, written as a keyboard without them would
_PLAIN = str.maketrans(
    {"μ": "u", "ω": "ohm", "ς": "σ", "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ł": "l", "ı": "i", "×": "x"}
)


@dataclass(frozen=True, slots=True)
class Token:
    """One term and where it stands. ``kind``: ``word``, ``code``, or ``extra`` (indexed beside, never asked for)."""

    term: str
    kind: str
    start: int
    end: int


def normalise(text: str) -> str:
    """The text with composed accents, without soft hyphens and stray halves of characters; offsets count in it."""
    if text.isascii():
        return text
    return unicodedata.normalize("NFC", "".join(c for c in text if c != "\u00ad" and not "\ud800" <= c <= "\udfff"))


def fold(text: str) -> str:
    """Lower case, no accents, units and letters as on a plain keyboard (``µF`` is ``uf``, ``Ω`` is ``ohm``)."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text).lower()
    return "".join(c for c in apart if unicodedata.category(c) != "Mn" and c <= "\uffff").translate(_PLAIN)


def tokenise(text: str) -> list[Token]:
    """The tokens of normalised text, in order; offsets count characters of ``text``."""
    return [
        Token(term, kind, start + begin, start + stop)
        for start, end in _chunks(text)
        for term, kind, begin, stop in _terms(text[start:end])
    ]


def asked(query: str) -> list[Token]:
    """The tokens of a query that are looked for: words and codes, at most twelve of them."""
    return [token for token in tokenise(normalise(query[:200])) if token.kind != "extra"][:12]


def terms_of(text: str) -> list[str]:
    """All terms of a text, extras too, without their places."""
    text = normalise(text)
    return [term for start, end in _chunks(text) for term, *_ in _terms(text[start:end])]


def _chunks(text: str) -> Iterator[tuple[int, int]]:
    """Start and end of each chunk, with the parts of a size such as ``M3 × 8`` brought together."""
    if not _TIMES.search(text):
        yield from _separate(text)
        return
    held: tuple[int, int] | None = None
    for start, end in _separate(text):
        if held is not None:
            gap = text[held[1] : start]
            if gap.strip(" ") == "×" and text[held[1] - 1].isdecimal() and text[start].isdecimal():
                held = (held[0], end)
                continue
            if gap == " " and text[start:end] in ("x", "X") and text[held[1] - 1].isdecimal():
                following = text[end : end + 2]
                if len(following) == 2 and following[0] == " " and following[1].isdecimal():
                    held = (held[0], end)
                    continue
            if gap == " " and text[held[1] - 2 : held[1]] in (" x", " X") and held[1] - held[0] > 2:
                held = (held[0], end)
                continue
            yield held
        held = (start, end)
    if held is not None:
        yield held


def _separate(text: str) -> Iterator[tuple[int, int]]:
    """Chunks cut at a comma outside a number and at a dash between two numbers (``0.5–0.7``)."""
    for match in _CHUNK.finditer(text):
        start = match.start()
        if not _CUT.search(match.group()):
            yield match.span()
            continue
        for at in range(start + 1, match.end() - 1):
            sign = text[at]
            if sign in ",–":
                between_digits = text[at - 1].isdecimal() and text[at + 1].isdecimal()
                if between_digits == (sign == "–"):
                    yield start, at
                    start = at + 1
        yield start, match.end()


@lru_cache(maxsize=1 << 17)
def _terms(chunk: str) -> tuple[tuple[str, str, int, int], ...]:
    """(term, kind, start, end) of one chunk; what folds to nothing gives nothing."""
    chunk = _POSSESSIVE.sub("", chunk)
    plain = fold(_SILENT.sub("", chunk))
    if re.search("[0-9]", plain):
        return tuple(_code_terms(chunk, plain))
    parts = list(_parts(chunk))
    found = [(fold(_SILENT.sub("", part)), start, start + len(part)) for part, start in parts]
    words = [(word, "word", start, end) for word, start, end in found if word.isalnum()]
    if len(words) > 1:
        words.append(("".join(word for word, *_ in words), "extra", 0, len(chunk)))
    return tuple(words)


def _code_terms(chunk: str, plain: str) -> Iterator[tuple[str, str, int, int]]:
    term = canonical(plain)
    if re.fullmatch(r"m[0-9]+(-[0-9]+)?x[0-9]+(-[0-9]+)?mm", term):
        term = term[:-2]  # M3 × 8mm is written M3 × 8 elsewhere
    yield term, "code", 0, len(chunk)
    for part, start in _parts(chunk):
        word = fold(_SILENT.sub("", part))
        if len(word) >= 3 and word.isalpha() and word != term:
            yield word, "extra", start, start + len(part)


def _parts(chunk: str) -> Iterator[tuple[str, int]]:
    start = 0
    for match in _JOINERS.finditer(chunk):
        yield chunk[start : match.start()], start
        start = match.end()
    yield chunk[start:], start


# ending of a noun made of a verb, the least left before it, and what the verb may end in; the first that fits is taken
_NOUN_ENDINGS = (
    ("ations", 6, ("", "e", "ate")),
    ("ation", 6, ("", "e", "ate")),
    ("ions", 5, ("", "e")),
    ("ion", 5, ("", "e")),
    ("ments", 5, ("",)),
    ("ment", 5, ("",)),
    ("als", 5, ("", "e")),
    ("al", 5, ("", "e")),
)


@lru_cache(maxsize=1 << 16)
def bases(word: str) -> frozenset[str]:
    """The words that ``word`` may be a form of, itself among them; two words are forms of one when these meet.

    Light on purpose: plural, ``-ed``, ``-ing`` and the nouns that are made of verbs of the trade (``removal``,
    ``adjustment``, ``inspection``, ``lubrication``). ``-er`` stays: a washer is not a wash.
    """
    made = {word}
    if len(word) < 4 or not re.fullmatch("[a-z]+", word):
        return frozenset(made)
    if word.endswith("ies") and len(word) > 4:
        made |= {word[:-3] + "y", word[:-1]}
    elif word.endswith("es"):
        made |= {word[:-1], word[:-2]} if word[-3] in "sxzho" else {word[:-1]}
    elif word.endswith("s") and word[-2] not in "sui":
        made.add(word[:-1])
    for ending, least in (("ings", 3), ("ing", 3), ("ed", 3)):
        if word.endswith(ending) and len(word) - len(ending) >= least:
            made |= _verbs(word[: -len(ending)])
            break
    if word.endswith("ied") and len(word) > 4:
        made.add(word[:-3] + "y")
    for ending, least, after in _NOUN_ENDINGS:
        stem = word[: -len(ending)]
        if word.endswith(ending) and len(stem) >= least:
            made |= {stem + end for end in after}
            break
    return frozenset(made)


def _verbs(stem: str) -> set[str]:
    """What ``-ing`` or ``-ed`` was put to: remov(e), fit(t), label(l)."""
    if not re.search("[aeiouy]", stem):
        return set()
    made = {stem, stem + "e"}
    if len(stem) > 3 and stem[-1] == stem[-2]:
        made.add(stem[:-1])
    return made


def family_prefix(word: str) -> str:
    """What all forms of ``word`` begin with, so that they stand together in dictionary order."""
    shortest = min(sorted(bases(word)), key=len)
    return shortest[:-1] if len(shortest) > 2 + (shortest[-1] == "e") and shortest[-1] in "eiy" else shortest


def are_forms(one: str, other: str) -> bool:
    """Whether two words are forms of one word."""
    return not bases(one).isdisjoint(bases(other))


def content(tokens: Sequence[Token]) -> list[Token]:
    """The tokens without stop words; all of them when there is nothing else."""
    kept = [token for token in tokens if token.term not in STOP_WORDS]
    return kept or list(tokens)
