"""`decodecheck progression compare`: what a change breaks, before it is made."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names, page_options


@click.command(name="compare")
@click.argument("old", shell_complete=file_names)
@click.argument("new", shell_complete=file_names)
@click.option("--texts", metavar="FOLDER", help="Texts to compare at the steps their decodecheck.toml declares.")
@page_options()
def command(old: str, new: str, texts: str | None, form: str | None, output: str | None) -> int:
    """Compare a progression OLD with its changed form NEW.

    What moved, words gained and lost at each step, texts whose verdict changes at their declared step. Steps that were
    renumbered or renamed are matched. Exit code 1: a text that was clean no longer is.
    """
    from decodecheck.cli._failures import tell
    from decodecheck.cli._pages import put_out
    from decodecheck.errors import count
    from decodecheck.over_texts import compare_texts
    from decodecheck.reports.comparison import page
    from decodecheck.session import Session

    session = Session()
    found = compare_texts(session, old, new, texts)
    told: set[str] = set()
    for failure in found.failures:
        tell(failure, told)
    if found.elsewhere:
        click.echo(
            f"note: {count(found.elsewhere, 'text')} left out: their decodecheck.toml names another progression.",
            err=True,
        )
    if old == "-" and len(found.comparison.old.sources) > 1:
        click.echo("note: the files that standard input includes are read as they are now, not as they were.", err=True)
    changes = found.changes if texts is not None else None
    put_out(page(found.comparison, changes, found.compared), form, output, inputs=session.inputs())
    if found.failures:
        return 2
    return int(any(change.broken for change in found.changes))
