"""Codes and symptoms as a technician follows them: what causes them, which test comes next, which procedure cures."""
