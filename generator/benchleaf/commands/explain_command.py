"""``benchleaf explain``: what a finding means and what to do; the record language; the keys of one record kind."""

from __future__ import annotations

import sys

import click

from benchleaf.explanations import explanations
from benchleaf.key_tables import key_tables
from benchleaf.manual import language
from benchleaf.records import KINDS
from benchleaf.suggest import closest


@click.command("explain", short_help="Explain a code of a finding.")
@click.argument("code", required=False)
def command(code: str | None) -> None:
    """Explain the CODE that stands in brackets in a finding. Without CODE: every code with its first sentence.

    `benchleaf explain records` is the manual of the record language; `benchleaf explain machine` (wiring, teardown,
    code …) shows every key of one kind of record.
    """
    known = explanations()
    if code == "records":
        click.echo(language(), nl=False)
        return
    if code in KINDS:
        click.echo(key_tables(KINDS[code]), nl=False)
        return
    if code is None:
        width = max(map(len, known))
        for name, text in known.items():
            click.echo(f"{name:<{width}}  {text.partition(chr(10))[0]}")
        return
    if code not in known:
        near = closest(code, (*known, *KINDS, "records"))
        click.echo(f"There is no code '{code}'." + (f" Did you mean '{near[0]}'?" if near else ""), err=True)
        sys.exit(2)
    click.echo(f"{code}\n\n{known[code]}")
