"""The interconnection diagram: everything given is drawn and tabled, added and bypassed by line and word."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.interconnection import Box, Bypass, Diagram, Link, interconnection
from benchleaf.edges.graphviz_edge import draw

BOXES = (
    Box(id="A1", name="Control board", connectors=("A1-J1", "A1-J3", "A1-J5")),
    Box(id="A9", name="Lifting board", connectors=("A9-J1", "A9-J2"), added=True),
    Box(id="M1", name="Feed motor"),
    Box(id="S1", name="Lid switch", connectors=("S1-J1",)),
    Box(id="F1", name="Fuse"),
    Box(id="XP1", name="Mains plug"),
)
LINKS = (
    Link(cable="W3", ends=("A1-J3", "M1"), label="motor supply", kind="round", nets=("n7", "n8"), opened=("A1-J3",)),
    Link(cable="W5", ends=("A1-J5", "A9-J1"), label="signals", kind="flat", change="added"),
    Link(cable="W10", ends=("S1-J1", "parked"), label="lid switch", kind="round", change="re-routed"),
    Link(cable="W2", ends=("XP1", "F1.1", "A1-J1"), label="mains", kind="harness"),
)
BYPASSES = (Bypass(signal="lid closed", start="S1-J1", end="A1-J1", by="A9-J2", asserts="closed"),)


def drawn(diagram: Diagram) -> Drawing:
    made = draw(diagram)
    assert made.drawing is not None, made.problem
    return made.drawing


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    return drawn(interconnection("LC30 interconnection", BOXES, LINKS, BYPASSES))


def groups(drawing: Drawing, attribute: str) -> dict[str, list[ET.Element]]:
    found: dict[str, list[ET.Element]] = {}
    for element in ET.fromstring(drawing.svg).iter():
        if element.get(attribute):
            found.setdefault(element.get(attribute, ""), []).append(element)
    return found


def words_of(element: ET.Element) -> str:
    return " ".join("".join(e.itertext()) for e in element.iter() if e.tag.endswith("}text"))


def dashes_of(element: ET.Element) -> set[str | None]:
    return {e.get("stroke-dasharray") for e in element.iter() if e.tag.endswith(("path", "polygon", "polyline"))}


def test_every_board_is_a_box_with_its_connectors(drawing: Drawing) -> None:
    boxes = groups(drawing, "data-item")
    assert set(boxes) == {box.id for box in BOXES}
    for box in BOXES:
        lettered = words_of(boxes[box.id][0]).split()
        assert box.id in lettered
        assert [word for word in lettered if word.startswith("J")] == [c.split("-")[1] for c in box.connectors]


def test_every_cable_is_a_line_labelled_with_its_name(drawing: Drawing) -> None:
    cables = groups(drawing, "data-cable")
    assert set(cables) == {link.cable for link in LINKS}
    for link in LINKS:
        assert len(cables[link.cable]) == (len(link.ends) if len(link.ends) > 2 else 1)
        for line in cables[link.cable]:
            assert link.cable in words_of(line).split()


def test_a_cable_is_never_a_box_between_connectors(drawing: Drawing) -> None:
    for lines in groups(drawing, "data-cable").values():
        for line in lines:
            assert all(e.get("fill") != "none" for e in line.iter() if e.tag.endswith("polygon"))
    assert not {link.cable for link in LINKS} & set(groups(drawing, "data-item"))


def test_an_added_board_is_told_by_line_and_word(drawing: Drawing) -> None:
    boxes = groups(drawing, "data-item")
    assert "added" in words_of(boxes["A9"][0])
    assert dashes_of(boxes["A9"][0]) != {None}
    assert "added" not in words_of(boxes["A1"][0])
    assert dashes_of(boxes["A1"][0]) == {None}


def test_an_added_or_re_routed_cable_is_told_by_line_and_word(drawing: Drawing) -> None:
    cables = groups(drawing, "data-cable")
    for cable, word in (("W5", "added"), ("W10", "re-routed")):
        assert word in words_of(cables[cable][0])
        assert dashes_of(cables[cable][0]) - {None}
    assert dashes_of(cables["W2"][0]) == {None}


def test_a_bypassed_signal_is_told_by_line_and_word(drawing: Drawing) -> None:
    (line,) = groups(drawing, "data-signal")["lid closed"]
    assert "bypassed: lid closed" in words_of(line)
    assert "A9-J2 supplies closed" in words_of(line)
    assert dashes_of(line) - {None}


def test_a_bypass_with_nothing_recorded_says_so() -> None:
    diagram = interconnection("t", BOXES, (), (Bypass(signal="door", start="S1", end="A1"),))
    assert diagram.table.rows[-1][3] == "not recorded supplies a value not recorded"


def test_what_the_lines_mean_is_lettered_and_only_what_is_used(drawing: Drawing) -> None:
    everything = words_of(ET.fromstring(drawing.svg))
    for said in ("dashed box", "double line", "thick line", "signal bypassed", "opened here"):
        assert said in everything
    plain = drawn(interconnection("t", BOXES[:3], (Link(cable="W3", ends=("A1-J3", "M1"), kind="round"),)))
    assert "double line" not in words_of(ET.fromstring(plain.svg))


def test_kinds_of_cable_differ_without_colour(drawing: Drawing) -> None:
    def look(cable: str) -> tuple[int, str | None]:
        paths = [e for e in groups(drawing, "data-cable")[cable][0].iter() if e.tag.endswith("path")]
        return len(paths), paths[0].get("stroke-width")

    assert len({look("W3"), look("W5"), look("W2")}) == 3
    paints = {e.get(k) for e in ET.fromstring(drawing.svg).iter() for k in ("fill", "stroke")}
    assert paints <= {None, "none", "currentColor"}


def test_the_table_holds_what_the_picture_shows(drawing: Drawing) -> None:
    by_kind: dict[str, list[tuple[str, ...]]] = {}
    for row in drawing.table.rows:
        by_kind.setdefault(row[0], []).append(row)
    assert [row[1] for row in by_kind["cable"]] == [link.cable for link in LINKS]
    assert [row[2] for row in by_kind["cable"]] == [" – ".join(link.ends) for link in LINKS]
    assert [row[1].split()[0] for row in by_kind["board or part"]] == [box.id for box in BOXES]
    assert [row[1] for row in by_kind["bypassed signal"]] == ["lid closed"]
    assert set(groups(drawing, "data-cable")) == {row[1] for row in by_kind["cable"]}
    assert set(groups(drawing, "data-item")) == {row[1].split()[0] for row in by_kind["board or part"]}
    assert all(all(cell for cell in row) for row in drawing.table.rows)


def test_an_end_in_no_box_is_drawn_as_not_recorded() -> None:
    made = drawn(interconnection("t", BOXES[:1], (Link(cable="W9", ends=("A1-J1", "Z9-J4")),)))
    assert "Z9-J4: not recorded" in words_of(ET.fromstring(made.svg))


def test_a_free_end_is_drawn_parked(drawing: Drawing) -> None:
    assert "parked (free end)" in words_of(ET.fromstring(drawing.svg))
    made = drawn(interconnection("t", BOXES[:1], (Link(cable="W9", ends=("A1-J1",)),)))
    assert "parked (free end)" in words_of(ET.fromstring(made.svg))


def test_a_diagram_of_nothing_says_so() -> None:
    made = drawn(interconnection("t", (), ()))
    assert "No boards or cables recorded." in words_of(ET.fromstring(made.svg))


def test_a_net_can_be_followed(drawing: Drawing) -> None:
    assert groups(drawing, "data-nets")["n7 n8"][0].get("data-cable") == "W3"


def test_the_picture_carries_no_style_id_or_script(drawing: Drawing) -> None:
    root = ET.fromstring(drawing.svg)
    assert root.get("role") == "img"
    assert (root[0].text, root[1].text) == (drawing.title, drawing.description)
    allowed = {"svg", "title", "desc", "g", "path", "polygon", "polyline", "ellipse", "text"}
    for element in root.iter():
        assert element.tag.split("}")[1] in allowed
        assert not {"style", "id"} & set(element.attrib)
        assert not [name for name in element.attrib if name.startswith("on")]


@pytest.mark.parametrize(
    "nasty", ["<script>alert(1)</script>", '"];a->b[', "\\N \\G \\", "<b>", "&amp; & </td>", "\x00\x1f", "{a|b}", "–"]
)
def test_author_text_stays_text_in_every_field(nasty: str) -> None:
    boxes = (Box(id=nasty, name=nasty, connectors=(f"{nasty}-J1",), added=True), Box(id="B", name=nasty))
    links = (Link(cable=nasty, ends=(f"{nasty}-J1", "B"), label=nasty, kind=nasty, change=nasty, nets=(nasty,)),)
    bypasses = (Bypass(signal=nasty, start="B", end=nasty, by=nasty, asserts=nasty),)
    made = drawn(interconnection(nasty, boxes, links, bypasses))
    root = ET.fromstring(made.svg)
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    shown = "".join(words_of(root).split())
    wanted = "".join("".join("\ufffd" if ord(c) < 32 else c for c in nasty).split())
    assert wanted in shown
    assert len(groups(made, "data-cable")) == 1


def test_what_hangs_together_stands_on_one_side_of_the_hub() -> None:
    boxes = tuple(Box(id=i) for i in ("HUB", "A", "B", "C", "D"))
    links = (
        Link(cable="1", ends=("HUB", "A")),
        Link(cable="2", ends=("HUB", "B")),
        Link(cable="3", ends=("A", "C")),
        Link(cable="4", ends=("HUB", "D")),
    )
    made = drawn(interconnection("t", boxes, links))

    def x(item: str) -> float:
        (text,) = [e for e in groups(made, "data-item")[item][0].iter() if e.tag.endswith("}text")]
        return float(text.get("x", "0"))

    assert (x("A") - x("HUB")) * (x("C") - x("A")) > 0
    assert min(x("A"), x("B"), x("D")) < x("HUB") < max(x("A"), x("B"), x("D"))


def test_a_cable_of_unknown_kind_says_so_in_the_table() -> None:
    diagram = interconnection("t", BOXES[:1], (Link(cable="W9", ends=("A1-J1", "parked")),))
    assert diagram.table.rows[-1][3] == "kind not recorded; what it carries: not recorded"
