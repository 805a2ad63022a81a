"""The drawing program: found beside Python, never on PATH; trouble comes back in words; pictures are kept."""

from __future__ import annotations

import stat
import sys
from pathlib import Path

import pytest

from benchleaf.drawings.interconnection import Box, Link, interconnection
from benchleaf.edges import graphviz_edge
from benchleaf.edges.graphviz_edge import Folder, content_key, draw, find_program

DIAGRAM = interconnection(
    "LC30", (Box(id="A1", connectors=("A1-J1",)), Box(id="M1")), (Link(cable="W3", ends=("A1-J1", "M1")),)
)


def program(folder: Path, body: str) -> Path:
    """A small program of our own that stands in for the drawing program."""
    path = folder / "stand-in"
    path.write_text(f"#!{sys.executable}\nimport sys, time, os\n{body}\n", encoding="utf-8")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return path


def test_it_draws_with_path_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    made = draw(DIAGRAM)
    assert made.problem == ""
    assert made.drawing is not None and "<svg" in made.drawing.svg


def test_it_never_takes_a_program_from_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fake = tmp_path / "bin"
    fake.mkdir()
    for name in ("graphviz-pure", "dot"):
        (program(fake, "print('<svg>from PATH</svg>')")).rename(fake / name)
    monkeypatch.setenv("PATH", str(fake))
    found = find_program()
    assert found is not None and fake not in found.parents
    drawing = draw(DIAGRAM).drawing
    assert drawing is not None and "from PATH" not in drawing.svg


def test_a_missing_program_is_said_with_the_remedy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    monkeypatch.setattr(graphviz_edge.sysconfig, "get_path", lambda name: str(tmp_path))
    made = draw(DIAGRAM)
    assert made.drawing is None
    assert "pip install" in made.problem and "LC30" in made.problem


def test_the_same_diagram_gives_the_same_bytes_wherever_it_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = draw(DIAGRAM).drawing
    for name, value in (
        ("TZ", "Asia/Tokyo"),
        ("LC_ALL", "de_DE.UTF-8"),
        ("GVBINDIR", "/nowhere"),
        ("DOTFONTPATH", "/"),
    ):
        monkeypatch.setenv(name, value)
    monkeypatch.chdir(tmp_path)
    assert draw(DIAGRAM).drawing == first


def test_a_program_that_hangs_is_stopped_and_said(tmp_path: Path) -> None:
    made = draw(DIAGRAM, program=program(tmp_path, "time.sleep(60)"), timeout=0.3)
    assert made.drawing is None and "longer than 0.3 s" in made.problem


def test_a_program_that_fails_is_said_in_its_own_words(tmp_path: Path) -> None:
    made = draw(DIAGRAM, program=program(tmp_path, "sys.exit('syntax error in line 3')"))
    assert made.drawing is None and "syntax error in line 3" in made.problem


def test_an_answer_that_is_no_picture_is_said(tmp_path: Path) -> None:
    made = draw(DIAGRAM, program=program(tmp_path, "print('not a picture')"))
    assert made.drawing is None and "did not write an SVG" in made.problem


def test_a_file_that_is_no_program_is_said(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.write_text("x", encoding="utf-8")
    made = draw(DIAGRAM, program=plain)
    assert made.drawing is None and "does not start" in made.problem


def test_the_program_is_asked_with_none_of_the_readers_settings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SECRET", "1")
    asked = program(tmp_path, "sys.exit('settings: ' + ' '.join(sorted(k for k in os.environ if k != 'LC_CTYPE')))")
    assert "SECRET" not in draw(DIAGRAM, program=asked).problem


def test_a_kept_picture_is_used_and_no_program_runs(tmp_path: Path) -> None:
    cache = Folder(tmp_path / "cache")
    first = draw(DIAGRAM, key="machine lc30", cache=cache)
    again = draw(DIAGRAM, key="machine lc30", cache=cache, program=tmp_path / "missing")
    assert first == again and again.drawing is not None
    assert len(list((tmp_path / "cache").iterdir())) == 1


def test_an_empty_cache_in_memory_is_filled_and_used(tmp_path: Path) -> None:
    class Memory(dict[str, str]):
        def put(self, key: str, text: str) -> None:
            self[key] = text

    cache = Memory()
    first = draw(DIAGRAM, cache=cache)
    assert list(cache) == [content_key(DIAGRAM)]
    assert draw(DIAGRAM, cache=cache, program=tmp_path / "missing") == first


def test_a_changed_key_is_drawn_again(tmp_path: Path) -> None:
    cache = Folder(tmp_path)
    draw(DIAGRAM, key="a", cache=cache)
    assert draw(DIAGRAM, key="b", cache=cache, program=tmp_path / "missing").drawing is None


def test_the_key_of_the_content_changes_with_every_fact() -> None:
    other = interconnection("LC30", (Box(id="A1", connectors=("A1-J1",)), Box(id="M2")), ())
    assert content_key(DIAGRAM) != content_key(other)
    assert content_key(DIAGRAM) == content_key(DIAGRAM)


def test_a_failure_is_not_kept(tmp_path: Path) -> None:
    draw(DIAGRAM, key="a", cache=Folder(tmp_path / "cache"), program=tmp_path / "missing")
    assert not (tmp_path / "cache").exists()


def test_the_whole_picture_is_written_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cache = Folder(tmp_path)
    cache.put("a", "whole")

    def stop(self: Path, target: object) -> Path:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        cache.put("a", "half")
    assert cache.get("a") == "whole"
