"""Pages as bytes: links that work from a folder, prose that stays text, templates that never leave a gap."""

from __future__ import annotations

from pathlib import Path

import html5lib
import jinja2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.browser import gallery

from benchleaf.pages.page import Asset, Frame, Page
from benchleaf.render import is_allowed_address, make_environment, relative_link, render_page


def drawn(template: str, path: str = "item/lc30/a1.html", **context: object) -> str:
    env = make_environment(gallery.FRAME, gallery.FOLDERS)
    env.loader = jinja2.ChoiceLoader([jinja2.DictLoader({"t.html": template}), env.loader])  # type: ignore[list-item]
    return render_page(Page(path=path, template="t.html", title="T", kind="t", context=context), env).decode()


@pytest.mark.parametrize(
    ("here", "target", "address"),
    [
        ("index.html", "item/a1.html", "item/a1.html"),
        ("machine/lc30/index.html", "index.html", "../../index.html"),
        ("machine/lc30/index.html", "machine/lc30/steps/1.html#top", "steps/1.html#top"),
        ("machine/lc30/index.html", "machine/lc30/index.html#live", "#live"),
        ("machine/lc30/index.html", "machine/lc30/index.html", "index.html"),
        ("a/b.html", "find.html?q=E-0417", "../find.html?q=E-0417"),
        ("a/b.html", "#here", "#here"),
    ],
)
def test_a_link_is_relative_to_its_page(here: str, target: str, address: str) -> None:
    assert relative_link(here, target) == address


@pytest.mark.parametrize(
    "target", ["../out.html", "/top.html", "a/../../b.html", "javascript:alert(1)", "//host/x", "a\\b"]
)
def test_a_link_never_leaves_the_manual(target: str) -> None:
    with pytest.raises(ValueError, match="does not lie within"):
        relative_link("a/b.html", target)


@pytest.mark.parametrize(
    ("address", "allowed"),
    [
        ("https://example.org/sds.pdf", True),
        ("http://example.org", True),
        ("articles/solvents.html#ipa", True),
        ("#here", True),
        ("javascript:alert(1)", False),
        ("JaVaScRiPt:alert(1)", False),
        ("data:text/html,x", False),
        ("vbscript:x", False),
        ("file:///etc/passwd", False),
        ("mailto:a@example.org", False),
        ("//example.org/x", False),
        ("/etc/passwd", False),
        ("../../out.html", False),
        ("a/../../out.html", False),
        ("java\tscript:alert(1)", False),
        ("\\\\host\\x", False),
    ],
)
def test_prose_links_to_the_web_or_within_the_manual_only(address: str, allowed: bool) -> None:
    assert is_allowed_address(address) is allowed


def test_raw_html_in_prose_is_shown_as_text() -> None:
    assert drawn("{{ x|prose }}", x="<script>alert(1)</script>\n\nA <b>word</b>") == (
        "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n<p>A &lt;b&gt;word&lt;/b&gt;</p>\n"
    )


def test_a_picture_in_prose_shows_its_words_and_asks_for_nothing() -> None:
    shown = drawn("{{ x|prose }}", x='![a <tray>](https://example.org/t.png "t")')
    assert shown == "<p>a &lt;tray&gt;</p>\n"


def test_a_refused_link_stays_text() -> None:
    shown = drawn("{{ x|prose }}", x="[press](javascript:alert(1)) [out](../../x.html)")
    assert "<a" not in shown
    assert "press" in shown


def test_prose_links_start_at_the_top_of_the_manual_and_leave_it_marked() -> None:
    shown = drawn("{{ x|phrase }}", x="[a](articles/ipa.html) [b](https://example.org)")
    assert shown == (
        '<a href="../../articles/ipa.html">a</a> <a href="https://example.org" rel="external noopener noreferrer">b</a>'
    )


def test_headings_in_prose_come_below_the_heading_of_the_page() -> None:
    assert drawn("{{ x|prose(3) }}", x="# One\n\n##### Five") == "<h4>One</h4>\n<h6>Five</h6>\n"


def test_everything_printed_is_escaped() -> None:
    assert (
        drawn("<p title='{{ x }}'>{{ x }}</p>", x="<'\">&")
        == "<p title='&lt;&#39;&#34;&gt;&amp;'>&lt;&#39;&#34;&gt;&amp;</p>"
    )


