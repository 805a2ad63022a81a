"""What the search page needs before the first key, as one script: each further file costs a phone some milliseconds."""

from __future__ import annotations

from collections.abc import Mapping

SCRIPTS = ("search-words.js", "search-index.js", "search-rank.js", "search-page.js")
"""The theme's scripts in the order in which they have to run; ``root.js`` comes before the last."""


def page_script(scripts: Mapping[str, str], index: Mapping[str, bytes]) -> bytes:
    """The scripts named in ``SCRIPTS`` (name → text) and the root of the index as one file.

    It has to lie beside the files of the index, for instance as ``search/page.js``, since the root says by its place
    which index it belongs to. ``search-recent.js`` is not in it: that one is on every page.
    """
    parts = [scripts[name] for name in SCRIPTS]
    parts.insert(-1, index["root.js"].decode("utf-8"))
    return "".join(part.rstrip("\n") + "\n" for part in parts).encode("utf-8")
