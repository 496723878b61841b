"""`decodecheck findings`: the manual pages of the kinds of findings."""

from __future__ import annotations

import click

from decodecheck.cli._kinds import complete, must_be_kinds


@click.command(name="findings")
@click.argument("kind", required=False, shell_complete=complete)
def command(kind: str | None) -> int:
    """List the kinds of findings, or print the page of one KIND."""
    from decodecheck.checking.kinds import Kind, kinds
    from decodecheck.lists.kinds import ListKind, list_kinds

    known: dict[str, Kind | ListKind] = {**kinds(), **list_kinds()}
    if kind is None:
        for heading, some in (("In texts and word lists:", kinds()), ("In word lists alone:", list_kinds())):
            click.echo(heading)
            for k in some.values():
                click.echo(f"  {k.name:<26}{k.severity:<9}{k.title}")
        return 0
    must_be_kinds("findings", (kind,))
    click.echo(f"{known[kind].name} ({known[kind].severity})\n\n{known[kind].page}")
    return 0
