"""Every number with a unit on a page leads somewhere: its own slip, or a line of a record that says it, or a rule."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from tests.pages.library import CONTENT, demo_html, demo_manual, demo_pages, tree

from benchleaf.pages.number_sources import (
    PUBLISHED,
    SHOWN,
    WORKED_OUT,
    NumberSources,
    amount_of,
    number_sources,
)
from benchleaf.source import Source
from benchleaf.values.quantity import Dimension

# Written here anew, without the program's table of units: what a reader takes for a number with a unit.
LOOKS_LIKE_ONE = re.compile(
    r"(?<![\w.,:-])\d+(?:[.,]\d+)?[ \u00a0]?"
    r"(?:N·m|cN·m|in·lbf|kgf·cm|mm²|mm|cm|min|s|h|ms|V|mV|A|mA|Ω|kΩ|mΩ|µF|J|mJ|mC|°C|W|kg|g|N|Hz|ml|%|kPa)(?![\w·²])"
)
LEFT_OUT = {"data", "script", "style", "svg", "title", "option", "time"}


def local(element) -> str:  # type: ignore[no-untyped-def]
    return str(element.tag).rpartition("}")[2]


def words_outside(element) -> Iterator[str]:  # type: ignore[no-untyped-def]
    """The texts of a page that stand in no ``data`` element and in no slip of an origin."""
    if local(element) in LEFT_OUT or "origin-slip" in (element.get("class") or "").split():
        return
    yield element.text or ""
    for child in element:
        yield from words_outside(child)
        yield child.tail or ""


def test_no_number_with_a_unit_stands_outside_the_element_that_leads_to_its_origin() -> None:
    loose = []
    for path in demo_html():
        for main in (one for one in tree(path).iter() if local(one) == "main"):
            loose += [(path, found) for text in words_outside(main) for found in LOOKS_LIKE_ONE.findall(text)]
    assert loose == []


def test_every_number_in_words_has_its_row_at_the_foot_and_every_line_named_there_says_it() -> None:
    lines = {source.path: source.lines for source in demo_manual().sources}
    checked: set[tuple[str, str, str]] = set()
    recorded = worked_out = 0
    for path in demo_html():
        root = tree(path)
        parents = {child: parent for parent in root.iter() for child in parent}
        rows = {
            element.get("data-number"): "".join(parents[element].itertext()).removeprefix(element.get("data-number"))
            for element in root.iter()
            if element.get("data-number")
        }
        for main in (one for one in root.iter() if local(one) == "main"):
            for data in (one for one in main.iter() if local(one) == "data"):
                number = data.get("value")
                if number not in rows:  # the callouts carry their origins beside them
                    assert has_slip_near(data, parents), (path, number)
                    continue
                for file, line in lines_named(rows[number]):
                    recorded += 1
                    if (number, file, line) not in checked:
                        checked.add((number, file, line))
                        said = number_sources([Source(file, lines[file][int(line) - 1])]).said
                        written = {amount[:2] for amount in next(iter(said.values()))}
                        assert amount_of(number)[:2] in written, (path, number, file, line)
                if rows[number].startswith("worked out: "):
                    worked_out += 1
                    assert rows[number].removeprefix("worked out: ") in set(WORKED_OUT.values()), (path, number)
    assert recorded > 1000
    assert worked_out > 100


def lines_named(row: str) -> Iterator[tuple[str, str]]:
    file = ""
    for named, line in re.findall(r"([\w./-]*):(\d+)", row):
        file = named or file
        yield file, line


def has_slip_near(element, parents) -> bool:  # type: ignore[no-untyped-def]
    """Whether an origin slip stands in the same value or callout: no further out than the next four elements."""
    for _ in range(4):
        element = parents[element]
        if any("origin-slip" in (inner.get("class") or "") for inner in element.iter()):
            return True
    return False


def sources() -> NumberSources:
    return number_sources(
        [
            Source("press/machine.yaml", "items:\n  a: {mass: 1.9kg, size: M5x14}\n  b: {voltage: 230 VAC}"),
            Source("press/teardown/open.yaml", "minutes: 3\nsteps:\n  - text: wait 3 min, then measure"),
            Source("oven/machine.yaml", "mass: 1900 g"),
            Source("shop.yaml", "stored-limit: 50 V"),
        ]
    )


@pytest.mark.parametrize(
    ("number", "place"),
    [
        ("1.9 kg", "press/machine.yaml:2"),
        ("14 mm", "press/machine.yaml:2"),
        ("230 V", "press/machine.yaml:3"),
        ("50 V", "shop.yaml:1"),
    ],
)
def test_a_number_leads_to_the_line_that_says_the_same_quantity_however_it_is_spelled(number: str, place: str) -> None:
    assert sources().row(number, "machine/press/index.html").places == (place,)


def test_minutes_written_without_their_unit_count() -> None:
    row = sources().row("3 min", "machine/press/index.html")
    assert row.places == ("press/teardown/open.yaml:1", "press/teardown/open.yaml:3")


def test_a_page_of_one_machine_leads_to_its_own_records_and_a_page_of_all_to_every_one() -> None:
    assert sources().row("1.9 kg", "machine/press/index.html").places == ("press/machine.yaml:2",)
    assert sources().row("1.9 kg", "spares.html").places == ("oven/machine.yaml:1", "press/machine.yaml:2")


def test_direct_and_alternating_voltage_are_not_the_same_number() -> None:
    said = number_sources([Source("m/a.yaml", "v: 5 V DC\nw: 5 V AC\nx: 5 V")])
    assert said.row("5 V DC", "machine/m/index.html").places == ("m/a.yaml:1", "m/a.yaml:3")
    assert said.row("5 V", "machine/m/index.html").places == ("m/a.yaml:3", "m/a.yaml:2", "m/a.yaml:1")


def test_more_lines_than_fit_are_counted() -> None:
    many = number_sources([Source("m/a.yaml", "\n".join(["t: 7 s"] * (SHOWN + 3)))])
    row = many.row("7 s", "machine/m/index.html")
    assert (len(row.places), row.more) == (SHOWN, 3)


def test_what_no_record_says_is_a_limit_with_its_source_or_said_to_be_worked_out() -> None:
    published = sources().row("60 V", "machine/press/index.html")
    assert (published.kind, published.words) == ("published", PUBLISHED[Dimension.VOLTAGE, 60.0])
    assert "IEC 60204-1" in published.words
    worked_out = sources().row("12 min", "machine/press/index.html")
    assert (worked_out.kind, worked_out.words) == ("worked out", WORKED_OUT[Dimension.TIME])


def test_every_dimension_met_on_the_demo_has_a_rule() -> None:
    numbers = {
        element.get("data-number")
        for path in demo_pages()
        for element in tree(path).iter()
        if element.get("data-number")
    }
    met = {amount[0] for amount in map(amount_of, numbers) if amount is not None}
    assert {Dimension.TIME, Dimension.VOLTAGE, Dimension.TORQUE} <= met
    assert all(amount_of(number) is not None for number in numbers)
    assert CONTENT.is_dir()
