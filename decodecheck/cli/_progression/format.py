"""`decodecheck progression format`: the canonical form."""

from __future__ import annotations

from pathlib import Path

import click

from decodecheck.cli._options import files_argument
from decodecheck.errors import UserError


@click.command(name="format")
@files_argument()
@click.option("--check", "only_check", is_flag=True, help="Write nothing; exit code 1 if a file would change.")
def command(files: tuple[str, ...], only_check: bool) -> int:
    """Rewrite progression FILES in their canonical form (- : from standard input to standard output)."""
    code = 0
    for file in files:
        try:
            code = max(code, _format(file, only_check))
        except UserError as error:
            click.echo(str(error), err=True)
            code = 2
    return code


def _format(file: str, only_check: bool) -> int:
    """Rewrite one progression; returns the exit code. Raises UserError."""
    from decodecheck.cli._streams import write_document
    from decodecheck.errors import Problem
    from decodecheck.printing import hidden, safe
    from decodecheck.progression.many import first_of
    from decodecheck.progression.parse import parse
    from decodecheck.progression.printer import print_source
    from decodecheck.progression.reading import read_progression
    from decodecheck.project.write import write_safely
    from decodecheck.source import shown

    text = read_progression(file)
    source, problems = parse(text.text, text.path)
    at = hidden(text.text)
    if at >= 0:
        line, column = text.place(at)
        what = f"An invisible character stands here (U+{ord(text.text[at]):04X})."
        problems.append(Problem(text.path, what, "Take it out.", line, column, text.line(line)))
    if problems:
        raise UserError(*first_of(problems))
    formatted = print_source(source).replace("\n", _line_end(text.text))
    if file == "-":
        write_document(formatted)
        return 0
    named = safe(shown(file))
    if formatted == text.text:
        click.echo(f"{named}: unchanged.")
        return 0
    if only_check:
        click.echo(f"{named}: would change.")
        return 1
    write_safely(Path(file), formatted)
    click.echo(f"{named}: rewritten.")
    return 0


def _line_end(text: str) -> str:
    """How the lines of a text end: as the first one does."""
    at = text.find("\n")
    if at < 0:
        return "\r" if "\r" in text else "\n"
    return "\r\n" if text[:at].endswith("\r") else "\n"
