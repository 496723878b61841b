"""`decodecheck progression check`: every mistake of a progression at once."""

from __future__ import annotations

import click


@click.command(name="check")
@click.argument("file")
def command(file: str) -> int:
    """Report every mistake in a progression FILE, and notes on what may be meant otherwise."""
    from decodecheck.progression.advise import notes
    from decodecheck.progression.resolve import resolve_file

    order, problems = resolve_file(file)
    errors = [p for p in problems if not p.note]
    if not errors:
        problems = sorted([*problems, *notes(order)], key=lambda p: (p.path != order.path, p.path, p.line, p.column))
    for problem in problems:
        click.echo(problem.text(), err=not problem.note)
    if errors:
        click.echo(f"{len(errors)} mistake{'s' * (len(errors) > 1)} in {file}.", err=True)
        return 2
    taught = len(order.mentions)
    click.echo(f"{file}: {len(order.steps)} steps, {taught} items, {len(order.tricky)} tricky words; no mistakes.")
    return 0
