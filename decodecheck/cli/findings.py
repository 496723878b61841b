"""`decodecheck findings`: the manual pages of the kinds of findings."""

from __future__ import annotations

import click

from decodecheck.cli._kinds import complete, must_be_kinds


@click.command(name="findings")
@click.argument("kind", required=False, shell_complete=complete)
def command(kind: str | None) -> int:
    """List the kinds of findings, or print the page of one KIND."""
    from decodecheck.checking.kinds import kinds

    known = kinds()
    if kind is None:
        for k in known.values():
            click.echo(f"{k.name:<26}{k.severity:<9}{k.title}")
        return 0
    must_be_kinds("findings", (kind,))
    click.echo(f"{known[kind].name} ({known[kind].severity})\n\n{known[kind].page}")
    return 0
