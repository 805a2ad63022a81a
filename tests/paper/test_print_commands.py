"""``benchleaf print`` and ``benchleaf pack``: what they write, and what they refuse with words."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner, Result
from tests.paper.sheets import CONTENT, pages_of

from benchleaf.cli import main

RECORDS = {
    "shop.yaml": "record: shop\nname: Shop\n",
    "lc/machine.yaml": "record: machine\nid: lc\nname: Plover\nitems: {frame: Frame, lid: Lid}\n",
    "lc/teardown/look.yaml": (
        "record: teardown\nid: look\ntitle: Look inside\nmachine: lc\nsteps:\n  - title: Look at the lid\n"
        "    do: [inspect: lid]\n    photos: [{file: lid.svg}]\n"
    ),
}
PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="64" height="40"><rect width="64" height="40"/></svg>'


def written(folder: Path, changed: dict[str, str] | None = None) -> Path:
    for name, text in (RECORDS | {"lc/photos/lid.svg": PICTURE} | (changed or {})).items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder / "content"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_print_writes_a_pdf(tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"
    result = run("print", "lc/look", "--content", written(tmp_path), "-o", out)
    assert result.exit_code == 0, result.output
    assert "Look at the lid" in " ".join(pages_of(out.read_bytes()))


def test_print_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    content = written(tmp_path)
    for name in ("one.pdf", "two.pdf"):
        assert run("print", "lc/look", "--content", content, "-o", tmp_path / name).exit_code == 0
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


def test_a_picture_without_words_gets_those_of_its_step(tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"
    result = run("print", "lc/look", "--content", written(tmp_path), "-o", out)
    assert result.exit_code == 0, result.output
    assert "Picture for step 1: Look at the lid" in " ".join(pages_of(out.read_bytes()))


def test_letter_paper_is_letter_paper(tmp_path: Path) -> None:
    import pypdf

    out = tmp_path / "out.pdf"
    assert run("print", "lc/look", "--content", written(tmp_path), "--paper", "letter", "-o", out).exit_code == 0
    box = pypdf.PdfReader(out).pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == (612, 792)  # 8.5 × 11 in at 72 points an inch


def test_a_script_the_fonts_have_not_is_refused_with_its_place(tmp_path: Path) -> None:
    content = written(tmp_path, {"lc/teardown/look.yaml": RECORDS["lc/teardown/look.yaml"].replace("inside", "里面")})
    result = run("print", "lc/look", "--content", content, "-o", tmp_path / "out.pdf")
    assert result.exit_code == 1
    assert "lc/teardown/look.yaml:3" in result.output
    assert not (tmp_path / "out.pdf").exists()


def test_a_link_where_the_pdf_goes_is_refused(tmp_path: Path) -> None:
    target = tmp_path / "elsewhere.pdf"
    (tmp_path / "out.pdf").symlink_to(target)
    result = run("print", "lc/look", "--content", written(tmp_path), "-o", tmp_path / "out.pdf")
    assert result.exit_code == 2
    assert "is a link" in result.output
    assert not target.exists()


def test_a_picture_that_leads_out_of_the_folder_stops_the_print(tmp_path: Path) -> None:
    content = written(tmp_path)
    secret = tmp_path / "secret.svg"
    secret.write_text(PICTURE)
    (content / "lc/photos/lid.svg").unlink()
    (content / "lc/photos/lid.svg").symlink_to(secret)
    result = run("print", "lc/look", "--content", content, "-o", tmp_path / "out.pdf")
    assert result.exit_code == 2
    assert "benchleaf check" in result.output


def test_a_broken_picture_is_said_and_never_a_crash(tmp_path: Path) -> None:
    content = written(tmp_path, {"lc/photos/lid.svg": "<svg xmlns='http://www.w3.org/2000/svg'><rect"})
    result = run("print", "lc/look", "--content", content, "-o", tmp_path / "out.pdf")
    assert result.exit_code == 2
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "lc/teardown/look.yaml:8:21: error[not-printed]" in result.output
    assert "svg" in result.output.lower()


def test_an_unknown_variant_is_refused_with_those_there_are(tmp_path: Path) -> None:
    result = run("print", "fp420/make-dead", "--content", CONTENT, "--variant", "mk9", "-o", tmp_path / "out.pdf")
    assert result.exit_code == 2
    assert "mk1, mk2" in result.output


def test_variant_and_serial_together_are_refused(tmp_path: Path) -> None:
    result = run(
        "print",
        "fp420/make-dead",
        "--content",
        CONTENT,
        "--variant",
        "mk1",
        "--serial",
        "0221",
        "-o",
        tmp_path / "o.pdf",
    )
    assert result.exit_code == 2


def test_pack_writes_every_sheet_that_holds_something_and_names_the_rest(tmp_path: Path) -> None:
    result = run("pack", "lc/look", "--content", written(tmp_path), "-o", tmp_path / "pack")
    assert result.exit_code == 0, result.output
    names = {path.name for path in (tmp_path / "pack").iterdir()}
    assert "look-procedure.pdf" in names
    assert "look-energy-control.pdf" in names
    assert "look-pack.pdf" in names
    assert "look-labels.pdf" not in names
    assert "look-labels is left out. No step opens a recorded cable." in result.output


def test_a_sheet_asked_for_by_name_is_written_even_when_it_holds_nothing(tmp_path: Path) -> None:
    result = run("pack", "lc/look", "--content", written(tmp_path), "--sheet", "labels", "-o", tmp_path / "pack")
    assert result.exit_code == 0, result.output
    assert [path.name for path in (tmp_path / "pack").iterdir()] == ["look-labels.pdf"]


def test_an_unknown_sheet_or_format_is_refused_with_those_there_are(tmp_path: Path) -> None:
    sheet = run("pack", "fp420/make-dead", "--content", CONTENT, "--sheet", "poster", "-o", tmp_path / "pack")
    labels = run("pack", "fp420/make-dead", "--content", CONTENT, "--labels", "a9", "-o", tmp_path / "pack")
    assert (sheet.exit_code, labels.exit_code) == (2, 2)
    assert "job-sheet" in sheet.output and "a4-3x8" in labels.output


def test_pack_of_a_machine_writes_its_sheets_and_all_of_them_as_one(tmp_path: Path) -> None:
    result = run("pack", "bc300", "--content", CONTENT, "-o", tmp_path / "pack")
    assert result.exit_code == 0, result.output
    names = {path.name for path in (tmp_path / "pack").iterdir()}
    assert names == {"bc300-energy-control.pdf", "bc300-labels.pdf", "bc300-ring-out.pdf", "bc300-pack.pdf"}
    whole = pages_of((tmp_path / "pack/bc300-pack.pdf").read_bytes())
    assert "Energy-control sheet: Whole machine" in whole[0]


def test_a_sheet_a_machine_has_not_is_refused_with_those_it_has(tmp_path: Path) -> None:
    result = run("pack", "bc300", "--content", CONTENT, "--sheet", "screw-mat", "-o", tmp_path / "pack")
    assert result.exit_code == 2
    assert "energy-control, labels, ring-out" in result.output
