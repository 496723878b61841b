"""`decodecheck progression show`: a progression as a table by step."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names, page_options, step_options


@click.command(name="show")
@click.argument("file", shell_complete=file_names)
@step_options("all steps")
@click.option(
    "--standard", metavar="NAME", help="The shipped standard to compare with. Without it: that of the accent."
)
@page_options()
def command(
    file: str, step: str | None, group: str | None, standard: str | None, form: str | None, output: str | None
) -> int:
    """Show a progression FILE step by step, up to --step.

    A sheet for the wall with graphemes, key words and tricky words. Then sheets for the teacher: how many of the commonest words
    become readable, what is unusual in the tricky words, lessons that are easily confused, and what a published standard has
    beyond it.
    """
    from decodecheck.cli._pages import put_out, tell_notes
    from decodecheck.insight.overview import overview
    from decodecheck.reports.overview import page
    from decodecheck.session import Session

    session = Session(file, step, group)
    standing = session.for_progression(file)
    tell_notes(session)
    put_out(page(overview(standing.order, standing.step, standard)), form, output, inputs=session.inputs())
    return 0
