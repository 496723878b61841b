"""Read a progression, and what it includes: only files of the same project, and only progressions."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from decodecheck.bounds import leads_out, outside
from decodecheck.errors import Problem, UserError
from decodecheck.progression.parse import parse
from decodecheck.source import SourceText, linked_out, read_text, shown


def read_progression(path: str) -> SourceText:
    """The progression at a path that somebody typed; `-` is standard input.

    Raises UserError where it cannot be read, or is a link in a project to something outside it.
    """
    if path != "-" and leads_out(path):
        raise UserError(linked_out(path))
    return read_text(path)


Read = Callable[[str], SourceText]
"""Reads a file; raises UserError where it cannot be read."""


def read_included(path: str, base: Path, read: Read = read_text) -> str:
    """The text of an included file; `base` is the folder of the progression that everything is included into, `read` reads the file,
    as it is now or was once.

    Raises UserError where the file cannot be read, lies outside of the project, or has no line that is a statement: what is in
    it is then nobody's business, and no line of it is shown.
    """
    if outside(path, base):
        what = "It lies outside of the project."
        todo = "Put it into the project, or run the command from a folder that holds both."
        raise UserError(Problem(shown(path), what, todo))
    text = read(path).text
    source, problems = parse(text, path)
    if problems and not any(line.statement is not None for line in source.lines):
        raise UserError(Problem(shown(path), "It is no progression: no line of it is a statement.", "Check the path."))
    return text
