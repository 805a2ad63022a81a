"""An author's CommonMark as blocks of plain data: paragraphs, lists, code; what it says, never how to set it.

Raw HTML is shown as text, pictures go by their words and links by their words with the address behind them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.tree import SyntaxTreeNode

Block = dict[str, Any]


@lru_cache(maxsize=1)
def _reader() -> MarkdownIt:
    return MarkdownIt("commonmark")


def prose_blocks(text: str) -> list[Block]:
    """The text as blocks: ``par``, ``head``, ``list``, ``enum``, ``code``, ``quote``, each with ``k`` and ``of``."""
    if not text.strip():
        return []
    return _blocks(SyntaxTreeNode(_reader().parse(text)).children)


def _blocks(nodes: Sequence[SyntaxTreeNode]) -> list[Block]:
    return [made for node in nodes for made in _block(node)]


def _block(node: SyntaxTreeNode) -> list[Block]:
    kind = node.type
    if kind == "paragraph":
        return [{"k": "par", "of": _inline(node.children)}]
    if kind == "heading":
        return [{"k": "head", "of": _inline(node.children)}]
    if kind == "bullet_list":
        return [{"k": "list", "of": [_blocks(item.children) for item in node.children]}]
    if kind == "ordered_list":
        start = int(node.attrs.get("start", 1))
        return [{"k": "enum", "start": start, "of": [_blocks(item.children) for item in node.children]}]
    if kind == "blockquote":
        return [{"k": "quote", "of": _blocks(node.children)}]
    if kind in ("fence", "code_block", "html_block"):
        return [{"k": "code", "t": node.content.rstrip("\n")}]
    return []


def _inline(nodes: Sequence[SyntaxTreeNode]) -> list[Block]:
    return [made for node in nodes for made in _run(node)]


def _run(node: SyntaxTreeNode) -> list[Block]:
    kind = node.type
    if kind == "inline":
        return _inline(node.children)
    if kind in ("strong", "em"):
        return [{"k": "strong" if kind == "strong" else "emph", "of": _inline(node.children)}]
    if kind == "code_inline":
        return [{"k": "code", "t": node.content}]
    if kind == "hardbreak":
        return [{"k": "break"}]
    if kind == "softbreak":
        return [{"k": "text", "t": " "}]
    if kind == "link":
        address = str(node.attrs.get("href", ""))
        tail = [{"k": "text", "t": f" ({address})"}] if "://" in address else []
        return [*_inline(node.children), *tail]
    return [{"k": "text", "t": node.content}]
