"""``benchleaf explain CODE``: what a finding means, why it matters, what to do."""

from __future__ import annotations

import sys

import click

from benchleaf.explanations import explanations
from benchleaf.suggest import closest


@click.command("explain", short_help="Explain a code of a finding.")
@click.argument("code", required=False)
def command(code: str | None) -> None:
    """Explain the CODE that stands in brackets in a finding. Without CODE: every code with its first sentence."""
    known = explanations()
    if code is None:
        width = max(map(len, known))
        for name, text in known.items():
            click.echo(f"{name:<{width}}  {text.partition(chr(10))[0]}")
        return
    if code not in known:
        near = closest(code, tuple(known))
        click.echo(f"There is no code '{code}'." + (f" Did you mean '{near[0]}'?" if near else ""), err=True)
        sys.exit(2)
    click.echo(f"{code}\n\n{known[code]}")
