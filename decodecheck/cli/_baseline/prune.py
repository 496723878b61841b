"""`decodecheck baseline prune`: take out what is not there any more."""

from __future__ import annotations

import click

from decodecheck.cli._options import baseline_option, check_options, files_argument


@click.command(name="prune")
@files_argument()
@baseline_option(required=True)
@check_options()
def command(
    files: tuple[str, ...],
    baseline: str,
    progression: str | None,
    step: str | None,
    group: str | None,
    lists: bool,
    order: str | None,
    target: str,
) -> int:
    """Check FILES, and take out of a baseline what does not occur any more, or not as often.

    Nothing is added to it. What it holds of files that are not among FILES stays, unless they are gone. Nothing is written where something
    could not be checked: exit code 2.
    """
    from decodecheck.baselined import Held
    from decodecheck.cli._baseline._run import whole, write
    from decodecheck.errors import count
    from decodecheck.printing import safe
    from decodecheck.project.baseline import read_baseline
    from decodecheck.project.list_files import Lists
    from decodecheck.session import Session
    from decodecheck.source import shown

    session = Session(progression, step, group, lists=Lists(lists, order is not None, target=target))
    held = Held(read_baseline(baseline))
    if not whole(session, held, files):
        return 2
    taken_out = sum(held.idle().values())
    if not taken_out:
        click.echo(f"{safe(shown(baseline))}: unchanged.")
        return 0
    write(held.pruned(), session, f"{count(taken_out, 'finding')} taken out; it holds ")
    return 0
