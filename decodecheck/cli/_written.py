"""Lists of words as text, JSON or CSV: where their readers stand, and putting the list out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import click

from decodecheck.cli._options import FORMATS
from decodecheck.errors import Problem, UserError
from decodecheck.printing import safe
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.project.config import find_config
from decodecheck.project.fitting import progression_of, step_for
from decodecheck.project.write import write_safely
from decodecheck.source import shown

SUFFIXES = {".txt": "text", "": "text", ".json": "json", ".csv": "csv"}


def format_of(form: str | None, output: str | None) -> str:
    """The format that is meant: as given, else by the name of the output file. Raises UserError where neither says it."""
    if form is not None or output is None:
        return form or FORMATS[0]
    found = SUFFIXES.get(Path(output).suffix.lower())
    if found is None:
        what = f"The name {shown(output)} does not say which format you want."
        raise UserError(Problem("--output", what, "End it in .txt, .json or .csv, or add --format."))
    return found


def write_out(text: str, output: str | None, here: Here) -> None:
    """Print a list or write it to `output`. Raises UserError where that would replace what was read."""
    write_text(text, output, here.inputs)


def write_text(text: str, output: str | None, inputs: Iterable[str]) -> None:
    """Print a text or write it to `output`. Raises UserError where that would replace one of the inputs."""
    if output is None:
        click.echo(text, nl=False)
        return
    write_safely(Path(output), text, read=inputs)
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


def here(progression: str | None, step: str | None, group: str | None, file: str | None = None) -> Here:
    """Where readers stand: as given, else by the decodecheck.toml nearest to a `file`, or to where the program runs: the step that it has for the file,
    or its `step`; else at the last step. Says on standard error what is to be noted of a step expression.

    (`Session`, which also checks texts, is slow to load.) Raises UserError.
    """
    if step is not None and group is not None:
        raise UserError(Problem("--group", "A group has a step of its own.", "Leave --step or --group out."))
    near = "." if file in (None, "-") else str(file)
    config = find_config(Path(progression or near)) if progression is None or group is not None else None
    where = progression or (progression_of(config) if config else None)
    if where is None:
        if step is not None or group is not None:
            what = "No progression is given that has this step."
            raise UserError(Problem("--group" if step is None else "--step", what, NAME_ONE))
        return Here(None)
    wanted = config.step if config and progression is None else None
    if config and wanted is None and near != "." and step is None and group is None:
        wanted = step_for(config, Path(near))
    if step is not None:
        wanted = Wanted(step)
    elif group is not None:
        if config is None:
            todo = "Put a decodecheck.toml with a table [groups] beside the progression, or use --step."
            raise UserError(Problem("--group", "There is no decodecheck.toml to look the group up in.", todo))
        wanted = config.group(group)
    # lists that need no progression do without it
    from decodecheck.progression.resolve import load

    order = load(where, config.accent if config and progression is None else None)
    standing = choose_step(order, wanted)
    for note in standing.notes:
        click.echo(note.text(), err=True)
    return Here(standing, (where, *order.sources, *([str(config.path)] if config else [])))
