"""Every page of the demo: well formed, every link and fragment there, every record on a page."""

from __future__ import annotations

import posixpath

import pytest
from tests.pages.library import CONTENT, demo, demo_html, demo_manual, demo_pages, tree

from benchleaf.pages.page_kinds import PAGE_KINDS
from benchleaf.render import THEME_FOLDER

FROM_MKDOCS = ("articles/", "404.html")
THEME_FILES = ("css/", "js/", "img/leaf.png", "search/")


def ids(path: str) -> list[str]:
    return [element.get("id") for element in tree(path).iter() if element.get("id")]


def test_every_page_is_strict_html_with_ids_used_once() -> None:
    for path in demo_html():
        found = ids(path)
        assert len(found) == len(set(found)), (path, [one for one in found if found.count(one) > 1][:3])


def test_no_link_and_no_fragment_is_dead() -> None:
    assets = {asset.path for asset in demo_manual().assets}
    known = {path: set(ids(path)) for path in demo_html()}
    articles = {path.removesuffix(".md") + ".html" for path in demo().derived.library.articles}
    for path in demo_html():
        for element in tree(path).iter():
            for key in ("href", "src", "action"):
                address = element.get(key)
                if not address or address.startswith(("http://", "https://")):
                    continue
                target, _, fragment = address.partition("#")
                target = target.partition("?")[0]
                where = posixpath.normpath(posixpath.join(posixpath.dirname(path), target)) if target else path
                if where in known:
                    assert not fragment or fragment in known[where], (path, address)
                else:
                    assert where in assets or where in articles or where.startswith(THEME_FILES), (path, address)
    assert articles


def test_every_demo_record_has_its_page() -> None:
    library = demo().derived.library
    text = {path: html.decode() for path, html in demo_html().items()}
    everything = "\n".join(text.values())
    for machine in library.machines.values():
        for record in machine.records():
            assert f"{record.place.file}:{max(record.place.line, 1)}" in everything
    records = text["records.html"]
    files = {p.relative_to(CONTENT).as_posix() for p in CONTENT.rglob("*") if p.suffix in (".yaml", ".md")}
    shown = {file for file in files if f"{file}:" in everything}
    assert files - shown == {"tools.yaml", "supplies.yaml", "safety.yaml", "glossary.yaml"} - shown
    for machine in library.machines.values():
        for one in (*machine.procedures.values(), *machine.codes.values(), *machine.symptoms.values()):
            assert one.place.file in records


def test_every_page_kind_has_its_module_its_template_and_a_page_in_the_demo() -> None:
    made = {page.kind for page in demo_pages().values()}
    assert made == {kind.name for kind in PAGE_KINDS}
    for page in demo_pages().values():
        assert (CONTENT.__class__(THEME_FOLDER) / page.template).is_file()
    own = {page.template for page in demo_pages().values()} - {"pages/list.html"}
    assert {f"pages/{page.kind}.html" for page in demo_pages().values() if page.template in own} == own


def test_every_kind_module_is_in_the_table() -> None:
    import benchleaf.pages.kinds as package

    folder = CONTENT.__class__(package.__file__).parent
    assert {path.stem for path in folder.glob("*.py")} - {"__init__"} == {kind.name for kind in PAGE_KINDS}


@pytest.mark.parametrize("kind", [kind.name for kind in PAGE_KINDS])
def test_a_page_made_from_one_record_says_which(kind: str) -> None:
    shared = {"find", "codes", "symptoms", "safety", "tools", "supplies", "articles", "records"}
    pages = [page for page in demo_pages().values() if page.kind == kind]
    of_machines = [page for page in pages if page.path.startswith("machine/")]
    for page in of_machines if kind not in shared else ():
        record = page.context["record"]
        assert record is not None and record.file and record.line >= 1, page.path
        assert f"{record.file}:{record.line}" in demo_html()[page.path].decode()
