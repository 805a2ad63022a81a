"""The machine as screws, covers, cables, lines, ties and energy, and what a procedure does to it."""
