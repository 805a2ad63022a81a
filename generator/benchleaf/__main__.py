"""``python -m benchleaf``: the same as the command."""

from benchleaf.cli import main

main(prog_name="benchleaf")
