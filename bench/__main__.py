"""``python -m bench``: run every benchmark, or those named, and print what they say."""

from __future__ import annotations

import sys
from importlib import import_module

MODULES = (
    "check",
    "build",
    "access",
    "replay",
    "access_facts",
    "isolation",
    "finder",
    "wiring",
    "drawings",
    "connectors",
    "paper",
    "search",
)


def main(names: list[str]) -> None:
    """Print the lines of each module. Raises ModuleNotFoundError for a name that is not one."""
    for name in names or MODULES:
        for line in import_module(f"bench.{name}").run():
            print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
