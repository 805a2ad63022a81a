"""Pictures on paper: the right way up, in their proportions, with every mark where the author put it."""

from __future__ import annotations

import io

import numpy
import pytest
from numpy.lib.stride_tricks import sliding_window_view
from PIL import Image
from tests.paper.sheets import made_subject, pictures_of

from benchleaf.paper.picture_size import picture_size
from benchleaf.paper.procedure import PICTURE_HIGH, PICTURE_WIDE, sheet

WIDE, HIGH = 600, 300


def jpeg(turned: int) -> bytes:
    """A camera's picture, noted to be shown turned; red at the top left of what is stored."""
    picture = Image.new("RGB", (WIDE, HIGH), (200, 200, 200))
    picture.paste((255, 0, 0), (0, 0, 150, 75))
    exif = Image.Exif()
    exif[0x0112] = turned  # Exif 2.3, 4.6.4: orientation
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif, quality=95)
    return out.getvalue()


# Exif 2.3, 4.6.4: 5 to 8 stand on their side.
@pytest.mark.parametrize(("turned", "size"), [(1, (600, 300)), (3, (600, 300)), (6, (300, 600)), (8, (300, 600))])
def test_a_jpeg_has_the_size_it_is_shown_in(turned: int, size: tuple[int, int]) -> None:
    assert picture_size(jpeg(turned)) == size


@pytest.mark.parametrize(
    ("root", "size"),
    [
        ('viewBox="0 0 960 640"', (960, 640)),
        ('width="30mm" height="20mm" viewBox="0 0 3 9"', (30, 20)),
        ('viewBox="-4,-4 12.5 8" width="100%"', (12.5, 8)),
        ('stroke-width="3" viewBox="0 0 40 10"', (40, 10)),
        ("", None),
        ('viewBox="0 0 0 0"', None),
    ],
)
def test_an_svg_has_the_size_it_says(root: str, size: tuple[float, float] | None) -> None:
    assert picture_size(f'<svg xmlns="http://www.w3.org/2000/svg" {root}><rect/></svg>'.encode()) == size


def test_what_is_no_picture_has_no_size() -> None:
    assert picture_size(b"") is None
    assert picture_size(b"\xff\xd8\xff\xe1\x00\x02") is None


FILES = {
    "shop.yaml": "record: shop\nname: Shop\n",
    "lc/machine.yaml": "record: machine\nid: lc\nname: Plover\nitems: {frame: Frame, lid: Lid}\n",
    "lc/teardown/look.yaml": (
        "record: teardown\nid: look\ntitle: Look\nmachine: lc\nsteps:\n  - title: Look at it\n    do: [inspect: lid]\n"
        "    photos: [{file: lid.svg, shows: The lid, marks: [{at: [0.25, 0.75], is: lid}]}]\n"
    ),
}


@pytest.mark.parametrize("turned", [1, 6])
def test_a_mark_lies_on_the_picture_as_it_is_shown(turned: int) -> None:
    """The grey of the picture and the black ring of its mark are looked for on the page, in millimetres."""
    dpi = 150
    subject = made_subject(FILES, "look", ("lc/photos/lid.svg",))
    made = sheet(subject, lambda path: jpeg(turned))
    (picture,) = made.data["steps"][0]["pictures"]
    assert picture["width"] <= PICTURE_WIDE and picture["height"] <= PICTURE_HIGH + 0.01
    for page in pictures_of(made, dpi):
        grey = numpy.abs(numpy.asarray(page).astype(int) - 200) < 3
        solid = sliding_window_view(grey, (9, 9)).all(axis=(2, 3))  # letters have a grey edge, never a grey ground
        if solid.sum() > 20_000:
            rows, columns = solid.any(axis=1).nonzero()[0], solid.any(axis=0).nonzero()[0]
            box = page.crop((columns[0], rows[0], columns[-1] + 9, rows[-1] + 9))
            break
    scale = 25.4 / dpi
    assert abs(box.width * scale - picture["width"]) < 0.4
    assert abs(box.height * scale - picture["height"]) < 0.4
    white = numpy.asarray(box) > 245
    rows, columns = white.any(axis=1).nonzero()[0], white.any(axis=0).nonzero()[0]
    assert abs((columns[0] + columns[-1]) / 2 / box.width - 0.25) < 0.02
    assert abs((rows[0] + rows[-1]) / 2 / box.height - 0.75) < 0.02
