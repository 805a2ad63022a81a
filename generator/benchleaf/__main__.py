"""``python -m benchleaf``: the same as the command."""

from benchleaf.cli import run

run()
