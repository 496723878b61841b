"""`decodecheck preview`: what to look at before reading a text with a child."""

from __future__ import annotations

import click

from decodecheck.cli._options import file_names, page_options, progression_option, step_options


@click.command(name="preview")
@click.argument("text", shell_complete=file_names)
@progression_option()
@step_options("from decodecheck.toml, else the last step")
@page_options()
def command(
    text: str, progression: str | None, step: str | None, group: str | None, form: str | None, output: str | None
) -> int:
    """Print what to look at before reading TEXT.

    Half a page for the adult who listens to a child (- : from standard input).
    Words to practise first, tricky words with their odd part, names to say aloud, and words that are not taught yet.
    """
    from decodecheck.cli._pages import put_out, tell_notes
    from decodecheck.insight.preview import preview
    from decodecheck.reports.preview import page
    from decodecheck.session import Session

    session = Session(progression, step, group)
    checked = session.check_story(text, every_word=True)
    tell_notes(session)
    put_out(page(preview(checked)), form, output, inputs=session.inputs())
    return 0
