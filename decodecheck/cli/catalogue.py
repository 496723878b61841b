"""`decodecheck catalogue`: what a folder of texts and word lists holds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from decodecheck.cli._options import file_names, progression_option, step_options

if TYPE_CHECKING:
    from decodecheck.catalogue import Row

FORMATS = ("text", "csv", "json", "html")
SUFFIXES = {".csv": "csv", ".json": "json", ".html": "html"}


@click.command(name="catalogue")
@click.argument("folder", shell_complete=file_names)
@progression_option()
@step_options("from decodecheck.toml, else none is declared")
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    help="How to write it. Without it: by the name of the output file, else text.",
)
@click.option("--output", "-o", metavar="FILE", shell_complete=file_names, help="Write it into a file.")
@click.option(
    "--check",
    "kept",
    metavar="FILE",
    shell_complete=file_names,
    help="Say what in the catalogue FILE is no longer so; exit code 1 where there is something.",
)
def command(
    folder: str,
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str | None,
    output: str | None,
    kept: str | None,
) -> int:
    """List what FOLDER holds: a row for each text and word list.

    Each has its title, how many words, the step that it is for, the first step at which all of it can be read, the words that hold it back, the
    targets of a list, what is new at the step and occurs most in a text, and tricky words. Exit code 1: the catalogue that was to be checked is no
    longer right; 2: something could not be checked.
    """
    from pathlib import Path

    from decodecheck.catalogue import catalogue
    from decodecheck.cli._failures import tell
    from decodecheck.cli._pages import tell_notes
    from decodecheck.cli._streams import write_document
    from decodecheck.errors import Problem, UserError
    from decodecheck.garbage import collection_paused
    from decodecheck.printing import safe
    from decodecheck.project.write import refuse_unwritable, write_safely
    from decodecheck.reports.catalogue import as_written, render
    from decodecheck.session import Session
    from decodecheck.source import shown

    if kept is not None and (form or output):
        raise click.UsageError("--check writes nothing. Take --format and --output out.")
    if not Path(folder).is_dir():
        raise UserError(Problem(shown(folder), "This is no folder.", "Name the folder whose texts are to be listed."))
    form = form or _format_of(output, "--output")
    if output is not None:
        refuse_unwritable(Path(output), what="catalogue")
    old = _old(kept) if kept is not None else None
    session = Session(progression, step, group)
    with collection_paused():
        made = catalogue(session, folder, [path for path in (output, kept) if path is not None])
    told: set[str] = set()
    for failure in made.failures:
        tell(failure, told)
    tell_notes(session)
    if old is not None and kept is not None:
        code = _compared(shown(kept), old, as_written(made.rows, _format_of(kept, "--check")))
        return 2 if made.failures else code
    text = render(made, form, Path(folder).resolve().name)
    if output is None and form != "text":
        write_document(text)
    elif output is None:
        click.echo(text, nl=False)
    elif made.failures:
        # an older catalogue that is whole is better than one with rows missing
        click.echo(f"{safe(shown(output))}: not written, since something could not be checked.", err=True)
    else:
        write_safely(Path(output), text, read=session.inputs(), what="catalogue")
        click.echo(f"{safe(shown(output))}: written.")
    return 2 if made.failures else 0


def _format_of(path: str | None, option: str) -> str:
    """The format that the end of a file's name stands for; text for no file. Raises UserError where it stands for none."""
    from pathlib import Path

    from decodecheck.errors import Problem, UserError
    from decodecheck.source import shown

    if path is None:
        return "text"
    form = SUFFIXES.get(Path(path).suffix.lower())
    if option == "--check" and form not in ("csv", "json"):
        what = f"The name {shown(path)} is not that of a table that can be checked."
        raise UserError(Problem(option, what, "Check one that ends in .csv or .json."))
    if form is None:
        what = f"The name {shown(path)} does not say which format you want."
        raise UserError(Problem(option, what, f"End it in {', '.join(SUFFIXES)}, or add --format."))
    return form


def _old(path: str) -> list[Row]:
    """The rows of a catalogue that was written before. Raises UserError where it cannot be read."""
    from decodecheck.reports.catalogue import read_back
    from decodecheck.source import read_text

    form = _format_of(path, "--check")
    return read_back(read_text(path).text, form, path)


def _compared(name: str, old: Sequence[Row], new: Sequence[Row]) -> int:
    """Say what is no longer so; the exit code."""
    from decodecheck.catalogue import differences
    from decodecheck.errors import count
    from decodecheck.printing import safe

    found = [*differences(old, new)]
    for line in found:
        click.echo(safe(line))
    one = len(found) == 1
    wrong = (
        f"{count(len(found), 'row')} {'differs' if one else 'differ'} from what is there. Write it anew with --output."
    )
    right = f"{count(len(new), 'row')}, nothing differs."
    click.echo(f"{safe(name)}: {wrong if found else right}")
    return int(bool(found))
