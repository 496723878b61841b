"""`decodecheck accents`: the words of a text whose verdict depends on the accent."""

from __future__ import annotations

import click

from decodecheck.cli._options import files_argument, progression_option, step_options
from decodecheck.errors import count, cut


@click.command(name="accents")
@files_argument()
@progression_option()
@step_options("from decodecheck.toml, else the last step")
def command(files: tuple[str, ...], progression: str | None, step: str | None, group: str | None) -> int:
    """Print the words of texts whose verdict depends on the accent, with the verdict in each."""
    from decodecheck.cli._failures import tell
    from decodecheck.judging.verdict import LABELS
    from decodecheck.over_texts import by_accent
    from decodecheck.phonics.sounds import ACCENTS
    from decodecheck.printing import safe
    from decodecheck.run import Failure
    from decodecheck.session import Session
    from decodecheck.source import shown

    session = Session(progression, step, group)
    failed = 0
    told: set[str] = set()
    for result in by_accent(session, files):
        if isinstance(result, Failure):
            tell(result, told)
            failed += 1
            continue
        path, verdicts = result
        click.echo(f"{safe(shown(path))}: {count(len(verdicts), 'word')} whose verdict depends on the accent")
        for word, statuses in verdicts.items():
            click.echo(
                f"  {safe(cut(word)):<16} " + "; ".join(f"{accent}: {LABELS[statuses[accent]]}" for accent in ACCENTS)
            )
    for note in session.notes:
        click.echo(note, err=True)
    return 2 if failed else 0
