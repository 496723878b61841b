"""`decodecheck sheet`: a dictation, phoneme frames and word cards of a list of words."""

from __future__ import annotations

import click

from decodecheck.cli._options import progression_option, sheet_options, step_options

FORMATS = ("text", "json", "csv", "html", "docx")
DATA = (".json", ".csv")


@click.command(name="sheet")
@click.argument("file")
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@sheet_options()
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    help="How to write the sheet. Without it: by the name of the output file, else text.",
)
@click.option("--output", "-o", metavar="FILE", help="Write the sheet into a file.")
def command(
    file: str,
    progression: str | None,
    step: str | None,
    group: str | None,
    parts: tuple[str, ...],
    paper: str | None,
    title: str | None,
    form: str | None,
    output: str | None,
) -> int:
    """Make a sheet to print of a list of words.

    FILE is a word list: a plain text file (- : standard input) with one word on each line, or a table (.csv, .tsv, .xlsx) with a column headed `word`. For the adult a dictation: each word with its graphemes to tick, and what to watch. For the child a phoneme frame for each word,
    with a box for each grapheme and a line to write on. And cards to cut out. Words that cannot be decoded at the step are told.

    For words that fit a lesson, see `decodecheck words --sheet`.
    """
    from dataclasses import replace
    from pathlib import Path

    from decodecheck.cli._pages import page_format, put_out
    from decodecheck.cli._sheets import sheet_page
    from decodecheck.cli._written import here, write_out
    from decodecheck.errors import UserError
    from decodecheck.lists.own_list import repeated, words_of_list
    from decodecheck.project.config import find_config
    from decodecheck.project.fitting import list_rule
    from decodecheck.reports.sheet import as_document, as_table, notes, of_list
    from decodecheck.source import shown
    from decodecheck.wordlists.any_words import describe_any

    if form is None:
        suffix = Path(output or "").suffix.lower()
        form = suffix[1:] if suffix in DATA else page_format(output, also=DATA)
    config = find_config(Path(file)) if file != "-" else None
    rule = list_rule(config, Path(file)) if config else None
    listed = words_of_list(file, rule.columns if rule else {})
    found = here(progression, step, group, file)
    standing = found.must_stand()
    found = replace(found, inputs=(*found.inputs, file))
    described = describe_any(standing.order, standing.step, [entry.word for entry in listed])
    todo = "Check the spelling, or give its reading in the progression."
    unknown = [
        entry.problem("No reading of this is known.", todo) for entry, word in zip(listed, described) if word is None
    ]
    if unknown:
        raise UserError(*unknown)
    words = [word for word in described if word is not None]
    sheet = of_list(standing.order, standing.step, words, title or "")
    made = sheet_page(sheet, parts, paper, shown(file))
    first = {word.word: entry for entry, word in zip(reversed(listed), reversed(words))}
    for word, said in notes(sheet):
        click.echo(first[word].problem(said, "", note=True).text(), err=True)
    for note in repeated(listed):
        click.echo(note.text(), err=True)
    match form:
        case "json":
            write_out(as_document(sheet), output, found)
        case "csv":
            write_out(as_table(sheet), output, found)
        case _:
            put_out(made, form, output, inputs=found.inputs)
    return 0
