"""Read a file that a progression includes: only of the same project, and only if it is a progression."""

from __future__ import annotations

from pathlib import Path

from decodecheck.bounds import outside
from decodecheck.errors import Problem, UserError
from decodecheck.progression.parse import parse
from decodecheck.source import read_text, shown


def read_included(path: str, base: Path) -> str:
    """The text of an included file; `base` is the folder of the progression that everything is included into.

    Raises UserError where the file cannot be read, lies outside of the project, or has no line that is a statement: what is in
    it is then nobody's business, and no line of it is shown.
    """
    if outside(path, base):
        what = "It lies outside of the project."
        raise UserError(
            Problem(shown(path), what, "Put it into the project, or run the command from a folder that holds both.")
        )
    text = read_text(path).text
    source, problems = parse(text, path)
    if problems and not any(line.statement is not None for line in source.lines):
        raise UserError(Problem(shown(path), "It is no progression: no line of it is a statement.", "Check the path."))
    return text
