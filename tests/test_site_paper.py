"""PDFs of a site: made when asked for, linked where they are, kept while nothing changes, never half a site."""

from __future__ import annotations

import logging
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from mkdocs.exceptions import MkDocsException
from tests.paper.sheets import pages_of

from benchleaf.cli import main
from benchleaf.edges import paper_shelf
from benchleaf.edges.paper_shelf import Shelf
from benchleaf.mkdocs_plugin import build_manual

PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="64" height="40"><rect width="64" height="40"/></svg>'
LOOK = (
    "record: teardown\nid: look\ntitle: Look inside\nmachine: lc\nissue: {number: 1, date: 2026-02-03}\n"
    "steps:\n  - title: Look at the lid\n    do: [inspect: lid]\n    photos: [{file: lid.svg, shows: The lid}]\n"
)
ARTICLE = "---\nrecord: article\ntitle: One\n---\nWords.\n"
FILES = {
    "content/shop.yaml": "record: shop\nname: Shop\naddress: https://shop.example\n",
    "content/lc/machine.yaml": "record: machine\nid: lc\nname: Plover\nitems: {frame: Frame, lid: Lid}\n",
    "content/lc/teardown/look.yaml": LOOK,
    "content/lc/teardown/turn.yaml": LOOK.replace("look", "turn").replace("    photos", "    # photos"),
    "content/lc/photos/lid.svg": PICTURE,
    "content/articles/one.md": ARTICLE,
    "mkdocs.yml": (
        "site_name: Shop\ndocs_dir: content\ntheme: {name: benchleaf}\nplugins: [{benchleaf: {content: content}}]\n"
    ),
}
PDF = "machine/lc/procedure/look/paper/look-procedure.pdf"


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    # The program's own files may change while the tests run: what is kept depends on them.
    monkeypatch.setattr(paper_shelf, "program_digest", lambda: b"this program")
    for name, text in FILES.items():
        change(tmp_path, name, text)
    return tmp_path


def change(project: Path, name: str, text: str) -> None:
    (project / name).parent.mkdir(parents=True, exist_ok=True)
    (project / name).write_text(text, encoding="utf-8")


def build(project: Path, paper: str | None = "a4") -> str:
    return build_manual(str(project / "mkdocs.yml"), paper=paper)


def counts(said: str) -> tuple[int, int, int]:
    found = re.search(r"(\d+) PDFs, .*: (\d+) set, (\d+) kept", said)
    assert found is not None, said
    return int(found[1]), int(found[2]), int(found[3])


