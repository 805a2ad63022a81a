"""Found at once: an index made in Python and read by the page through script tags."""
