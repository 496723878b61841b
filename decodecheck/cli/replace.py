"""`decodecheck replace`: what may stand for the blocked words of a text."""

from __future__ import annotations

import click

from decodecheck.cli._options import files_argument, progression_option, step_options, written_options


@click.command(name="replace")
@files_argument()
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option("--word", metavar="WORD", default="", help="Only for this word, as the text has it.")
@click.option(
    "--number", type=click.IntRange(min=1), default=5, show_default=True, metavar="N", help="How many for each word, at the most."
)  # fmt: skip
@written_options()
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    word: str,
    number: int,
    form: str | None,
    output: str | None,
) -> int:
    """Propose words for those that cannot be read yet.

    For each blocked word: words near it in meaning, in the same form, that can be read at the step and that a child is likely to know; the
    nearest first. They are proposals for a person to choose from. FILES are texts and folders of texts.
    """
    from decodecheck.cli._failures import tell
    from decodecheck.cli._written import format_of, write_text
    from decodecheck.errors import Problem, UserError
    from decodecheck.over_texts import replaceable
    from decodecheck.reports.replacing import as_document, as_table, as_text
    from decodecheck.run import Failure
    from decodecheck.session import Session

    form = format_of(form, output)
    session = Session(progression, step, group)
    found, failed, told = [], 0, set[str]()
    for result in replaceable(session, files, number, word):
        if isinstance(result, Failure):
            tell(result, told)
            failed += 1
        else:
            found.append(result)
    if not found:
        return 2
    if word and not any(text.words for text in found):
        what = f"“{word}” is not among the blocked words."
        raise UserError(Problem("--word", what, "`decodecheck check` lists them; write the word as the text has it."))
    render = {"text": as_text, "json": as_document, "csv": as_table}[form]
    write_text(render(found), output, session.inputs())
    for note in session.notes:
        click.echo(note, err=True)
    return 2 if failed else 0
