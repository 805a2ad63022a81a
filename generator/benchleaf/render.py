"""Pages as bytes: the theme's templates, CommonMark prose, links that work from a folder as well as from a
server.

Raw HTML in an author's words is shown as text; a link goes to the web or to a page of this manual and
nowhere else; a picture comes from a step's ``photos`` and never from prose. The same page gives the same
bytes.
"""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from jinja2.environment import TemplateModule
from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict
from markupsafe import Markup, escape

import benchleaf_theme
from benchleaf.pages.page import Frame, Page
from benchleaf.told_numbers import with_numbers_told

THEME_FOLDER = str(Path(benchleaf_theme.__file__).parent)

_SCHEME = re.compile(r"[a-z][a-z0-9+.-]*:", re.IGNORECASE)


def relative_link(here: str, target: str) -> str:
    """The address of ``target`` (a path of the site, fragment and query allowed) as written on the page
    ``here``.

    >>> relative_link("machine/lc30/index.html", "item/lc30/a1.html#reach")
    '../../item/lc30/a1.html#reach'
    >>> relative_link("index.html", "index.html#find")
    '#find'

    Raises ValueError for what would leave the site (a scheme, a leading slash, ``..`` beyond the top).
    """
    cut = re.search(r"[?#]", target)
    path, rest = (target, "") if cut is None else (target[: cut.start()], target[cut.start() :])
    if path in ("", here) and rest.startswith("#"):
        return rest
    clean = posixpath.normpath(path)
    outside = clean == ".." or clean.startswith(("../", "/"))
    if outside or _SCHEME.match(path) or "\\" in path:
        raise ValueError(f"'{target}' does not lie within the manual")
    return posixpath.relpath(clean, posixpath.dirname(here) or ".") + rest


def is_allowed_address(address: str) -> bool:
    """Whether prose may link there: http, https, or a page of this manual written from its top."""
    if re.search(r"[\x00-\x20\x7f\\]", address) or address.startswith("/"):
        return False
    if _SCHEME.match(address):
        return address.lower().startswith(("http://", "https://"))
    clean = posixpath.normpath(re.split(r"[?#]", address)[0] or ".")
    return clean != ".." and not clean.startswith("../")


class _Prose(RendererHTML):
    """CommonMark's HTML with four changes: deeper headings, no pictures, links marked as leaving or made relative,
    and the first mention of a word of the glossary leading there."""

    def image(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: EnvType) -> str:
        words = self.renderInlineAsText(tokens[idx].children or [], options, env)
        return str(escape(words))

    def link_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: EnvType) -> str:
        token = tokens[idx]
        address = str(token.attrs.get("href", ""))
        if _SCHEME.match(address):
            token.attrSet("rel", "external noopener noreferrer")
        elif not address.startswith("#"):
            token.attrSet("href", str(env.get("root", "")) + address)
        return self.renderToken(tokens, idx, options, env)

    def heading_open(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: EnvType) -> str:
        tokens[idx].tag = f"h{min(6, int(tokens[idx].tag[1]) + int(env.get('below', 2)))}"
        return self.renderToken(tokens, idx, options, env)

    heading_close = heading_open

    def text(self, tokens: Sequence[Token], idx: int, options: OptionsDict, env: EnvType) -> str:
        words = tokens[idx].content
        terms: Terms | None = env.get("terms")
        if terms is None or _within_link(tokens, idx):
            return str(escape(words))
        return terms.linked(words, env.setdefault("mentioned", set()), str(env.get("root", "")))


def _within_link(tokens: Sequence[Token], idx: int) -> bool:
    opened = [token.type for token in tokens[:idx] if token.type in ("link_open", "link_close")]
    return bool(opened) and opened[-1] == "link_open"


