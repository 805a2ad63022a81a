"""Found at once: an index made in Python and read by the page through script tags.

A technician types half a code with a thumb in a glove, from a USB stick, and has the page. ``build_index`` turns
documents into small script files; ``search`` answers from those same files, and so does the page, with the same result.
"""

from benchleaf.search.bundle import page_script
from benchleaf.search.documents import Answer, Document, Filters, Hit
from benchleaf.search.index import build_index
from benchleaf.search.ranking import search
from benchleaf.search.reader import Index, open_index
from benchleaf.search.synonyms import SynonymError, SynonymRule, read_synonyms, rules_of
from benchleaf.search.trade_words import DEFAULT_SYNONYMS

__all__ = [
    "DEFAULT_SYNONYMS",
    "Answer",
    "Document",
    "Filters",
    "Hit",
    "Index",
    "SynonymError",
    "SynonymRule",
    "build_index",
    "open_index",
    "page_script",
    "read_synonyms",
    "rules_of",
    "search",
]
