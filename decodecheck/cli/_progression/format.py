"""`decodecheck progression format`: the canonical form."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from decodecheck.errors import UserError


@click.command(name="format")
@click.argument("file")
@click.option("--check", "only_check", is_flag=True, help="Write nothing; exit code 1 if the file would change.")
def command(file: str, only_check: bool) -> int:
    """Rewrite a progression FILE in its canonical form (- : from standard input to standard output)."""
    from decodecheck.progression.many import first_of
    from decodecheck.progression.parse import parse
    from decodecheck.progression.printer import print_source
    from decodecheck.project.write import write_safely
    from decodecheck.source import read_text

    text = read_text(file)
    source, problems = parse(text.text, text.path)
    if problems:
        raise UserError(*first_of(problems))
    formatted = print_source(source)
    if file == "-":
        sys.stdout.write(formatted)
        return 0
    if formatted == text.text:
        click.echo(f"{file}: unchanged.")
        return 0
    if only_check:
        click.echo(f"{file}: would change.")
        return 1
    write_safely(Path(file), formatted)
    click.echo(f"{file}: rewritten.")
    return 0
