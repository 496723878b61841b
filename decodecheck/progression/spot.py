"""A line of a progression that is being resolved: the place of what is wrong in it."""

from __future__ import annotations

from dataclasses import dataclass

from decodecheck.errors import Problem
from decodecheck.progression.syntax import Text


@dataclass(frozen=True, slots=True)
class Spot:
    """A line: its file, its number, what it says, and the list that takes what is wrong in it.

    `drafted` says that the file is written by the program: then its lines are none that a message may speak of.
    """

    path: str
    number: int
    line: str
    problems: list[Problem]
    drafted: bool = False

    def problem(self, code: str, text: Text, what: str, todo: str = "", *, note: bool = False) -> None:
        """Report what is wrong with a piece of the line; `code` says which mistake it is."""
        column = min(max(1, text.column), max(1, len(self.line)))
        width = max(1, text.width)
        self.problems.append(Problem(self.path, what, todo, self.number, column, self.line, width, note, code))

    def where(self, path: str, number: int) -> str:
        """Another line, as a message in this one names it after what it says: ", in line 3", or "" where it may not be named."""
        if self.drafted:
            return ""
        return f", in line {number}" if path == self.path else f", in {path}, line {number}"
