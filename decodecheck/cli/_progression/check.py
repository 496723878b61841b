"""`decodecheck progression check`: every mistake of a progression at once."""

from __future__ import annotations

import click

from decodecheck.cli._options import files_argument
from decodecheck.errors import UserError


@click.command(name="check")
@files_argument()
def command(files: tuple[str, ...]) -> int:
    """Report every mistake in progression FILES, and notes on what may be meant otherwise."""
    return max(map(_check, files))


def _check(file: str) -> int:
    """Check one progression, and say what is wrong; returns the exit code."""
    from decodecheck.errors import count
    from decodecheck.printing import safe
    from decodecheck.progression.advise import notes
    from decodecheck.progression.many import first_of
    from decodecheck.progression.resolve import resolve_file
    from decodecheck.source import shown

    try:
        order, problems = resolve_file(file)
    except UserError as error:
        click.echo(str(error), err=True)
        return 2
    errors = [p for p in problems if not p.note]
    if not errors:
        problems = sorted([*problems, *notes(order)], key=lambda p: (p.path != order.path, p.path, p.line, p.column))
    for problem in first_of(problems) if errors else problems:
        click.echo(problem.text(), err=not problem.note)
    if errors:
        elsewhere = " and the files it includes" if any(p.path != order.path for p in errors) else ""
        click.echo(f"{count(len(errors), 'mistake')} in {safe(shown(file))}{elsewhere}.", err=True)
        return 2
    size = [
        count(len(order.steps), "step"),
        count(len(order.mentions), "item"),
        count(len(order.tricky), "tricky word"),
    ]
    click.echo(f"{safe(shown(file))}: {', '.join(size)}; no mistakes.")
    return 0