class Terms:
    """The words of the glossary as they are looked for in prose: whole, in any case, with a plural s."""

    def __init__(self, terms: Iterable[tuple[str, str]]) -> None:
        self.places = {word.casefold(): path for word, path in terms if len(word) > 2}
        words = sorted(self.places, key=lambda word: (-len(word), word))
        self.pattern = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, words))})(?=s?(?!\w))", re.IGNORECASE)

    def linked(self, words: str, mentioned: set[str], root: str) -> str:
        """The words as HTML; each term leads to its place where it is mentioned first."""
        made, at = [], 0
        for found in self.pattern.finditer(words):
            word = found[0].casefold()
            place = self.places.get(word)
            if place is None or word in mentioned:
                continue
            mentioned.add(word)
            link = f'<a class="term" href="{escape(root + place)}">{escape(found[0])}</a>'
            made += [escape(words[at : found.start()]), link]
            at = found.end()
        return "".join(str(part) for part in (*made, escape(words[at:])))


def _commonmark() -> MarkdownIt:
    md = MarkdownIt("commonmark", {"html": False}, renderer_cls=_Prose)
    md.validateLink = is_allowed_address  # type: ignore[assignment,method-assign]
    return md


_MARKDOWN = _commonmark()


@lru_cache(maxsize=4096)
def _prose(text: str, below: int, root: str, terms: Terms | None = None) -> str:
    return str(_MARKDOWN.render(text, {"below": below, "root": root, "terms": terms}))


@lru_cache(maxsize=4096)
def _phrase(text: str, root: str) -> str:
    return str(_MARKDOWN.renderInline(text, {"root": root}))


@jinja2.pass_context
def prose(context: jinja2.runtime.Context, text: str, below: int = 2) -> Markup:
    """An author's paragraphs as HTML. ``below`` is the level of the heading above: ``#`` comes one deeper."""
    return Markup(_prose(str(text), below, context["root"], context.environment.globals.get("terms")))


@jinja2.pass_context
def phrase(context: jinja2.runtime.Context, text: str) -> Markup:
    """An author's line as HTML: emphasis, code and links, no paragraphs."""
    return Markup(_phrase(str(text), context["root"]))


def root_of(path: str) -> str:
    """The way from a page up to the site's folder: ``''`` for the top, else ``../`` as often as it is
    deep."""
    return "../" * path.count("/")


class _Template(jinja2.Template):
    """A template whose macros are made ready once a page, however many others of the page import them."""

    def make_module(
        self, vars: dict[str, Any] | None = None, shared: bool = False, locals: Mapping[str, Any] | None = None
    ) -> TemplateModule:
        ready = (vars or {}).get("macros_ready")
        if ready is None:
            return super().make_module(vars, shared, locals)
        if self.name not in ready:
            ready[self.name] = super().make_module(vars, shared, locals)
        found: TemplateModule = ready[self.name]
        return found


def make_environment(frame: Frame, folders: Iterable[str] = (THEME_FOLDER,)) -> jinja2.Environment:
    """Templates of the theme, those of the first of ``folders`` going first; an unknown name is an error,
    not a gap."""
    env = jinja2.Environment(
        loader=jinja2.FileSystemLoader(list(folders)),
        undefined=jinja2.StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
        cache_size=-1,
    )
    env.template_class = _Template
    env.globals["frame"] = frame
    env.globals["terms"] = Terms(frame.terms) if frame.terms else None
    env.filters["prose"] = prose
    env.filters["phrase"] = phrase
    return env


def render_page(page: Page, env: jinja2.Environment) -> bytes:
    """The page as UTF-8. Its template sees ``page.context`` and ``page``, ``title``, ``root``, ``link``,
    ``unique``.

    ``link(path)`` is the relative address of another page, ``unique(stem)`` an id nothing else on the page
    has. A name that the template asks for and nobody gave raises ``jinja2.UndefinedError``: a mistake of
    ours, never of a record.
    """
    made: Counter[str] = Counter()

    def link(target: str) -> str:
        return relative_link(page.path, target)

    def unique(stem: str) -> str:
        made[stem] += 1
        return f"{stem}-{made[stem]}"

    context: dict[str, Any] = {**page.context, "page": page, "title": page.title}
    context |= {"root": root_of(page.path), "link": link, "unique": unique, "macros_ready": {}}
    made_page = env.get_template(page.template).render(context)
    frame = env.globals["frame"]
    assert isinstance(frame, Frame)
    sources = frame.numbers
    return (made_page if sources is None else with_numbers_told(made_page, page.path, sources)).encode()
