"""`decodecheck accents`: the words of a text whose verdict depends on the accent."""

from __future__ import annotations

import click

from decodecheck.cli._options import progression_option, step_options
from decodecheck.errors import UserError, count, cut


@click.command(name="accents")
@click.argument("files", nargs=-1, required=True)
@progression_option()
@step_options("from decodecheck.toml, else the last step")
def command(files: tuple[str, ...], progression: str | None, step: str | None, group: str | None) -> int:
    """Print the words of texts whose verdict depends on the accent, with the verdict in each."""
    from decodecheck.api import Session
    from decodecheck.checking.verdict import LABELS
    from decodecheck.phonics.sounds import ACCENTS
    from decodecheck.project.discover import find_texts
    from decodecheck.source import read_text, shown

    session = Session(progression, step, group)
    failed = 0
    told: set[str] = set()
    for path in find_texts(files):
        try:
            text = read_text(path)
            verdicts = session.by_accent(path, text)
        except UserError as error:
            said = error.untold(told)
            if said:
                click.echo(said, err=True)
            failed += 1
            continue
        click.echo(f"{shown(path)}: {count(len(verdicts), 'word')} whose verdict depends on the accent")
        for word, statuses in verdicts.items():
            click.echo(f"  {cut(word):<16} " + "; ".join(f"{accent}: {LABELS[statuses[accent]]}" for accent in ACCENTS))
    return 2 if failed else 0
