"""The manual as a MkDocs site: ``mkdocs build`` and ``mkdocs serve`` compile the records and draw the pages.

Records are checked before MkDocs touches anything; the pages made from them are written beside those that
MkDocs makes from free Markdown articles. The whole is built in a folder beside the site and swapped in when
every plugin has agreed.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from importlib import import_module
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING, Any, Literal

from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.config_options import Choice, Dir, Type
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import InclusionLevel

from benchleaf.edges import site_swap
from benchleaf.edges.article_links import HeldLinks
from benchleaf.edges.page_shares import PagesLost, write_pages
from benchleaf.edges.progress import bar
from benchleaf.pages.page import Manual
from benchleaf.render import THEME_FOLDER, make_environment, render_page
from benchleaf.report import render_text

if TYPE_CHECKING:
    import jinja2
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.livereload import LiveReloadServer
    from mkdocs.structure.files import Files

    from benchleaf.site_paper import PaperOrder

log = logging.getLogger("mkdocs.plugins.benchleaf")
FIRST, LAST = event_priority(100), event_priority(-100)
ARTICLES = "articles"


class PluginOptions(Config):  # type: ignore[no-untyped-call]
    """``content`` is the folder of the records; its ``articles`` are MkDocs' own pages.

    ``paper``: PDFs of every procedure and machine too, on ``paper_size``. ``cache``: the folder beside mkdocs.yml in
    which they are kept from one build to the next; it may be deleted at any time.
    """

    content = Dir(exists=True, default="content")
    paper = Type(bool, default=False)
    paper_size = Choice(("a4", "letter"), default="a4")
    cache = Type(str, default=".cache")


def compile_content(content: Path, paper: PaperOrder | None = None) -> Manual:
    """The compiler, imported when it is needed: MkDocs asks for this module even when it only prints its
    help.
    """
    manual: Manual = import_module("benchleaf.pipeline").compile_site(content, paper)
    return manual


def report(manual: Manual) -> None:
    """Warnings go to MkDocs' log (``--strict`` counts them); errors stop the build, all of them in one
    message.
    """
    for finding in manual.findings:
        if not finding.is_error:
            log.warning(render_text((finding,), manual.sources).rpartition("\n\n")[0])
    errors = [finding for finding in manual.findings if finding.is_error]
    if errors:
        raise PluginError(render_text(errors, manual.sources) + "The site was left as it was.")


def let_readers_through(server: LiveReloadServer) -> None:
    """MkDocs' server answers nobody from a failed build to the next good one; the last good site is there,
    so let it.
    """
    with server._epoch_cond:
        server._wanted_epoch = server._visible_epoch
        server._epoch_cond.notify_all()


class BenchleafPlugin(BasePlugin[PluginOptions]):  # type: ignore[no-untyped-call]
    """Compiles first, builds in a folder of its own, swaps last. ``compile`` is the compiler (another one in
    tests).
    """

    compile: Callable[..., Manual] = staticmethod(compile_content)

    def __init__(self) -> None:
        self.said = ""
        self._serving = False
        self._server: LiveReloadServer | None = None
        self._stage: site_swap.Stage | None = None
        self._manual: Manual | None = None
        self._links: HeldLinks | None = None

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        if dirty:
            raise PluginError("A benchleaf manual is always built whole. Leave --dirty out.")
        self._serving = command == "serve"

    @FIRST
    def on_config(self, config: MkDocsConfig) -> None:
        if THEME_FOLDER not in map(str, config.theme.dirs):
            raise PluginError("The benchleaf plugin needs its theme. Write 'theme: benchleaf' in mkdocs.yml.")
        self._close()
        config.use_directory_urls = False  # a folder's address shows a listing when opened from a disk
        site_swap.recover(Path(config.site_dir))
        manual = self._compiled(config)
        report(manual)
        self._manual = replace(manual, sources=(), findings=(), frame=replace(manual.frame, serving=self._serving))
        self._open(config)

    @LAST
    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        if self._stage is None or config.site_dir != str(self._stage.folder):
            self._close()  # another plugin has chosen another place for the site
            self._open(config)

    @FIRST
    def on_files(self, files: Files, *, config: MkDocsConfig) -> None:
        content = Path(self.config.content).resolve()
        for file in files:
            source = Path(file.abs_src_path).resolve() if file.abs_src_path else None
            if source and source.is_relative_to(content) and not source.is_relative_to(content / ARTICLES):
                file.inclusion = InclusionLevel.EXCLUDED  # a record: its pages are ours

    @LAST
    def on_env(self, env: jinja2.Environment, *, config: MkDocsConfig, files: Files) -> None:
        assert self._manual is not None and self._stage is not None
        env.globals["frame"] = self._manual.frame
        kept = (file for file in files if file.inclusion is not InclusionLevel.EXCLUDED)
        taken = {file.dest_uri: file.src_uri for file in kept}
        ours = make_environment(self._manual.frame, config.theme.dirs)
        try:
            with bar("Pages") as progress:
                write_pages(
                    self._manual.pages, lambda page: self._write(page.path, render_page(page, ours), taken), progress
                )
            for asset in self._manual.assets:
                self._write(asset.path, asset.data if asset.data is not None else Path(asset.source or ""), taken)
            site_swap.refuse_clashes(self._stage)
        except site_swap.PathRefused as refused:
            raise PluginError(f"{refused}. Rename one of the two records, or the article.") from refused
        except PagesLost as lost:
            raise PluginError(f"{lost}. The site was left as it was.") from lost
        assert self._links is not None
        self._links.close()  # every article has been read
        for dead in self._links.dead(partial(site_swap.has_file, self._stage)):
            log.warning(dead)

    @LAST
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        assert self._stage is not None
        try:
            site_swap.swap_in(self._stage)
        except OSError as error:
            raise PluginError(
                f"The new site could not take the place of {self._stage.target}: {error}. The old one was left. "
                "If that folder is a mount, name one inside it as site_dir."
            ) from error
        config.site_dir = str(self._stage.target)

    def on_build_error(self, *, error: Exception) -> None:
        if self._stage is not None:
            site_swap.undo(self._stage)
            self._stage = None
        if self._server is not None:
            let_readers_through(self._server)

    def on_shutdown(self) -> None:
        self._close()

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Callable[..., Any]
    ) -> None:
        server.watch(self.config.content)
        self._server = server

    def _compiled(self, config: MkDocsConfig) -> Manual:
        content = Path(self.config.content)
        if not self.config.paper:
            return self.compile(content)
        from benchleaf.paper.sheet import PAPERS
        from benchleaf.site_paper import PaperOrder

        said: list[str] = []
        shelf = Path(config.config_file_path).resolve().parent / self.config.cache / f"paper-{self.config.paper_size}"
        start = perf_counter()
        with bar() as progress:
            paper = PAPERS[self.config.paper_size]
            order = PaperOrder(paper=paper, shelf=shelf, progress=progress, tell=said.append)
            try:
                manual = self.compile(content, order)
            except OSError as error:
                raise PluginError(
                    f"The PDFs cannot be kept in {shelf}: {error.strerror}. Name another folder as cache."
                ) from error
        self.said = f"Paper: {said[0]}, in {perf_counter() - start:.1f} s with reading the records." if said else ""
        log.info(self.said)
        return manual

    def _open(self, config: MkDocsConfig) -> None:
        self._stage = site_swap.open_stage(Path(config.site_dir))
        self._links = HeldLinks()
        config.site_dir = str(self._stage.folder)

    def _close(self) -> None:
        if self._links is not None:
            self._links.close()
            self._links = None
        if self._stage is not None:
            site_swap.close_stage(self._stage)
            self._stage = None

    def _write(self, path: str, content: bytes | Path, taken: dict[str, str]) -> None:
        assert self._stage is not None
        if path in taken:
            raise PluginError(f"'{path}' is made from a record and from '{taken[path]}'. Rename the article.")
        site_swap.write_file(self._stage, path, content)


def build_manual(config_file: str, *, strict: bool = False, paper: str | None = None) -> str:
    """What ``benchleaf build`` does: exactly ``mkdocs build -f config_file``. Returns what there is to say afterwards.

    ``paper``: PDFs on this size of paper (``a4``, ``letter``), whatever the file says.
    """
    from mkdocs.commands.build import build

    config = load_config(config_file=config_file, strict=strict or None)
    plugin = config.plugins.get("benchleaf")
    if paper is not None and isinstance(plugin, BenchleafPlugin):
        plugin.config.paper, plugin.config.paper_size = True, paper
    config.plugins.on_startup(command="build", dirty=False)
    try:
        build(config)
    finally:
        config.plugins.on_shutdown()
    return plugin.said if isinstance(plugin, BenchleafPlugin) else ""


def serve_manual(config_file: str, *, address: str | None = None, strict: bool = False) -> None:
    """What ``benchleaf serve`` does: exactly ``mkdocs serve -f config_file``."""
    from mkdocs.commands.serve import serve

    serve(config_file=config_file, dev_addr=address, strict=strict or None)
