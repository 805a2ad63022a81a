"""The wiring graph: where a contact leads, what is still live, what a conversion changed."""
