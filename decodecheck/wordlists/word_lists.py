"""Read a person's own list of words."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.source import read_text, shown


@dataclass(frozen=True, slots=True)
class ListedWord:
    """A word of a list as it is written, and where: line and column from 1, and the whole line."""

    word: str
    line: int
    column: int
    excerpt: str


def words_of_list(path: str) -> list[ListedWord]:
    """The words of a plain text file (`-`: of standard input) with one on each line; empty lines are passed over.

    Raises UserError where it cannot be read, is no such file, holds no word, or more than one word on a line, each with its place.
    """
    if path != "-" and Path(path).suffix.lower() not in (".txt", ""):
        todo = "Save the words as a plain text file (.txt), one on each line."
        raise UserError(Problem(shown(path), "A list is a plain text file with one word on each line.", todo))
    source = read_text(path)
    found = []
    problems = []
    for number in range(1, len(source.line_starts) + 1):
        line = source.line(number)
        word = line.strip()
        if not word:
            continue
        column = line.index(word) + 1
        parts = word.split()
        if len(parts) > 1:
            what = "There is more than one word on this line."
            at = column + len(word) - len(word[len(parts[0]) :].lstrip())
            todo = "Write one word on each line, and nothing else."
            problems.append(Problem(shown(path), what, todo, number, at, line))
        found.append(ListedWord(word, number, column, line))
    if problems:
        raise UserError(*problems)
    if not found:
        raise UserError(Problem(shown(path), "There is no word in this file.", "Write one word on each line."))
    return found
