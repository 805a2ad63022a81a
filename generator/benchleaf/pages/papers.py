"""What is printed of a procedure or a machine, as links: a page leads to a PDF only where one was made."""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperLink:
    """One PDF of the site: ``title`` is its kind, ``words`` what it is for, ``size`` its bytes."""

    path: str
    title: str
    words: str
    size: int

    @property
    def size_words(self) -> str:
        """``214 kB``, ``1.5 MB``; the number stays with its unit."""
        if self.size >= 999_500:
            return f"{self.size / 1e6:.1f}\u00a0MB"
        return f"{max(1, round(self.size / 1000))}\u00a0kB"


Papers = Mapping[tuple[str, str], tuple[PaperLink, ...]]
"""PDFs by machine and procedure; of the whole machine under an empty procedure."""
NO_PAPERS: Papers = {}
