"""`decodecheck progression compare`: what a change breaks, before it is made."""

from __future__ import annotations

import click

from decodecheck.cli._options import page_options


@click.command(name="compare")
@click.argument("old")
@click.argument("new")
@click.option("--texts", metavar="FOLDER", help="Texts to compare at the steps their decodecheck.toml declares.")
@page_options()
def command(old: str, new: str, texts: str | None, form: str | None, output: str | None) -> int:
    """Compare a progression OLD with its changed form NEW.

    What moved, words gained and lost at each step, texts whose verdict changes at their declared step. Steps that were
    renumbered or renamed are matched. Exit code 1: a text that was clean no longer is.
    """
    from decodecheck.api import Session
    from decodecheck.cli._pages import put_out
    from decodecheck.errors import UserError
    from decodecheck.project.discover import find_texts
    from decodecheck.reports.comparison import page

    comparison, found = Session().compare(old, new, texts)
    errors = [f for f in found if isinstance(f, UserError)]
    changes = [f for f in found if not isinstance(f, UserError)]
    for error in errors:
        click.echo(str(error), err=True)
    compared = len(find_texts([texts])) - len(errors) if texts is not None else 0
    put_out(page(comparison, changes if texts is not None else None, compared), form, output, inputs=(old, new))
    if errors:
        return 2
    return int(any(change.broken for change in changes))
