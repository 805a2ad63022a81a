"""Records and articles become one site, and nothing that goes wrong on the way takes the last good one away."""

from __future__ import annotations

import json
import logging
import subprocess
import sys
from pathlib import Path

import pytest
from mkdocs.exceptions import MkDocsException

from benchleaf import mkdocs_plugin
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.mkdocs_plugin import BenchleafPlugin, build_manual
from benchleaf.pages.page import Asset, Frame, Manual, Page
from benchleaf.source import Source

PLAIN = '{% extends "base.html" %}{% block main %}<h1>{{ title }}</h1>{% endblock %}'
EVENTS = (  # all but those of a server and of an error
    *("startup", "config", "pre_build", "files", "nav", "env", "pre_page", "page_markdown", "page_content"),
    *("page_context", "post_page", "pre_template", "template_context", "post_template", "post_build"),
)


def page(path: str, title: str) -> Page:
    return Page(path=path, template="pages/plain.html", title=title, kind="plain")


def compile_words(content: Path) -> Manual:
    """Stands in for the compiler: the words of a file are the title of every page; some words are an error."""
    words = (content / "words.txt").read_text()
    place = Place("words.txt", 1, 1)
    findings = {
        "wrong": (Finding("bad-word", "'wrong' is not a word", place, help="write another"),),
        "doubtful": (Finding("odd-word", "'doubtful' is odd", place, severity=Severity.WARNING),),
    }.get(words, ())
    pages = [page("index.html", words), page("item/lc30/A1.html", words)]
    pages += [page("item/lc30/a1.html", words)] if words == "twice" else []
    pages += [page("articles/solvents.html", words)] if words == "article" else []
    pages += [page("../out.html", words)] if words == "outside" else []
    assets = [Asset(path="data/words.js", data=words.encode())]
    sources = (Source("words.txt", words),)
    return Manual(frame=Frame(name="Words"), pages=pages, assets=assets, findings=findings, sources=sources)


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(BenchleafPlugin, "compile", staticmethod(compile_words))
    return lay_project(tmp_path)


def lay_project(folder: Path) -> Path:
    files = {
        "content/words.txt": "good",
        "content/lc30/machine.yaml": "record: machine\n",
        "content/lc30/codes/07.md": "---\ncode: '07'\n---\nNot an article.\n",
        "content/lc30/photos/tray.jpg": "a photo",
        "content/articles/solvents.md": "# Solvents\n\nKeep `IPA` away from <b>flames</b>.\n",
        "theme/pages/plain.html": PLAIN,
        "mkdocs.yml": "site_name: Words & more\ndocs_dir: content\ntheme: {name: benchleaf, custom_dir: theme}\n"
        "plugins: [benchleaf]\n",
    }
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)
    return folder


def build(project: Path, words: str | None = None, **options: bool) -> None:
    if words is not None:
        (project / "content/words.txt").write_text(words)
    build_manual(str(project / "mkdocs.yml"), **options)


def tree(site: Path) -> dict[str, bytes]:
    return {str(p.relative_to(site)): p.read_bytes() for p in sorted(site.rglob("*")) if p.is_file()}


def add_hook(project: Path, code: str) -> None:
    (project / "hook.py").write_text(code)
    config = project / "mkdocs.yml"
    config.write_text(config.read_text() + "hooks: [hook.py]\n")


def hidden(project: Path) -> list[str]:
    return sorted(entry.name for entry in project.iterdir() if entry.name.startswith("."))


def test_record_pages_articles_and_the_theme_make_one_site(project: Path) -> None:
    build(project)
    site = tree(project / "site")
    assert b"<h1>good</h1>" in site["item/lc30/A1.html"]
    assert site["data/words.js"] == b"good"
    assert b"<title>Solvents \xc2\xb7 Words</title>" in site["articles/solvents.html"]
    assert {"index.html", "404.html", "css/base.css", "js/look.js"} <= set(site)
    assert hidden(project) == []


def test_records_and_photos_are_not_copied_and_no_sitemap_is_dated(project: Path) -> None:
    build(project)
    names = set(tree(project / "site"))
    assert not {name for name in names if name.startswith("lc30/") or name.endswith((".yaml", ".txt", ".md", ".py"))}
    assert not {name for name in names if name.startswith("sitemap")}


