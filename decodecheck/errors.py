"""Errors for people: where it is, what is wrong, what to do."""

from __future__ import annotations

import re
from dataclasses import dataclass

from decodecheck.printing import columns, safe

TRACEBACK = "DECODECHECK_TRACEBACK"
"""The environment variable that has faults of the program itself printed at length."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, at one place.

    `path` is what the user typed; `line` and `column` are 1-based (0: the problem has no such place);
    a column without a line is one of an option or a cell. `excerpt` is the source line as it stands, `width` how many characters the caret marks.
    `code` says which mistake it is, in small words with hyphens between them, for what the program makes of it: nothing reads the
    sentences but people. "" for a mistake that nothing but people asks about.
    """

    path: str
    what: str
    todo: str = ""
    line: int = 0
    column: int = 0
    excerpt: str = ""
    width: int = 1
    note: bool = False
    code: str = ""

    def text(self) -> str:
        """The message as people read it: place, excerpt with a caret, explanation, remedy."""
        what, todo = safe(shortened(self.what)), safe(shortened(self.todo))
        place = cut_path(safe(self.path))
        if self.line:
            place += f":{self.line}"
            if self.column:
                place += f":{self.column}"
        lines = [f"{place}: {'note: ' if self.note else ''}{what}"]
        if self.column and (self.line or self.excerpt):
            lines += excerpt_lines(self.excerpt, self.column, self.width)
        if todo:
            lines.append(f"  {todo}")
        return "\n".join(lines)


class UserError(Exception):
    """Something the user can mend. Holds one problem or several; the command ends with exit code 2."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("\n".join(problem.text() for problem in problems))
        self.problems = problems

    def untold(self, told: set[str]) -> str:
        """The message without what `told` holds: problems told before, and advice given for another file. Adds to `told`."""
        lines = []
        for problem in self.problems:
            text = problem.text()
            if text in told:
                continue
            again = f"{problem.what} {problem.todo}"
            lines.append(text.split("\n")[0] if again in told and not problem.line else text)
            told |= {text} if problem.line else {text, again}
        return "\n".join(lines)


def excerpt_lines(source: str, column: int, width: int, *, room: int = 76) -> list[str]:
    """The line around `column` (1-based) and a line with carets under it; long lines are cut with an ellipsis.

    Column and width count characters, as programs count them; the carets stand under the columns that these take in a terminal.
    """
    start = column - 1
    left = 0 if len(source) <= room else max(0, start - room // 2)
    while 0 < left < len(source) and not columns(source[left]):
        left -= 1  # no combining mark without its letter
    shown = source[left : left + room]
    lead = "..." if left else ""
    tail = "..." if left + room < len(source) else ""
    line = safe(shown.replace("\t", " "))
    at = start - left
    marks = max(1, columns(line[at : at + max(width, 1)]))
    return [f"    {lead}{line}{tail}", f"    {' ' * columns(lead + line[:at])}{'^' * marks}"]


def count(number: int, noun: str) -> str:
    """A number with its noun: 1 step, 2 steps."""
    return f"{number} {noun}{'' if number == 1 else 's'}"


LONG_WORD = 60
LONG_TEXT = 1500
LONG_PATH = 300


def cut(text: str, most: int = LONG_WORD) -> str:
    """A text of at most so many characters: a longer one ends in an ellipsis."""
    return text if len(text) <= most else text[: most - 3] + "..."


def cut_path(path: str) -> str:
    """A path of a length that leaves room for what is said of it: the middle of a very long one is left out."""
    return path if len(path) <= LONG_PATH else f"{path[: LONG_PATH // 2]}...{path[-LONG_PATH // 2 :]}"


def shortened(text: str) -> str:
    """A message in which no word is so long that it hides the rest."""
    if len(text) <= LONG_WORD:
        return text
    return cut(with_short_words(text), LONG_TEXT)


def with_short_words(text: str) -> str:
    """A text with the ends of very long words left out."""
    return re.sub(rf"[\w'’-]{{{LONG_WORD + 1},}}", lambda long: cut(long[0]), text)


def nearest(word: str, known: list[str], *, most: int = 3) -> list[str]:
    """The known names closest to `word`, best first."""
    import difflib

    return difflib.get_close_matches(word, known, n=most, cutoff=0.5)
