"""Every check finds what its case plants, and only that.

A case is a file in ``tests/cases/<code>/``. Parts that begin with ``==> path`` are files of a small library laid over
the sound one in ``tests/cases/sound.txt``; lines ``# expect: code at file:line:col`` say what must be found (``code``
alone: anywhere). A case without such a line must find nothing of its check.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from benchleaf.checks import CHECKS
from benchleaf.explanations import explanations
from benchleaf.pipeline import check_sources
from benchleaf.source import AssetInfo, Source

CASES = Path(__file__).parents[1] / "cases"
_PART = re.compile(r"^==> (\S+)\n", re.MULTILINE)
_EXPECT = re.compile(r"# expect: ([a-z-]+)(?: at (\S+))?\s*$", re.MULTILINE)


def files_in(text: str) -> dict[str, str]:
    parts = _PART.split(text)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def case_files() -> list[Path]:
    return sorted(path for path in CASES.glob("*/*.txt"))


def findings_of(text: str) -> list[tuple[str, str]]:
    files = {**files_in((CASES / "sound.txt").read_text(encoding="utf-8")), **files_in(text)}
    sources = [Source(path, body) for path, body in files.items() if body.strip() and not path.endswith(".svg")]
    assets = [AssetInfo(path, len(body), "svg") for path, body in files.items() if path.endswith(".svg")]
    return [(one.code, str(one.place)) for one in check_sources(sources, assets).findings]


def test_the_sound_library_has_no_finding() -> None:
    assert findings_of("") == []


@pytest.mark.parametrize("path", case_files(), ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_case_finds_what_it_plants(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = findings_of(text)
    expected = _EXPECT.findall(text)
    for code, place in expected:
        hits = [where for one, where in found if one == code]
        assert hits, f"{code} was not found; found {found}"
        assert not place or place in hits, f"{code} was found at {hits}, not at {place}"
    codes = {code for code, _ in expected}
    mine = {code for check in CHECKS if path.parent.name in check.codes for code in check.codes} | {path.parent.name}
    assert not [one for one in found if one[0] in mine - codes], f"not expected: {found}"


def test_every_code_of_every_check_has_a_case() -> None:
    planted = {code for path in case_files() for code, _ in _EXPECT.findall(path.read_text(encoding="utf-8"))}
    codes = {code for check in CHECKS for code in check.codes}
    assert codes - planted == set()


def test_every_code_of_every_check_is_explained() -> None:
    pages = explanations()
    for check in CHECKS:
        assert all(len(pages[code]) > 60 for code in check.codes)
