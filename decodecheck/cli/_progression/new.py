"""`decodecheck progression new`: a progression to begin with."""

from __future__ import annotations

import os
from pathlib import Path

import click

from decodecheck.cli._options import file_names
from decodecheck.errors import Problem, UserError, nearest


@click.command(name="new")
@click.argument("file", shell_complete=file_names)
@click.option(
    "--from",
    "origin",
    metavar="WHAT",
    help="The name of a shipped progression; or a .txt list of graphemes, a .csv or .xlsx sheet.",
)
@click.option("--title", metavar="TITLE", help="What the progression is called.")
@click.option("--accent", metavar="ACCENT", help="For a list or sheet; southern-british if none is given.")
def command(file: str, origin: str | None, title: str | None, accent: str | None) -> int:
    """Write a new progression into FILE (- : to standard output).

    A list of graphemes has a step a line, or, with blank lines in it, a step between two of them; a line may open with
    `Week 1:` or `tricky:`, and a sound be named as in `ai (rain)`. A spreadsheet has the columns step, item, example word and
    tricky, in any order, recognised by their header. Shipped progressions follow
    published standards; each names its source.
    """
    from decodecheck.cli._streams import write_document
    from decodecheck.insight.standards import shipped
    from decodecheck.phonics.sounds import ACCENTS
    from decodecheck.printing import hidden, safe
    from decodecheck.project.starting import start
    from decodecheck.project.write import there_already, write_safely
    from decodecheck.source import shown

    if origin is None:
        known = ", ".join(shipped())
        raise UserError(Problem("--from", "Nothing to start from is named.", f"Shipped are: {known}. Or name a file."))
    if accent is not None and accent not in ACCENTS:
        close = nearest(accent, list(ACCENTS), most=1)
        todo = (f"Did you mean {close[0]}? " if close else "") + "Accents are: " + ", ".join(ACCENTS) + "."
        raise UserError(Problem("--accent", f"There is no accent called {accent!r}.", todo))
    if file != "-" and os.path.lexists(file):
        raise UserError(there_already(file))
    for given, name in ((title, "--title"), (file, "FILE")):
        if given and hidden(given) >= 0:
            raise UserError(
                Problem(name, "There is an invisible character in it.", "Write it anew, without copying it.")
            )
    started = start(origin, title, accent)
    if hidden(started.text) >= 0:
        raise UserError(Problem(shown(origin), "There is an invisible character among the items.", "Take it out."))
    if file == "-":
        write_document(started.text)
        if started.understood:
            click.echo(safe(started.understood), err=True)
        return 0
    write_safely(Path(file), started.text, new=True)
    if started.understood:
        click.echo(safe(started.understood))
    click.echo(f"{shown(file)}: written. See it with `decodecheck progression show {shown(file)}`.")
    return 0
