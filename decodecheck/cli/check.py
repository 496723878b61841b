"""`decodecheck check`: which words of a text cannot be read yet, and why."""

from __future__ import annotations

import json

import click

from decodecheck.cli._options import progression_option, step_options
from decodecheck.errors import UserError


@click.command(name="check")
@click.argument("files", nargs=-1, required=True)
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True, help="How to report."
)
@click.option("--every-word", is_flag=True, help="JSON: list the words that are fine, too.")
@click.option("--strict", is_flag=True, help="Fail on words to check by eye, too.")
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str,
    every_word: bool,
    strict: bool,
) -> int:
    """Check texts against a progression.

    FILES are text files, folders of .txt files, or - for standard input. Exit code 0: no word was found that cannot be read (words
    to check by eye count only with --strict); 1: some cannot be read; 2: something could not be checked.
    """
    from decodecheck.api import CheckedText, Session
    from decodecheck.reports import console, machine

    session = Session(progression, step, group)
    checked: list[CheckedText] = []
    failed = 0
    told: set[str] = set()
    for result in session.check_all(files, every_word=every_word):
        if isinstance(result, UserError):
            # one faulty progression is not told again for every text, nor one piece of advice
            said = result.untold(told)
            if said:
                click.echo(said, err=True)
            failed += 1
            continue
        checked.append(result)
        if form == "text":
            for line in console.render(result):
                click.echo(line)
    for note in session.notes:
        click.echo(note, err=True)
    if form == "json":
        click.echo(json.dumps(machine.document(checked, every_word=every_word), ensure_ascii=False))
    else:
        for line in console.closing(checked, failed):
            click.echo(line)
    if failed:
        return 2
    return int(any(c.report.errors or (strict and c.report.findings) for c in checked))
