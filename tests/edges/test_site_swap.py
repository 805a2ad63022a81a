"""The last good site stays whole: when a build fails, when it is stopped, where folders cannot be exchanged."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchleaf.edges import site_swap
from benchleaf.edges.site_swap import (
    PathRefused,
    close_stage,
    has_file,
    open_stage,
    recover,
    refuse_clashes,
    swap_in,
    undo,
    write_file,
)


@pytest.fixture(params=["exchange", "two renames"])
def site(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    if request.param == "two renames":
        monkeypatch.setattr(site_swap, "_exchange", lambda one, other: False)
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "index.html").write_text("old")
    return folder


def read(site: Path) -> str:
    return (site / "index.html").read_text()


def beside(site: Path) -> list[str]:
    return sorted(entry.name for entry in site.parent.iterdir() if entry != site)


def test_the_new_site_takes_the_place_of_the_old_one_and_leaves_nothing_beside_it(site: Path) -> None:
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    write_file(stage, "item/lc30/a1.html", b"item")
    assert read(site) == "old"
    swap_in(stage)
    assert read(site) == "new"
    close_stage(stage)
    assert (read(site), beside(site)) == ("new", [])
    assert (site / "item/lc30/a1.html").read_text() == "item"


def test_undo_after_the_swap_brings_the_old_site_back(site: Path) -> None:
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    swap_in(stage)
    undo(stage)
    assert (read(site), beside(site)) == ("old", [])


def test_undo_before_the_swap_leaves_the_old_site(site: Path) -> None:
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    undo(stage)
    assert (read(site), beside(site)) == ("old", [])


def test_a_first_site_that_fails_leaves_no_site(tmp_path: Path) -> None:
    stage = open_stage(tmp_path / "site")
    write_file(stage, "index.html", b"new")
    swap_in(stage)
    undo(stage)
    assert list(tmp_path.iterdir()) == []


def test_a_stop_between_the_two_renames_brings_the_old_site_back_at_once(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(site_swap, "_exchange", lambda one, other: False)
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    rename, calls = Path.rename, []

    def stopped(self: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == 2:
            raise KeyboardInterrupt
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", stopped)
    with pytest.raises(KeyboardInterrupt):
        swap_in(stage)
    assert not site.exists()
    close_stage(stage)
    assert (read(site), beside(site)) == ("old", [])


def test_recover_brings_back_a_site_that_a_killed_build_had_moved_away(tmp_path: Path) -> None:
    (tmp_path / ".site.old-1").mkdir()
    (tmp_path / ".site.old-1" / "index.html").write_text("old")
    (tmp_path / ".site.new-1").mkdir()
    assert recover(tmp_path / "site") == (".site.old-1", ".site.new-1")
    assert (read(tmp_path / "site"), beside(tmp_path / "site")) == ("old", [])


def test_recover_touches_no_other_folder(site: Path) -> None:
    for name in (".site2.new-1", ".sitemap", "site.old-1"):
        (site.parent / name).mkdir()
    assert recover(site) == ()
    assert beside(site) == [".site2.new-1", ".sitemap", "site.old-1"]


def test_recover_leaves_the_folder_of_a_living_build_alone(site: Path) -> None:
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    assert recover(site) == ()
    swap_in(stage)
    close_stage(stage)
    assert read(site) == "new"


def test_hidden_files_in_a_site_go_along_as_mkdocs_keeps_them(site: Path) -> None:
    (site / ".git").mkdir()
    (site / ".git" / "HEAD").write_text("ref")
    (site / ".nojekyll").write_text("")
    (site / "stale.html").write_text("old")
    stage = open_stage(site)
    write_file(stage, "index.html", b"new")
    swap_in(stage)
    close_stage(stage)
    assert sorted(str(p.relative_to(site)) for p in site.rglob("*") if p.is_file()) == [
        ".git/HEAD", ".nojekyll", "index.html",
    ]  # fmt: skip


def test_a_site_that_is_a_link_stays_a_link(tmp_path: Path) -> None:
    real = tmp_path / "www" / "manual"
    real.mkdir(parents=True)
    (real / "index.html").write_text("old")
    link = tmp_path / "site"
    link.symlink_to(real)
    stage = open_stage(link)
    write_file(stage, "index.html", b"new")
    swap_in(stage)
    close_stage(stage)
    assert link.is_symlink()
    assert read(real) == "new"


@pytest.mark.parametrize(
    "path",
    ["../out.html", "/etc/out.html", "a/../../out.html", "a//b.html", "./a.html", "a\\b.html", "c:/a", "a\n.html", ""],
)
def test_nothing_is_written_outside_the_site(tmp_path: Path, path: str) -> None:
    stage = open_stage(tmp_path / "below" / "site")
    with pytest.raises(PathRefused):
        write_file(stage, path, b"x")
    close_stage(stage)
    assert list(tmp_path.rglob("*")) == [tmp_path / "below"]


def test_a_link_within_the_stage_leads_nowhere(tmp_path: Path) -> None:
    stage = open_stage(tmp_path / "site")
    (tmp_path / "elsewhere").mkdir()
    (stage.folder / "out").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(PathRefused):
        write_file(stage, "out/page.html", b"x")
    assert list((tmp_path / "elsewhere").iterdir()) == []
    close_stage(stage)


def test_two_files_for_one_path_are_refused_capitals_or_not(tmp_path: Path) -> None:
    stage = open_stage(tmp_path / "site")
    write_file(stage, "item/A1.html", b"x")
    for path in ("item/A1.html", "item/a1.html"):
        with pytest.raises(PathRefused):
            write_file(stage, path, b"y")
    close_stage(stage)


def test_two_names_that_differ_by_capitals_and_were_written_apart_are_refused_at_the_end(tmp_path: Path) -> None:
    stage = open_stage(tmp_path / "site")
    write_file(stage, "item/a1.html", b"one")
    refuse_clashes(stage)
    (stage.folder / "item" / "A1.html").write_bytes(b"as another process writes it")
    with pytest.raises(PathRefused, match=r"'item/a1\.html' is already taken by 'item/A1\.html'"):
        refuse_clashes(stage)
    close_stage(stage)


def test_a_file_is_there_once_it_is_written_and_nothing_outside_ever_is(tmp_path: Path) -> None:
    (tmp_path / "outside.html").write_text("not of the site")
    stage = open_stage(tmp_path / "site")
    write_file(stage, "item/a1.html", b"one")
    assert has_file(stage, "item/a1.html")
    for path in ("item", "item/a2.html", "", "../outside.html", "item/../../outside.html"):
        assert not has_file(stage, path)
    close_stage(stage)
