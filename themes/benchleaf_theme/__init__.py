"""The look of a benchleaf manual: templates, styles, scripts and drawings that MkDocs finds by entry point."""
