"""Links from a free article to a page made from records: MkDocs does not know those pages and would warn of each.

What MkDocs says of such links is held back until the pages are written; a link that then leads nowhere is reported.
"""

from __future__ import annotations

import logging
import re
from collections.abc import Callable

_PAGES = "mkdocs.structure.pages"
_SAID = re.compile(
    r"Doc file '(?P<doc>.+?)' contains a link '(?P<link>.+?)', but the target(?: '(?P<target>.+?)')? is not"
)


class HeldLinks(logging.Filter):
    """Keeps what MkDocs says of links it cannot follow. ``close`` lets it speak again."""

    def __init__(self) -> None:
        super().__init__()
        self.held: list[tuple[str, str, str]] = []
        logging.getLogger(_PAGES).addFilter(self)

    def filter(self, record: logging.LogRecord) -> bool:
        found = _SAID.match(record.getMessage())
        if found is None or record.levelno < logging.INFO:
            return True
        self.held.append((found["doc"], found["link"], found["target"] or found["link"]))
        return False

    def dead(self, is_written: Callable[[str], bool]) -> tuple[str, ...]:
        """One sentence for each link whose page was not written either."""
        return tuple(
            f"{doc}: the link '{link}' leads to no page of this manual"
            for doc, link, target in self.held
            if not is_written(target.partition("#")[0].partition("?")[0])
        )

    def close(self) -> None:
        logging.getLogger(_PAGES).removeFilter(self)
