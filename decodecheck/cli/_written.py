"""Lists of words as text, JSON or CSV: where their readers stand, and putting the list out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from decodecheck.cli._options import FORMATS
from decodecheck.errors import Problem, UserError
from decodecheck.printing import safe
from decodecheck.progression.step_expression import Standing
from decodecheck.project.config import find_config
from decodecheck.project.fitting import progression_of
from decodecheck.project.write import write_safely
from decodecheck.source import shown


def format_of(form: str | None, output: str | None) -> str:
    """The format that is asked for, or that the end of a file's name says; else text."""
    suffix = Path(output or "").suffix.lower().removeprefix(".")
    return form or (suffix if suffix in FORMATS else "text")


def write_out(text: str, output: str | None, here: Here) -> None:
    """Print a list or write it to `output`. Raises UserError where that would replace what was read."""
    if output is None:
        click.echo(text, nl=False)
        return
    write_safely(Path(output), text, read=here.inputs)
    click.echo(f"{safe(shown(output))}: written.")


@dataclass(frozen=True)
class Here:
    """Where those stand for whom a list is made, if a progression is named; and the files that were read for that."""

    standing: Standing | None
    inputs: tuple[str, ...] = ()

    def must_stand(self) -> Standing:
        """Where they stand. Raises UserError where no progression is named."""
        if self.standing is None:
            raise UserError(Problem("--progression", "No progression is given.", NAME_ONE))
        return self.standing


NAME_ONE = 'Name one with --progression FILE, or in a decodecheck.toml: progression = "school.progression"'


def here(progression: str | None, step: str | None, group: str | None) -> Here:
    """Where readers stand: as given, else by the nearest decodecheck.toml, whose `step` holds where it has one; else at the last step.
    Says on standard error what is to be noted of a step expression.

    Raises UserError.
    """
    config = find_config(Path()) if progression is None else None
    where = progression or (progression_of(config) if config else None)
    if where is None:
        if step is not None or group is not None:
            what = "No progression is given that has this step."
            raise UserError(Problem("--group" if step is None else "--step", what, NAME_ONE))
        return Here(None)
    # lists that need no progression do without it, and it is slow to load
    from decodecheck.cli._pages import tell_notes
    from decodecheck.session import Session

    session = Session(progression, step, group)
    if progression is not None:
        standing = session.for_progression(progression)
    elif step is not None or group is not None:
        standing = session.settings("-")[0]
    else:
        standing = session.standing(where, config.step if config else None)
    tell_notes(session)
    return Here(standing, tuple(session.inputs()))