def test_benchleaf_build_and_mkdocs_build_give_the_same_bytes(
    project: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    build(project)
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]);"
        "import test_mkdocs_plugin as t; t.BenchleafPlugin.compile = staticmethod(t.compile_words);"
        "from mkdocs.__main__ import cli; cli(['build', '-q', '-f', sys.argv[2]])"
    )
    other = lay_project(tmp_path_factory.mktemp("other"))
    subprocess.run(
        [sys.executable, "-c", code, str(Path(__file__).parent), str(other / "mkdocs.yml")],
        check=True,
        env={"TZ": "Pacific/Auckland", "PYTHONHASHSEED": "7", "PATH": ""},
    )
    assert tree(other / "site") == tree(project / "site")


def test_a_failing_record_leaves_the_last_good_site(project: Path, caplog: pytest.LogCaptureFixture) -> None:
    build(project)
    before = tree(project / "site")
    with pytest.raises(MkDocsException):
        build(project, "wrong")
    assert tree(project / "site") == before
    assert hidden(project) == []
    assert "words.txt:1:1: error[bad-word]: 'wrong' is not a word\n" in caplog.text
    assert "  help: write another\n" in caplog.text
    assert "1 error, 0 warnings in 1 file\nThe site was left as it was." in caplog.text
    build(project, "better")
    assert b"better" in tree(project / "site")["index.html"]


@pytest.mark.parametrize("event", EVENTS)
def test_another_plugin_that_fails_leaves_the_last_good_site(project: Path, event: str) -> None:
    build(project)
    before = tree(project / "site")
    add_hook(project, f"def on_{event}(*args, **options):\n    raise RuntimeError('on purpose')\n")
    with pytest.raises(RuntimeError, match="on purpose"):
        build(project, "newer")
    assert tree(project / "site") == before
    assert hidden(project) == []


def test_a_plugin_that_fails_after_the_swap_brings_the_last_good_site_back(project: Path) -> None:
    build(project)
    before = tree(project / "site")
    add_hook(
        project,
        "from mkdocs.plugins import event_priority\n"
        "@event_priority(-200)\n"
        "def on_post_build(config):\n"
        "    assert 'newer' in open(config.site_dir + '/index.html').read()\n"
        "    raise RuntimeError('late')\n",
    )
    with pytest.raises(RuntimeError, match="late"):
        build(project, "newer")
    assert tree(project / "site") == before
    assert hidden(project) == []


def test_a_warning_publishes_and_under_strict_does_not(project: Path) -> None:
    build(project, "doubtful")
    assert b"doubtful" in tree(project / "site")["index.html"]
    build(project, "good")
    before = tree(project / "site")
    with pytest.raises(MkDocsException, match="strict"):
        build(project, "doubtful", strict=True)
    assert tree(project / "site") == before


@pytest.mark.parametrize("way", ["exchange", "two renames"])
def test_a_kill_at_any_point_leaves_the_old_site_or_the_new_one_whole(project: Path, way: str) -> None:
    run = subprocess.run(
        [sys.executable, str(Path(__file__).parent / "edges/killed_build.py"), str(project), way],
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    lines = [json.loads(line) for line in run.stdout.splitlines()]
    names = set(lines[0]["site"])
    assert {"articles/solvents.html", "item/1.html", "item/2.html", "data/words.js"} <= names
    last = "build 0"
    for line in lines:
        point, site = line["point"], line["site"]
        assert set(site) == names, point
        words = site["data/words.js"]
        assert words in (last, f"build {point}"), point
        assert all(f">{words} {n}</h1>" in site[f"item/{n}.html"] for n in (1, 2)), point
        assert line["left"] == [], point
        last = words
    missing = sum(not line["whole"] for line in lines)
    assert len(lines) > 20, "too few points to speak of any"
    assert last == f"build {lines[-1]['point']}"
    assert missing <= (0 if way == "exchange" and sys.platform == "linux" else 1)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("twice", "already taken"),
        ("article", "Rename the article"),
        ("outside", "not a path within the site"),
    ],
)
def test_two_pages_for_one_path_and_paths_outside_stop_the_build(
    project: Path, words: str, says: str, caplog: pytest.LogCaptureFixture
) -> None:
    build(project)
    before = tree(project / "site")
    with pytest.raises(MkDocsException):
        build(project, words)
    assert says in caplog.text
    assert tree(project / "site") == before
    assert not (project / "out.html").exists()


