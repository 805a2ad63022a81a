"""The command ``benchleaf``: one module a subcommand under ``commands``, imported when it is called."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import NoReturn

import click

from benchleaf import __version__

COMMANDS = {
    "check": "Check the records and say everything that is wrong.",
    "explain": "Explain a code of a finding.",
    "list": "List machines, procedures, codes and symptoms.",
    "replay": "Replay a procedure step by step on every machine it is for.",
    "reassembly": "Derive the way back of a procedure, and the checks owed after it.",
    "state": "Show how the machine stands after a step, and whether to stop there.",
    "access": "Find the shortest way to an item: operations, time, tools; the derived procedure.",
    "isolate": "From a code or symptom to the next test worth doing, down to the remedy.",
    "swaps": "List plugs that take each other's places, labels, and pictures to take.",
    "ringout": "Print which contacts must conduct with the power off, with the value to expect.",
    "face": "Show the face of a connector, either half, either side.",
    "diagram": "Show which board is joined to which part by which cable.",
    "torque": "Compute what a screw may bear; print torque cards.",
    "bleed": "Compute how long a stored charge takes to fall; say what stays stored in a machine.",
    "print": "Print a procedure as a PDF for the bench.",
    "pack": "Print a procedure with labels, screw mat and every other bench sheet.",
    "live": "Say what can still be live in each isolation state.",
    "trace": "Say where a contact leads and through what.",
    "wiring": "Print the wire list, what a conversion changed, bypassed signals.",
    "schema": "Write JSON Schemas for editors.",
    "new": "Make a starter library that checks clean.",
    "build": "Build the manual site.",
    "serve": "Build the site, show it, and build again on every change.",
}
"""Every subcommand with its line of help, in the order shown. The code is in benchleaf.commands.<name>."""


class _Lazy(click.Group):
    """Knows all subcommands by name but imports only the one that is called: start-up stays short."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"benchleaf.commands.{cmd_name}_command").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=_Lazy, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="benchleaf")
def main() -> None:
    """Compiles what a repair technician knows into a manual a whole workshop can trust."""


def run() -> NoReturn:
    """The command as a process of its own, which ends as soon as everything is said.

    Taking thousands of records apart again, object by object, would keep the technician waiting for nothing.
    """
    try:
        main(prog_name="benchleaf")
    except SystemExit as end:
        if sys.argv[1:2] != ["check"] or not isinstance(end.code, int):
            raise
        try:
            sys.stdout.flush()
            sys.stderr.flush()
        finally:  # also when nobody reads any more
            os._exit(end.code)
    sys.exit()
