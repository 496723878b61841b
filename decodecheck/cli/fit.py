"""`decodecheck fit`: which step a text fits, and which group can take it home."""

from __future__ import annotations

import click

from decodecheck.cli._options import files_argument, progression_option, step_options

FORMATS = ("text", "json", "csv", "html", "docx")
DATA = (".json", ".csv")


@click.command(name="fit")
@files_argument()
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option("--groups", is_flag=True, help="A grid: which text can go home with which group of decodecheck.toml.")
@click.option(
    "--sort",
    type=click.Choice(("first", "name", "waiting", "words")),
    help="Several texts: by the first step at which all can be read, by name, by how many words cannot be read at their step, by how many they have. "
    "Without it: first in a table, else as they are found.",
)
@click.option(
    "--format", "form", type=click.Choice(FORMATS), help="How to write it. Without it: by the name of the output file, else text."
)  # fmt: skip
@click.option("--output", "-o", metavar="FILE", help="Write it into a file.")
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    groups: bool,
    sort: str | None,
    form: str | None,
    output: str | None,
) -> int:
    """Tell which step texts fit.

    For each text: how many words are not yet decodable at every step, the first step at which all can be read, the few words that hold it
    back, and the up to five lessons and tricky words that would clear most of its words at the step. FILES are texts and folders of texts.
    """
    from pathlib import Path

    from decodecheck.cli._failures import tell
    from decodecheck.cli._pages import page_format, put_out
    from decodecheck.cli._written import write_text
    from decodecheck.errors import Problem, UserError
    from decodecheck.insight.fit import SORTS
    from decodecheck.over_texts import fits
    from decodecheck.reports.fitting import as_document, as_table, page
    from decodecheck.run import Failure
    from decodecheck.session import Session

    if form is None:
        suffix = Path(output or "").suffix.lower()
        form = suffix[1:] if suffix in DATA else page_format(output, also=DATA)
    session = Session(progression, step, group)
    fitted, failed, told = [], 0, set[str]()
    for result in fits(session, files, groups=groups or form in ("json", "csv")):
        if isinstance(result, Failure):
            tell(result, told)
            failed += 1
        else:
            fitted.append(result)
    if not fitted:
        return 2
    if groups and not any(f.groups for f in fitted):
        todo = 'Write into decodecheck.toml, for instance: [groups] and below it  Limpets = "14 also igh as in light"'
        raise UserError(Problem("--groups", "No group is named for these texts.", todo))
    if sort is None and not groups and form not in ("json", "csv"):
        sort = "first"
    if sort:
        key = SORTS[sort]
        fitted.sort(key=lambda one: key(one.fit))
    inputs = session.inputs()
    match form:
        case "json":
            write_text(as_document(fitted), output, inputs)
        case "csv":
            write_text(as_table(fitted), output, inputs)
        case _:
            put_out(page(fitted, groups=groups), form, output, inputs=inputs)
    for note in session.notes:
        click.echo(note, err=True)
    return 2 if failed else 0
