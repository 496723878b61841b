"""What the commands on baselines share: a check of everything, and writing the file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from decodecheck.errors import count
from decodecheck.printing import safe
from decodecheck.source import shown

if TYPE_CHECKING:
    from decodecheck.baselined import Held
    from decodecheck.project.baseline import Baseline
    from decodecheck.session import Session


def whole(session: Session, held: Held, files: tuple[str, ...]) -> bool:
    """Check all files; returns whether that could be done with each. Says on standard error what could not be checked, and notes."""
    from decodecheck.cli._failures import tell
    from decodecheck.garbage import collection_paused

    session.known.append(held.baseline.path)
    run = held.of(session.run(files))
    told: set[str] = set()
    with collection_paused():
        for _ in run:
            pass
    for failure in run.failures:
        tell(failure, told)
    for note in run.notes:
        click.echo(note, err=True)
    if run.failures:
        what = f"{safe(shown(held.baseline.path))}: not written, since something could not be checked."
        click.echo(what, err=True)
    return not run.failures


def write(baseline: Baseline, session: Session, said: str) -> None:
    """Write a baseline in one step, and say so. Raises UserError; the old file is then untouched."""
    from decodecheck.project.write import write_safely

    write_safely(Path(baseline.path), baseline.text(), read=session.inputs(), what="baseline")
    files = len({key.file for key in baseline.counts})
    holds = f"{count(sum(baseline.counts.values()), 'finding')} in {count(files, 'file')}"
    click.echo(f"{safe(shown(baseline.path))}: {said}{holds}.")
