"""Access paths: the shortest way to any item, and the procedures that follow from it without anyone writing them."""
