"""Which plug is which: the face of every end, the diagram, what happens when two change places, labels, ring-out."""
