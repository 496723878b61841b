"""`decodecheck findings`: the manual pages of the kinds of findings."""

from __future__ import annotations

import click

from decodecheck.errors import Problem, UserError, nearest


@click.command(name="findings")
@click.argument("kind", required=False)
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
    if kind not in known:
        close = nearest(kind, list(known), most=1)
        todo = f"Did you mean {close[0]}?" if close else "`decodecheck findings` lists them."
        raise UserError(Problem("findings", f"There is no kind of finding called {kind!r}.", todo))
    click.echo(f"{known[kind].name} ({known[kind].severity})\n\n{known[kind].page}")
    return 0
