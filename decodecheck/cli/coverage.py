"""`decodecheck coverage`: what texts give practice in."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names, files_argument, progression_option, step_options

FORMATS = ("text", "json", "csv", "html", "docx")
DATA = (".json", ".csv")


@click.command(name="coverage")
@files_argument()
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@click.option(
    "--format", "form", type=click.Choice(FORMATS), help="How to write it. Without it: by the name of the output file, else text."
)  # fmt: skip
@click.option("--output", "-o", metavar="FILE", shell_complete=file_names, help="Write it into a file.")
def command(
    files: tuple[str, ...],
    progression: str | None,
    step: str | None,
    group: str | None,
    form: str | None,
    output: str | None,
) -> int:
    """Count what texts give practice in.

    For each lesson so far: the decodable words that hold it, how often and where in them, in how much of the text, and how many such words there are
    in books for young children; tricky words, what of the step is not met, words in a sentence. Of several texts, in the order in which they are named
    or found: how many have been read since each lesson was last met. Numbers, and no marks. FILES are texts and folders of texts.
    """
    from pathlib import Path

    from decodecheck.cli._failures import tell
    from decodecheck.cli._pages import page_format, put_out, tell_notes
    from decodecheck.cli._written import write_text
    from decodecheck.over_texts import coverages
    from decodecheck.reports.covering import as_document, as_table, page
    from decodecheck.run import Failure
    from decodecheck.session import Session

    if form is None:
        suffix = Path(output or "").suffix.lower()
        form = suffix[1:] if suffix in DATA else page_format(output, also=DATA)
    session = Session(progression, step, group)
    covered, failed, told = [], 0, set[str]()
    for result in coverages(session, files):
        if isinstance(result, Failure):
            tell(result, told)
            failed += 1
        else:
            covered.append(result)
    if not covered:
        return 2
    inputs = session.inputs()
    match form:
        case "json":
            write_text(as_document(covered), output, inputs)
        case "csv":
            write_text(as_table(covered), output, inputs)
        case _:
            put_out(page(covered), form, output, inputs=inputs)
    tell_notes(session)
    return 2 if failed else 0
