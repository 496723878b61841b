"""A word list as a document: its words one after another, each at the place of its cell."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from decodecheck.documents.document import Document, Place
from decodecheck.lists.word_list import Entry, WordList

BETWEEN = "\n\n"
"""Between words, so that none is a neighbour of another."""


@dataclass(frozen=True)
class ListDocument(Document):
    """The words of entries. An offset has the place of its cell; the line around it is the whole row."""

    word_list: WordList | None = None
    entries: tuple[Entry, ...] = ()
    kept: str = "word"

    @cached_property
    def starts(self) -> list[int]:
        """Where each entry's word starts in the text."""
        starts, at = [], 0
        for entry in self.entries:
            starts.append(at)
            at += len(entry.word.text) + len(BETWEEN)
        return starts

    def number(self, offset: int) -> int:
        """Which entry an offset is in."""
        return bisect_right(self.starts, offset) - 1

    def place(self, offset: int) -> Place:
        """The place of an offset: line and column where the file has lines, else sheet and cell."""
        at = self.number(offset)
        place, inside = self.entries[at].word.place, offset - self.starts[at]
        return replace(place, column=place.column + inside if place.line else inside + 1)

    def line_of(self, offset: int) -> tuple[str, int]:
        """The row around an offset, and the 1-based column of the offset in it."""
        at = self.number(offset)
        entry, inside = self.entries[at], offset - self.starts[at]
        source = self.word_list.source if self.word_list else None
        if source is not None:
            return source.line(entry.word.place.line), entry.word.place.column + inside
        return entry.word.text, inside + 1


def words_of(lists: Sequence[WordList]) -> ListDocument:
    """The words of all lists of a file as one document."""
    return list_document(lists[0], [entry for word_list in lists for entry in word_list.entries])


def list_document(word_list: WordList, entries: Sequence[Entry]) -> ListDocument:
    """Some entries of a list as a document."""
    text = BETWEEN.join(entry.word.text for entry in entries)
    return ListDocument(word_list.path, text, word_list=word_list, entries=tuple(entries))
