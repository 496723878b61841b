"""A word list as it stands in its file: entries in rows, each cell with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from decodecheck.documents.document import Place
from decodecheck.errors import Problem
from decodecheck.source import SourceText

WORD, TARGET, STEP, SEGMENTATION, SOUNDS = COLUMNS = ("word", "target", "step", "segmentation", "sounds")
"""What a column of a list may hold. `target` is a correspondence, as a progression writes it; `sounds` is how many there are."""


@dataclass(frozen=True, slots=True)
class ListCell:
    """A cell: its text, its place, and from where to where that text stands in the file (0 and 0 in a workbook)."""

    text: str
    place: Place
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of a list: its number in the sheet (a line of a plain list), its cells by column (those that are not empty), the
    texts of the whole row, and whether it follows the entry before it without an empty row between."""

    row: int
    cells: Mapping[str, ListCell]
    texts: tuple[str, ...]
    follows: bool = True

    @property
    def word(self) -> ListCell:
        """The cell of the word."""
        return self.cells[WORD]


@dataclass(frozen=True)
class WordList:
    """A list: the sheet's title ("" where a file is one list), its entries in order, and the columns that it has (from 0)."""

    path: str
    title: str
    entries: tuple[Entry, ...]
    columns: Mapping[str, int]
    source: SourceText | None = None
    """The file as text; None for a workbook."""
    width: int = 0
    """Down to which column (from 1) there are headers; 0 for a plain list."""

    def problem(self, cell: ListCell, what: str, todo: str, *, note: bool = False) -> Problem:
        """What is to be said of a cell."""
        width = max(1, len(cell.text))
        if self.source is None:
            return Problem(cell.place.after(self.path), what, todo, 0, 1, cell.text, width, note)
        line, column = cell.place.line, cell.place.column
        return Problem(self.path, what, todo, line, column, self.source.line(line), width, note)
