"""Pages as values: what stands where, before any template sees it. ``PAGE_KINDS`` lists every kind there is.

Adding one: a module under ``kinds`` with ``pages(book)``, a template of the same stem, a line here.
"""
