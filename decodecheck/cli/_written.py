"""Lists of words as text, JSON or CSV: where their readers stand, and putting the list out."""

from __future__ import annotations

from pathlib import Path

import click

from decodecheck.cli._options import FORMATS
from decodecheck.errors import Problem, UserError
from decodecheck.printing import safe
from decodecheck.progression.step_expression import Standing
from decodecheck.project.config import find_config
from decodecheck.project.fitting import progression_of
from decodecheck.project.write import write_safely
from decodecheck.session import Session
from decodecheck.source import shown


def format_of(form: str | None, output: str | None) -> str:
    """The format that is asked for, or that the end of a file's name says; else text."""
    suffix = Path(output or "").suffix.lower().removeprefix(".")
    return form or (suffix if suffix in FORMATS else "text")


def write_out(text: str, output: str | None, session: Session) -> None:
    """Print a list or write it to `output`. Raises UserError where that would replace what was read."""
    if output is None:
        click.echo(text, nl=False)
        return
    write_safely(Path(output), text, read=session.inputs())
    click.echo(f"{safe(shown(output))}: written.")


def standing_here(session: Session) -> Standing | None:
    """Where those stand for whom a list is made: as given, else by the nearest decodecheck.toml, whose `step` holds where it has
    one; else at the last step. None where no progression is named. Raises UserError."""
    if session.progression is not None:
        return session.for_progression(session.progression)
    config = find_config(Path())
    where = progression_of(config) if config else None
    if where is None:
        if session.step is not None or session.group is not None:
            what = "No progression is given that has this step."
            raise UserError(Problem("--group" if session.step is None else "--step", what, NAME_ONE))
        return None
    if session.step is not None or session.group is not None:
        return session.settings("-")[0]
    return session.standing(where, config.step if config else None)


NAME_ONE = 'Name one with --progression FILE, or in a decodecheck.toml: progression = "school.progression"'


def must_stand(session: Session) -> Standing:
    """As `standing_here`; raises UserError where no progression is named."""
    standing = standing_here(session)
    if standing is None:
        raise UserError(Problem("--progression", "No progression is given.", NAME_ONE))
    return standing