def tree(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def links(page: bytes) -> list[str]:
    return re.findall(r'href="([^"]+\.pdf)"', page.decode())


def test_without_paper_there_is_no_pdf_and_no_word_of_one(project: Path) -> None:
    assert build(project, None) == ""
    site = tree(project / "site")
    assert not [name for name in site if name.endswith(".pdf")]
    assert not [name for name, data in site.items() if name.endswith(".html") and b'id="paper"' in data]
    assert not (project / ".cache").exists()


def test_with_paper_every_pdf_is_linked_and_every_link_leads_to_one(project: Path) -> None:
    build(project)
    site = tree(project / "site")
    made = {name for name in site if name.endswith(".pdf")}
    linked = {
        str(Path(name).parent / address)
        for name, data in site.items()
        if name.endswith(".html")
        for address in links(data)
    }
    assert made == linked
    assert {PDF, "machine/lc/paper/lc-manual.pdf", "machine/lc/procedure/turn/paper/turn-pack.pdf"} <= made
    assert all(data.startswith(b"%PDF") for name, data in site.items() if name in made)


def test_the_pdf_of_the_site_is_the_one_that_print_writes(project: Path) -> None:
    build(project)
    out = project / "out.pdf"
    arguments = ["print", "lc/look", "--content", str(project / "content"), "-o", str(out)]
    assert CliRunner().invoke(main, arguments).exit_code == 0
    assert out.read_bytes() == (project / "site" / PDF).read_bytes()


def test_a_second_build_keeps_them_and_gives_the_same_bytes(project: Path) -> None:
    total, made, kept = counts(build(project))
    assert (made, kept) == (total, 0)
    before = tree(project / "site")
    assert counts(build(project)) == (total, 0, total)
    assert tree(project / "site") == before


def test_a_deleted_or_damaged_cache_is_made_again(project: Path) -> None:
    total, _, _ = counts(build(project))
    before = tree(project / "site")
    for file in (project / ".cache").rglob("*.json"):
        file.write_text("[{")
    assert counts(build(project)) == (total, 0, total)
    next(iter(sorted((project / ".cache").rglob("*.pdf")))).unlink()
    assert counts(build(project)) == (total, 1, total - 1)
    assert tree(project / "site") == before


def test_a_changed_procedure_sets_its_own_sheets_and_the_manual_again(project: Path) -> None:
    total, _, _ = counts(build(project))
    change(project, "content/lc/teardown/turn.yaml", FILES["content/lc/teardown/turn.yaml"].replace("Look at", "See"))
    _, made, kept = counts(build(project))
    assert made + kept == total
    site = {name for name in tree(project / "site") if name.endswith(".pdf")}
    of_turn = sum("/turn/" in name for name in site)
    of_machine = sum(name.startswith("machine/lc/paper/") for name in site)
    assert 0 < made <= of_turn + of_machine < total
    assert "See the lid" in " ".join(pages_of((project / "site" / PDF.replace("look", "turn")).read_bytes()))


def test_an_article_sets_no_sheet_again(project: Path) -> None:
    total, _, _ = counts(build(project))
    change(project, "content/articles/one.md", ARTICLE.replace("Words", "More"))
    assert counts(build(project)) == (total, 0, total)


def test_a_changed_picture_is_printed(project: Path) -> None:
    build(project)
    before = (project / "site" / PDF).read_bytes()
    change(project, "content/lc/photos/lid.svg", PICTURE.replace("<rect", '<rect y="9"').replace(' y="9"', ' x="9"'))
    _, made, _ = counts(build(project))
    assert made > 0
    assert (project / "site" / PDF).read_bytes() != before


def test_no_pdf_of_records_that_are_gone_stays_in_the_cache(project: Path) -> None:
    build(project)
    (project / "content/lc/teardown/turn.yaml").unlink()
    total, _, _ = counts(build(project))
    assert len(list((project / ".cache").rglob("*.pdf"))) == total


BROKEN = "<svg xmlns='http://www.w3.org/2000/svg'><rect"
TEARDOWN = "content/lc/teardown/look.yaml"
FAULTS = {
    "a character no font has": (TEARDOWN, LOOK.replace("inside", "里面"), "look.yaml:3:8", "no-glyph"),
    "a broken picture": ("content/lc/photos/lid.svg", BROKEN, "look.yaml:9:21", "not-printed"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_what_cannot_be_printed_is_an_error_with_its_place_and_the_last_site_stays(
    project: Path, caplog: pytest.LogCaptureFixture, fault: str
) -> None:
    build(project)
    before = tree(project / "site")
    file, text, place, code = FAULTS[fault]
    change(project, file, text)
    with pytest.raises(MkDocsException):
        build(project)
    assert f"content/lc/teardown/{place}".removeprefix("content/") in caplog.text
    assert f"error[{code}]" in caplog.text
    assert tree(project / "site") == before
    assert sorted(one.name for one in project.iterdir() if one.name.startswith(".")) == [".cache"]


def test_records_with_errors_set_no_sheet(project: Path) -> None:
    change(project, "content/lc/teardown/look.yaml", LOOK.replace("inspect: lid", "inspect: nothing"))
    with pytest.raises(MkDocsException):
        build(project)
    assert not (project / ".cache").exists()


def test_a_cache_that_cannot_be_written_is_said_and_the_last_site_stays(
    project: Path, caplog: pytest.LogCaptureFixture
) -> None:
    build(project, None)
    before = tree(project / "site")
    change(project, ".cache", "a file stands here")
    with pytest.raises(MkDocsException):
        build(project)
    assert "Name another folder as cache" in caplog.text
    assert tree(project / "site") == before


def test_mkdocs_yml_can_ask_for_paper_and_its_size(project: Path, caplog: pytest.LogCaptureFixture) -> None:
    import pypdf

    asked = FILES["mkdocs.yml"].replace("content: content}", "content: content, paper: true, paper_size: letter}")
    change(project, "mkdocs.yml", asked)
    with caplog.at_level(logging.INFO):
        build(project, None)
    assert "PDFs" in caplog.text
    box = pypdf.PdfReader(project / "site" / PDF).pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == (612, 792)  # 8.5 × 11 in at 72 points an inch


def test_build_says_what_was_made_and_how_long_it_took(project: Path) -> None:
    result = CliRunner().invoke(main, ["build", str(project / "mkdocs.yml"), "--paper-size", "letter"])
    assert result.exit_code == 0, result.output
    assert re.search(r"Paper: \d+ PDFs, [0-9.]+ MB: \d+ set, 0 kept from before, in [0-9.]+ s", result.output)


def test_two_lists_of_parts_never_share_a_key() -> None:
    keys = {paper_shelf.key_of(parts) for parts in (["ab", "c"], ["a", "bc"], ["abc"], ["abc", ""])}
    assert len(keys) == 4


def test_a_shelf_without_a_list_has_none(tmp_path: Path) -> None:
    assert Shelf(tmp_path / "nowhere").listed("0") is None