def test_other_plugins_work_on_articles_and_may_choose_the_place_of_the_site(project: Path) -> None:
    add_hook(
        project,
        "from mkdocs.plugins import event_priority\n"
        "@event_priority(-50)\n"
        "def on_config(config):\n"
        "    config.site_dir = config.site_dir.rsplit('/', 1)[0] + '/public'\n"
        "def on_page_markdown(markdown, **options):\n"
        "    return markdown + '\\n\\nAdded by another plugin.\\n'\n"
        "def on_post_build(config):\n"
        "    assert open(config.site_dir + '/item/lc30/A1.html').read()\n"
        "    open(config.site_dir + '/extra.txt', 'w').write('theirs')\n",
    )
    build(project)
    site = tree(project / "public")
    assert b"Added by another plugin." in site["articles/solvents.html"]
    assert site["extra.txt"] == b"theirs"
    assert not (project / "site").exists()
    assert hidden(project) == []


def test_an_article_leads_to_pages_of_records_and_a_dead_link_is_told(
    project: Path, caplog: pytest.LogCaptureFixture
) -> None:
    article = project / "content/articles/solvents.md"
    article.write_text("# Solvents\n\nSee [the board](../item/lc30/A1.html#how) and [home](../index.html).\n")
    build_manual(str(project / "mkdocs.yml"), strict=True)  # a warning would stop it
    assert 'href="../item/lc30/A1.html#how"' in (project / "site/articles/solvents.html").read_text()
    article.write_text("# Solvents\n\nSee [the board](../item/lc30/A9.html).\n")
    build_manual(str(project / "mkdocs.yml"))
    assert "articles/solvents.md: the link '../item/lc30/A9.html' leads to no page of this manual" in caplog.text
    with pytest.raises(MkDocsException):
        build_manual(str(project / "mkdocs.yml"), strict=True)
    assert "A9" in (project / "site/articles/solvents.html").read_text()
    assert not logging.getLogger("mkdocs.structure.pages").filters


def test_mkdocs_own_search_plugin_works_beside_it(project: Path) -> None:
    config = project / "mkdocs.yml"
    config.write_text(config.read_text().replace("[benchleaf]", "[search, benchleaf]"))
    build(project)
    assert "search/search_index.json" in tree(project / "site")


def test_another_theme_is_refused_with_the_way_out(project: Path, caplog: pytest.LogCaptureFixture) -> None:
    config = project / "mkdocs.yml"
    config.write_text(config.read_text().replace("{name: benchleaf, custom_dir: theme}", "mkdocs"))
    with pytest.raises(MkDocsException):
        build(project)
    assert "Write 'theme: benchleaf'" in caplog.text


def test_the_theme_draws_articles_without_the_plugin(project: Path) -> None:
    config = project / "mkdocs.yml"
    config.write_text(
        config.read_text().replace("[benchleaf]", "[]").replace("docs_dir: content", "docs_dir: content/articles")
    )
    build(project)
    article = tree(project / "site")["solvents/index.html"]
    assert "<title>Solvents · Words &amp; more</title>".encode() in article
    assert b'href="../css/base.css"' in article


def test_pages_ask_the_server_for_news_only_while_serving(project: Path) -> None:
    plugin = BenchleafPlugin()
    plugin.on_startup(command="serve", dirty=False)
    assert plugin._serving
    build(project)
    assert b"reload.js" not in tree(project / "site")["index.html"]
    with pytest.raises(MkDocsException, match="whole"):
        plugin.on_startup(command="serve", dirty=True)


def test_the_report_counts_errors_and_logs_warnings(caplog: pytest.LogCaptureFixture) -> None:
    warn = Finding("odd", "odd", Place("a.yaml"), severity=Severity.WARNING)
    bad = Finding("bad", "bad", Place("b.yaml", 3, 2))
    worse = Finding("bad", "bad", Place("c.yaml", 3, 2))
    manual = Manual(frame=Frame(name="M"), pages=(), findings=(bad, warn, worse))
    with caplog.at_level(logging.WARNING), pytest.raises(MkDocsException, match=r"b.yaml:3:2(.|\n)*2 errors"):
        mkdocs_plugin.report(manual)
    assert "a.yaml:1:1: warning[odd]: odd" in caplog.text
