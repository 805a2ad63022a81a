"""Paper as values: one module a sheet kind turns what is derived into data, a template of the same stem sets it.

Text goes into a sheet as data and is never read as markup. ``SHEET_KINDS`` in ``sheet_kinds`` lists every kind.
"""
