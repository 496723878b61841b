"""A person's own list as words, for a sheet: each entry one word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lists.reading import read_list
from decodecheck.lists.word_list import ListCell, WordList
from decodecheck.progression.many import first_of


@dataclass(frozen=True, slots=True)
class ListedWord:
    """A word of a list as it is written, and the cell that holds it."""

    word: str
    cell: ListCell
    word_list: WordList

    def problem(self, what: str, todo: str, *, note: bool = False) -> Problem:
        """What is to be said of the word, at its place."""
        return self.word_list.problem(self.cell, what, todo, note=note)


def words_of_list(path: str, columns: Mapping[str, str]) -> list[ListedWord]:
    """The words of a list file, as `read_list` finds them.

    Raises UserError where it cannot be read, and with the place of every entry that is more than one word.
    """
    found = [
        ListedWord(entry.word.text, entry.word, word_list)
        for word_list in read_list(path, columns).lists
        for entry in word_list.entries
    ]
    todo = "Write one word there, and nothing else."
    problems = [listed.problem("This is more than one word.", todo) for listed in found if len(listed.word.split()) > 1]
    if problems:
        raise UserError(*first_of(problems))
    return found


def repeated(listed: Sequence[ListedWord]) -> Iterator[Problem]:
    """A note on each word that stands in the list before, capitals aside."""
    first: dict[str, ListedWord] = {}
    for one in listed:
        before = first.setdefault(plain_spelling(one.word).plain, one)
        if before is not one:
            where = before.cell.place.words()
            yield one.problem(f"This word stands in the list already ({where}).", "", note=True)