def test_a_name_that_nobody_gave_is_an_error_and_not_a_gap() -> None:
    with pytest.raises(jinja2.UndefinedError, match="torque"):
        drawn("{{ torque }}")


def test_ids_made_on_one_page_differ_and_start_again_on_the_next() -> None:
    assert drawn("{{ unique('a') }} {{ unique('a') }} {{ unique('b') }}") == "a-1 a-2 b-1"
    assert drawn("{{ unique('a') }}") == "a-1"


@pytest.mark.parametrize("page", [gallery.gallery_page(), gallery.bench_page()], ids=lambda page: page.kind)
def test_shared_drawings_are_strict_html_with_ids_used_once(page: Page) -> None:
    env = make_environment(gallery.FRAME, gallery.FOLDERS)
    text = render_page(page, env).decode()
    assert render_page(page, make_environment(gallery.FRAME, gallery.FOLDERS)).decode() == text
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    named = [e.get(key) for e in tree.iter() for key in ("for", "aria-labelledby", "popovertarget") if e.get(key)]
    assert named and set(named) <= set(ids)


def test_no_page_has_inline_script_or_style_or_asks_another_host() -> None:
    env = make_environment(gallery.FRAME, gallery.FOLDERS)
    for page in (gallery.gallery_page(), gallery.bench_page()):
        tree = html5lib.parse(render_page(page, env), namespaceHTMLElements=False)
        policy = next(e.get("content") for e in tree.iter("meta") if e.get("http-equiv") == "Content-Security-Policy")
        assert policy.startswith("default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self';")
        assert "unsafe" not in policy and "data:" not in policy and "connect-src" not in policy
        for element in tree.iter():
            if not isinstance(element.tag, str):
                continue
            assert element.tag != "style"
            assert not [key for key in element.attrib if key == "style" or key.startswith("on")]
            if element.tag == "script":
                assert element.get("src") and not (element.text or "").strip()
            for key in ("src", "action") + (("href",) if element.tag == "link" else ()):
                assert ":" not in element.get(key, "")


def test_the_frame_changes_for_a_server_only() -> None:
    env = make_environment(Frame(name="M", serving=True), gallery.FOLDERS)
    text = render_page(gallery.bench_page(), env).decode()
    assert "connect-src 'self'" in text and "js/reload.js" in text


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=60))
def test_no_text_becomes_markup(words: str) -> None:
    tree = html5lib.parse(
        drawn("<body>{{ x }}<i title='{{ x }}'></i>{{ x|prose }}</body>", x=words), namespaceHTMLElements=False
    )
    allowed = {
        *(
            "html",
            "head",
            "body",
            "i",
            "p",
            "em",
            "strong",
            "code",
            "pre",
            "blockquote",
            "ul",
            "ol",
            "li",
            "hr",
            "br",
            "a",
        ),
        *(f"h{n}" for n in range(1, 7)),
    }
    assert {e.tag for e in tree.iter()} <= allowed
    for element in tree.iter("a"):
        assert is_allowed_address(element.get("href"))


def test_an_asset_has_bytes_or_a_file_and_not_both() -> None:
    with pytest.raises(ValueError, match="either"):
        Asset(path="a.svg")
    with pytest.raises(ValueError, match="either"):
        Asset(path="a.svg", data=b"", source="a.svg")


def test_macros_are_made_ready_once_a_page_whoever_imports_them(tmp_path: Path) -> None:
    macros = tmp_path / "macros"
    macros.mkdir()
    (macros / "inner.html").write_text("{{ made() }}{% macro at() %}{{ page.path }}{% endmacro %}")
    for name in ("one", "two"):
        (macros / f"{name}.html").write_text(
            "{% import 'macros/inner.html' as inner with context %}{% macro here() %}{{ inner.at() }}{% endmacro %}"
        )
    (tmp_path / "page.html").write_text(
        "{% import 'macros/one.html' as one with context %}{% import 'macros/two.html' as two with context %}"
        "{{ one.here() }} {{ two.here() }}"
    )
    env = make_environment(Frame(name="Manual"), (str(tmp_path),))
    times: list[str] = []
    env.globals["made"] = lambda: times.append("made") or ""
    pages = [Page(kind="step", path=path, title="x", template="page.html", context={}) for path in ("a", "b")]
    shown = [render_page(one, env) for one in pages]
    assert shown == [b"a a", b"b b"]
    assert len(times) == 2
