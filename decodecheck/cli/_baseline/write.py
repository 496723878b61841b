"""`decodecheck baseline write`: take what is found now for known."""

from __future__ import annotations

from pathlib import Path

import click

from decodecheck.cli._options import baseline_option, check_options, files_argument


@click.command(name="write")
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
    """Check FILES, and write all findings into a baseline.

    An older baseline is replaced. Nothing is written where something could not be checked: exit code 2.
    """
    from decodecheck.baselined import Held
    from decodecheck.cli._baseline._run import whole, write
    from decodecheck.project.baseline import Baseline, refuse_other_file
    from decodecheck.project.list_files import Lists
    from decodecheck.project.write import refuse_unwritable
    from decodecheck.session import Session

    refuse_other_file(baseline)
    refuse_unwritable(Path(baseline), what="baseline")
    session = Session(progression, step, group, lists=Lists(lists, order is not None, target=target))
    held = Held(Baseline(baseline, {}))
    if not whole(session, held, files):
        return 2
    write(held.anew(), session, "written: ")
    return 0
