"""A problem as the page tells it: what is wrong, what to do, and the line with the place in it."""

from __future__ import annotations

from dataclasses import dataclass

from decodecheck.errors import Problem, cut_path, shortened
from decodecheck.printing import safe

ROOM = 70
"""Characters of a line that are shown around the place."""


@dataclass(frozen=True, slots=True)
class Told:
    """Where (a file and line, or a field), what is wrong, what to do; the line before the place, the place, and after it."""

    where: str
    what: str
    todo: str
    before: str = ""
    marked: str = ""
    after: str = ""
    line: int = 0


def told(problem: Problem) -> Told:
    """A problem, ready to be shown."""
    where = cut_path(safe(problem.path))
    if problem.line:
        where += f", line {problem.line}"
    before = marked = after = ""
    if problem.column and problem.excerpt:
        line, at = problem.excerpt.replace("\t", " "), problem.column - 1
        end = at + max(1, problem.width)
        before = ("..." if at > ROOM else "") + line[max(0, at - ROOM) : at]
        marked = line[at:end][:ROOM]
        after = line[end : end + ROOM] + ("..." if len(line) > end + ROOM else "")
    return Told(where, shortened(problem.what), shortened(problem.todo), before, marked, after, problem.line)
