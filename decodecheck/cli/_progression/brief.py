"""`decodecheck progression brief`: one page for an author."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names, page_options, step_options


@click.command(name="brief")
@click.argument("file", shell_complete=file_names)
@step_options("the last step")
@page_options()
def command(file: str, step: str | None, group: str | None, form: str | None, output: str | None) -> int:
    """Print one page for authors who write for a step.

    What is new at the step, graphemes with key words, tricky words, structures and endings, common usable words by word class,
    and what to avoid.
    """
    from decodecheck.cli._pages import put_out, tell_notes
    from decodecheck.insight.brief import brief
    from decodecheck.reports.brief import page
    from decodecheck.session import Session

    session = Session(file, step, group)
    standing = session.for_progression(file)
    tell_notes(session)
    put_out(page(brief(standing.order, standing.step)), form, output, inputs=session.inputs())
    return 0
