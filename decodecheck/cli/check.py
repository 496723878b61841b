"""`decodecheck check`: which words of a text cannot be read yet, and why."""

from __future__ import annotations

import sys

import click

from decodecheck.cli._options import progression_option, step_options
from decodecheck.reports import check as formats


@click.command(name="check")
@click.argument("files", nargs=-1, required=True)
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option(
    "--format",
    "form",
    type=click.Choice(formats.names()),
    default="text",
    show_default=True,
    help="How to report.",
)
@click.option("--details", is_flag=True, help="Text: places, excerpts and remedies, once for each word and reason.")
@click.option("--every-place", is_flag=True, help="Text: the same for each place at which a word stands.")
@click.option("--word", metavar="WORD", help="Text: the details of one word alone.")
@click.option("--quiet", "-q", is_flag=True, help="Text: nothing about what is fine.")
@click.option("--every-word", is_flag=True, help="JSON: list the words that are fine, too.")
@click.option(
    "--stdin-name",
    metavar="NAME",
    help="Read standard input as the file of this name would be, with its configuration.",
)
@click.option("--strict", is_flag=True, help="Fail on words to check by eye, too.")
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str,
    details: bool,
    every_place: bool,
    word: str | None,
    quiet: bool,
    every_word: bool,
    stdin_name: str | None,
    strict: bool,
) -> int:
    """Check texts against a progression.

    FILES are texts (.txt, .md, .html, .docx, .odt, .pdf, .epub), folders of them, or - for standard input. Exit code 0: no word was found
    that cannot be read (words to check by eye count only with --strict); 1: some cannot be read; 2: something could not be checked.
    """
    from decodecheck.cli._failures import tell
    from decodecheck.cli._streams import write_document
    from decodecheck.garbage import collection_paused
    from decodecheck.reports.view import View
    from decodecheck.session import Session

    if every_word and form != "json":
        raise click.UsageError("--every-word lists words in JSON only. Add --format json.")
    asked = {"--details": details, "--every-place": every_place, "--word": word, "--quiet": quiet}
    idle = next((name for name, given in asked.items() if given and form != "text"), None)
    if idle:
        raise click.UsageError(f"{idle} is for the text report only. Take it or --format {form} out.")
    if stdin_name is not None and "-" not in files:
        raise click.UsageError("--stdin-name names standard input. Add - to the files, or take it out.")
    if stdin_name == "":
        raise click.UsageError("--stdin-name is empty. Write for instance --stdin-name story.md.")
    session = Session(progression, step, group, stdin_name=stdin_name)
    run = session.run(files, every_word=every_word)
    width = _width() if form == "text" else 0
    view = View(width, details, every_place, word or "", quiet, every_word, session.readers)
    report = formats.named(form)
    told: set[str] = set()
    at = 0
    with collection_paused():
        for piece in report.render(run, view):
            # what fails is told where it stands among the texts; one faulty progression not again for each of them
            for failure in run.failures[at:]:
                tell(failure, told)
            at = len(run.failures)
            if report.MACHINE:
                write_document(piece)
            else:
                click.echo(piece, nl=False)
    for failure in run.failures[at:]:
        tell(failure, told)
    for note in session.notes if report.MACHINE else run.notes:
        click.echo(note, err=True)
    return run.exit_code(strict=strict)


def _width() -> int:
    """The columns of the terminal that standard output is; 0 where it is none."""
    import shutil

    return shutil.get_terminal_size().columns if sys.stdout.isatty() else 0
