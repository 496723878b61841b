"""`decodecheck check`: which words of a text cannot be read yet, and why."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import click

from decodecheck.cli._options import progression_option, step_options

if TYPE_CHECKING:
    from decodecheck.api import CheckedText


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
    from decodecheck.api import Failure, Session, guarded
    from decodecheck.cli._failures import tell
    from decodecheck.cli._streams import write_document
    from decodecheck.printing import as_json, safe
    from decodecheck.reports import console, machine

    if every_word and form != "json":
        raise click.UsageError("--every-word lists words in JSON only. Add --format json.")
    session = Session(progression, step, group)
    checked: list[CheckedText] = []
    failures: list[Failure] = []
    told: set[str] = set()
    for result in session.check_all(files, every_word=every_word):
        lines: list[str] | Failure = []
        if form == "text" and not isinstance(result, Failure):
            lines = guarded(result.report.source.path, partial(_lines, result))
        failed = result if isinstance(result, Failure) else lines
        if isinstance(failed, Failure):
            # one faulty progression is not told again for every text, nor one piece of advice
            tell(failed, told)
            failures.append(failed)
            continue
        assert not isinstance(result, Failure)
        checked.append(result)
        if failed:
            click.echo("\n".join(map(safe, failed)))
    for note in session.notes:
        click.echo(note, err=True)
    if form == "json":
        write_document(as_json(machine.document(checked, failures, every_word=every_word)) + "\n")
    else:
        for line in console.closing(checked, sum(f.is_text for f in failures)):
            click.echo(line)
        if session.left_out:
            click.echo(session.left_out, err=True)
    if failures:
        return 2
    return int(any(c.report.errors or (strict and c.report.findings) for c in checked))


def _lines(checked: CheckedText) -> list[str]:
    from decodecheck.reports import console

    return list(console.render(checked))
