"""Whatever an author types stays text: no tag, no attribute, no script, no link and no template comes of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import html5lib
import pytest
from tests.pages.hostile import NASTY, library
from tests.pages.library import checked

from benchleaf.pages.page import Manual
from benchleaf.render import make_environment, render_page
from benchleaf.site import manual_of

TAGS = {
    *(
        "html",
        "head",
        "meta",
        "title",
        "link",
        "script",
        "body",
        "a",
        "header",
        "nav",
        "main",
        "footer",
        "section",
        "aside",
    ),
    *(
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "p",
        "ul",
        "ol",
        "li",
        "dl",
        "dt",
        "dd",
        "div",
        "span",
        "strong",
        "em",
        "code",
    ),
    *(
        "pre",
        "blockquote",
        "q",
        "br",
        "hr",
        "table",
        "caption",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "figure",
        "figcaption",
    ),
    *("img", "svg", "path", "circle", "rect", "line", "polygon", "polyline", "ellipse", "g", "text", "tspan", "desc"),
    *("details", "summary", "form", "fieldset", "legend", "label", "input", "button", "data", "time", "noscript", "hr"),
}


@pytest.fixture(scope="module")
def hostile() -> dict[str, Any]:
    manual = hostile_manual()
    env = make_environment(manual.frame)
    return {
        page.path: html5lib.HTMLParser(strict=False, namespaceHTMLElements=False).parse(render_page(page, env))
        for page in manual.pages
    }


def hostile_manual(content: Path = Path()) -> Manual:
    found = checked(library(), ("m1/photos/a.svg",))
    assert not found.has_errors, [finding for finding in found.findings if finding.is_error]
    return manual_of(found, content)


def test_no_tag_and_no_attribute_comes_of_any_text(hostile: dict[str, Any]) -> None:
    assert len(hostile) > 30
    for path, tree in hostile.items():
        for element in tree.iter():
            if not isinstance(element.tag, str):
                continue
            assert element.tag.rpartition("}")[2] in TAGS, (path, element.tag)
            assert not [key for key in element.attrib if key.startswith("on") or key == "style"], path
            if element.tag == "script":
                assert element.get("src", "").endswith(".js") and not (element.text or "").strip()
            for key in ("href", "src", "action"):
                assert not element.get(key, "").lower().startswith(("javascript", "data", "vbscript")), path


def test_pictures_are_only_those_of_the_record_and_signs(hostile: dict[str, Any]) -> None:
    for path, tree in hostile.items():
        for image in tree.iter("img"):
            assert image.get("src").endswith((".svg", ".png", ".jpg", ".webp")), path
            assert "photos/" in image.get("src") or "img/signs/" in image.get("src"), path


def test_the_text_itself_is_there_to_be_read(hostile: dict[str, Any]) -> None:
    mark = "<b onmouseover=window.ran=1>{{7*7}}</b>"
    silent = [path for path, tree in hostile.items() if mark not in "".join(tree.itertext())]
    assert silent == []
    assert mark in NASTY


def test_no_page_lies_outside_its_folder(hostile: dict[str, Any]) -> None:
    for path in hostile:
        assert ".." not in path and not path.startswith("/")
        assert all(part and part.replace("-", "").replace(".", "").isalnum() for part in path.split("/")), path
