"""The kinds of page, one module each; its template has the same stem. The table is in ``benchleaf.pages``."""
