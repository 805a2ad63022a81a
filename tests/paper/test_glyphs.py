"""What the shipped fonts can show, held against Typst, and what happens to a character they cannot."""

from __future__ import annotations

import pytest
from tests.paper.sheets import made_subject, no_pictures, pages_of

from benchleaf.edges.pdf import NotPrinted, pdf_of
from benchleaf.paper.glyphs import BREAK, glyph_findings, known_characters, printable
from benchleaf.paper.procedure import sheet


def machine(title: str) -> dict[str, str]:
    return {
        "shop.yaml": "record: shop\n",
        "lc/machine.yaml": "record: machine\nid: lc\nname: Plover\nitems: {frame: Frame, lid: Lid}\n",
        "lc/teardown/look.yaml": (
            f"record: teardown\nid: look\ntitle: {title}\nmachine: lc\nsteps:\n"
            "  - title: Look at it\n    do: [inspect: lid]\n"
        ),
    }


@pytest.mark.parametrize("character", list("ΩµμΔ°²·≤≥→…–×±√✓ŁğЖß€"))
def test_a_character_said_to_be_there_is_set(character: str) -> None:
    assert ord(character) in known_characters()
    pages = pages_of(pdf_of(sheet(made_subject(machine(f"Look {character} in"), "look"), no_pictures)))
    same = {"µ": "μ"}.get(character, character)  # micro sign and mu share a glyph, so either may be read back
    assert character in pages[0] or same in pages[0]


@pytest.mark.parametrize("character", list("中アक한"))
def test_a_character_said_to_be_missing_is_refused_by_typst_too(character: str) -> None:
    assert ord(character) not in known_characters()
    with pytest.raises(NotPrinted):
        pdf_of(sheet(made_subject(machine(f"Look {character} in"), "look"), no_pictures))


def test_a_missing_character_is_a_finding_at_its_text() -> None:
    subject = made_subject(machine("Look 中 in"), "look")
    (finding,) = glyph_findings(sheet(subject, no_pictures).data, subject.full.machine.records())
    assert (finding.place.file, finding.place.line) == ("lc/teardown/look.yaml", 3)
    assert "U+4E2D" in finding.message


def test_markup_of_the_typesetter_is_text_like_any_other() -> None:
    title = '"#panic() $x$ *b* _i_ `r` <l> @r #set text(red) \\\\ // /* [ ] ~"'
    pages = pages_of(pdf_of(sheet(made_subject(machine(title), "look"), no_pictures)))
    assert "#panic() $x$ *b* _i_ `r` <l> @r #set text(red)" in pages[0]


def test_a_long_word_may_be_broken_and_reads_the_same() -> None:
    word = "W" * 60
    assert printable(word).replace(BREAK, "") == word
    assert max(len(part) for part in printable(word).split(BREAK)) < 26
    assert printable("A1-J3 of W12") == "A1-J3 of W12"
