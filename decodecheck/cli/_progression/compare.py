"""`decodecheck progression compare`: what a change breaks, before it is made."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from decodecheck.cli._options import file_names
from decodecheck.reports import pages

if TYPE_CHECKING:
    from decodecheck.over_texts import Compared

JSON = "json"


@click.command(name="compare")
@click.argument("old", shell_complete=file_names)
@click.argument("new", required=False, shell_complete=file_names)
@click.option(
    "--since",
    metavar="REF",
    help="Compare one progression with what it, and all it includes, was at a branch, tag or commit of git.",
)
@click.option("--texts", metavar="FOLDER", help="Texts to compare at the steps their decodecheck.toml declares.")
@click.option(
    "--format",
    "form",
    type=click.Choice([*pages.names(), JSON]),
    help="The format of the page, or JSON for programs. Without it: by the name of the output file, else text.",
)
@click.option("--output", "-o", metavar="FILE", shell_complete=file_names, help="Write the page into a file.")
def command(
    old: str, new: str | None, since: str | None, texts: str | None, form: str | None, output: str | None
) -> int:
    """Compare a progression OLD with its changed form NEW.

    With --since, one progression is compared with its own past.

    What moved, words gained and lost at each step, texts whose verdict changes at their declared step. Steps that were
    renumbered or renamed are matched. Exit code 1: a text that was clean no longer is.
    """
    from decodecheck.cli._failures import tell
    from decodecheck.cli._pages import put_out
    from decodecheck.errors import count
    from decodecheck.over_texts import compare_texts
    from decodecheck.project.git import State
    from decodecheck.reports.comparison import page
    from decodecheck.session import Session

    if since is None and new is None:
        raise click.UsageError("Name two progressions, OLD and NEW, or one and --since.")
    if since is not None and new is not None:
        raise click.UsageError("--since takes the old progression from git. Name one progression.")
    if since is not None and old == "-":
        raise click.UsageError("--since looks at a file. Name it.")
    session = Session()
    state = State(since, "--since") if since is not None else None
    found = compare_texts(session, old, new if new is not None else old, texts, state)
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
    if form == JSON or (form is None and (output or "").lower().endswith(f".{JSON}")):
        _as_json(found, texts is not None, since or "", output, session.inputs())
    else:
        changes = found.changes if texts is not None else None
        put_out(page(found.comparison, changes, found.compared, since or ""), form, output, inputs=session.inputs())
    if found.failures:
        return 2
    return int(any(change.broken for change in found.changes))


def _as_json(found: Compared, with_texts: bool, since: str, output: str | None, inputs: list[str]) -> None:
    """Write the comparison for programs. Raises UserError."""
    from pathlib import Path

    from decodecheck.cli._streams import write_document
    from decodecheck.printing import as_json, safe
    from decodecheck.project.write import write_safely
    from decodecheck.reports.comparison import record
    from decodecheck.source import shown

    changes = found.changes if with_texts else None
    text = as_json(record(found.comparison, changes, found.compared, found.failures, since)) + "\n"
    if output is None:
        write_document(text)
        return
    write_safely(Path(output), text, read=inputs)
    click.echo(f"{safe(shown(output))}: written.", err=True)
