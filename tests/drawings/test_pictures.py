"""The demo's pictures: what the records name is there, is what the script draws, and says that it is a drawing."""

from __future__ import annotations

import importlib.util
import re
import xml.etree.ElementTree as ET
from pathlib import Path
from types import ModuleType

import pytest

from benchleaf.drawings.sketch import HONEST

CONTENT = Path(__file__).parents[2] / "content"


def load() -> ModuleType:
    found = importlib.util.spec_from_file_location("draw_pictures", CONTENT / "draw_pictures.py")
    assert found is not None and found.loader is not None
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    return module


SCRIPT = load()
NAMES = sorted(SCRIPT.PICTURES)


def named_by_records() -> set[str]:
    named = set()
    for record in sorted(CONTENT.glob("*/teardown/*.yaml")):
        machine = record.parts[-3]
        named |= {
            f"{machine}/photos/{file}"
            for file in re.findall(r"file: ([\w-]+\.svg)", record.read_text(encoding="utf-8"))
        }
    return named


def test_the_script_draws_the_pictures_the_records_name_and_no_others() -> None:
    assert named_by_records() == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_in_the_folder_is_what_the_script_draws(name: str) -> None:
    assert (CONTENT / name).read_text(encoding="utf-8") == SCRIPT.PICTURES[name]()


@pytest.mark.parametrize("name", NAMES)
def test_every_picture_says_what_it_shows_and_that_it_is_a_drawing(name: str) -> None:
    root = ET.fromstring((CONTENT / name).read_text(encoding="utf-8"))
    lettered = ["".join(e.itertext()) for e in root.iter() if e.tag.endswith("}text")]
    assert HONEST in lettered
    assert (root[1].text or "").startswith(HONEST)
    machine = name.split("/")[0]
    records = "".join(f.read_text(encoding="utf-8") for f in sorted((CONTENT / machine / "teardown").iterdir()))
    assert (root[0].text or "") in records


@pytest.mark.parametrize("name", NAMES)
def test_every_letter_stays_inside_the_picture(name: str) -> None:
    root = ET.fromstring((CONTENT / name).read_text(encoding="utf-8"))
    for text in (e for e in root.iter() if e.tag.endswith("}text")):
        size, words = float(text.get("font-size", "0")), "".join(text.itertext())
        wide = len(words) * size * 0.52  # a usual sans face
        shift = {"middle": wide / 2, "end": wide}.get(text.get("text-anchor", ""), 0.0)
        left = float(text.get("x", "0")) - shift
        assert left >= 0 and left + wide <= 960, words
        assert size <= float(text.get("y", "0")) <= 640 or float(text.get("y", "0")) == 0, words


@pytest.mark.parametrize("name", NAMES)
def test_pictures_have_paper_of_their_own_and_no_style(name: str) -> None:
    root = ET.fromstring((CONTENT / name).read_text(encoding="utf-8"))
    ground = next(e for e in root.iter() if e.tag.endswith("}rect"))
    assert (ground.get("width"), ground.get("height"), ground.get("fill")) == ("960", "640", "#ffffff")
    assert not any("style" in e.attrib or "id" in e.attrib for e in root.iter())
