"""`decodecheck config`: what applies to a file, and where that is said."""

from __future__ import annotations

import click

from decodecheck.cli._options import files_argument


@click.command(name="config")
@files_argument()
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(files: tuple[str, ...], form: str) -> int:
    """Print what applies to FILES, and where that is said.

    The step that a text names itself comes before that of its [[texts]] table, and that before the step at the top of the configuration.
    """
    from functools import partial

    from decodecheck.cli._failures import tell
    from decodecheck.printing import as_json
    from decodecheck.reports.applies import applies, as_record, as_text
    from decodecheck.reports.records import failure_record
    from decodecheck.run import Failure, guarded
    from decodecheck.session import Session

    session = Session()
    told: set[str] = set()
    records = []
    failures = []
    for number, file in enumerate(files):
        settings = guarded(file, partial(applies, session, file))
        if isinstance(settings, Failure):
            failures.append(settings)
            tell(settings, told)
        elif form == "json":
            records.append(as_record(file, settings))
        else:
            for line in (*([""] if number else []), *as_text(file, settings)):
                click.echo(line)
    if form == "json":
        click.echo(as_json({"schema": 1, "files": records, "failures": [failure_record(f) for f in failures]}))
    return 2 if failures else 0
