"""The last touch to a page: every number with a unit in its words becomes a ``data`` element with its row at the foot.

What already stands in one has its origin beside it and is left alone, and so is what is drawn, for a drawing's table
says the same. Works on the finished HTML, so that no sentence of any page can slip by.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import escape, unescape

from benchleaf.pages.number_sources import NUMBER, NumberRow, NumberSources

MARK = "<!--numbers-->"

_LEFT_ALONE = re.compile(
    r"<!--.*?-->|<(script|style|svg|title|data|option|textarea|time)\b[^>]*>.*?</\1>|<span class=\"origin-slip\"",
    re.DOTALL,
)
_SPAN = re.compile(r"<span\b|</span>")
_WORDS = re.compile(r">([^<\d]*\d[^<]*)")  # text with a digit in it: the others hold no number


def with_numbers_told(html: str, path: str, sources: NumberSources) -> str:
    """The page with its numbers marked, and at ``MARK`` one row for each, in the order of their first mention."""
    rows: dict[str, NumberRow] = {}
    head, main, rest = html.partition("<main")

    def marked(words: str) -> str:
        def one(found: re.Match[str]) -> str:
            text = " ".join(unescape(found[0]).split())
            if text not in rows:
                rows[text] = sources.row(text, path)
            return f'<data value="{escape(text)}">{found[0]}</data>'

        return NUMBER.sub(one, words)

    body, end, foot = rest.partition("</main>")
    made: list[str] = []
    at = 0
    alone = _left_alone(body)
    begin, until = next(alone)
    for found in _WORDS.finditer(body):
        start = found.start(1)
        while until <= start:
            begin, until = next(alone)
        if start < begin:
            made += [body[at:start], marked(found[1])]
            at = found.end()
    made.append(body[at:])
    return head + main + "".join(made) + end + foot.replace(MARK, _foot(tuple(rows.values())), 1)


def _left_alone(body: str) -> Iterator[tuple[int, int]]:
    """Where nothing is marked, from first to last; the end of the page closes the list."""
    at = 0
    while found := _LEFT_ALONE.search(body, at):
        at = found.end()
        if found[0].startswith("<span"):
            deep = 1
            for span in _SPAN.finditer(body, at):
                deep += 1 if span[0] == "<span" else -1
                if not deep:
                    at = span.end()
                    break
            else:
                at = len(body)
        yield found.start(), at
    yield len(body), len(body) + 1


def _foot(rows: tuple[NumberRow, ...]) -> str:
    if not rows:
        return ""
    lines = "".join(
        f'<div><dt data-number="{escape(row.text)}" tabindex="-1">{escape(row.text)}</dt><dd>{_words(row)}</dd></div>'
        for row in rows
    )
    return (
        '<details class="numbers"><summary>Where the numbers in the words of this page come from</summary>'
        '<p>A value with "from" beside it says so there. The others, in the order of the page:</p>'
        f"<dl>{lines}</dl></details>"
    )


def _words(row: NumberRow) -> str:
    if row.kind == "recorded":
        more = f" and {row.more} more lines" if row.more > 1 else " and one more line" if row.more else ""
        return f'recorded: <span class="place">{escape(_places(row.places))}</span>{more}'
    return escape(f"{row.kind}: {row.words}" if row.kind == "worked out" else row.words)


def _places(places: tuple[str, ...]) -> str:
    """``press/machine.yaml:2, :7, press/codes/07.md:4``: a file is named once for lines that follow each other."""
    told, last = [], ""
    for place in places:
        file, _, line = place.rpartition(":")
        told.append(f":{line}" if file == last else place)
        last = file
    return ", ".join(told)
