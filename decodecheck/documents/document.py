"""A text to be checked, whatever file it came in: one run of characters, and where each of them stands in the file."""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import TYPE_CHECKING

from decodecheck.documents.origin import Origin
from decodecheck.source import SourceText

if TYPE_CHECKING:
    from decodecheck.documents.allowance import Allowance
    from decodecheck.documents.notes import OwnStep

_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands, in the terms of its file. What a format does not have is 0 or "".

    `line`, `column`, `paragraph` and `page` count from 1; columns are code points; `cell` is a name such as B7.
    """

    line: int = 0
    column: int = 0
    paragraph: int = 0
    page: int = 0
    chapter: str = ""
    sheet: str = ""
    cell: str = ""

    def within(self, other: Place) -> bool:
        """Whether this place fits another one, which may leave things open (any column, any line)."""
        return all(
            not getattr(other, part.name) or getattr(other, part.name) == getattr(self, part.name)
            for part in fields(self)
        )

    def words(self, *, column: bool = False) -> str:
        """The place as people name it: "line 3", "page 2, paragraph 7", "sheet Autumn, cell B7"."""
        named = [
            (self.chapter, f"chapter {self.chapter}"),
            (self.sheet, f"sheet {self.sheet}"),
            (self.cell, f"cell {self.cell}"),
            (self.page, f"page {self.page}"),
            (self.paragraph, f"paragraph {self.paragraph}"),
            (self.line, f"line {self.line}"),
            (column and self.column, f"column {self.column}"),
        ]
        return ", ".join(text for there, text in named if there)

    def after(self, path: str) -> str:
        """A path with the place behind it: story.txt:3:5 where there are lines, plan.xlsx, sheet Autumn, cell B7 elsewhere."""
        if self.line and not (self.paragraph or self.page or self.cell or self.chapter):
            return f"{path}:{self.line}:{self.column}" if self.column else f"{path}:{self.line}"
        return f"{path}, {self.words(column=True)}"


def as_toml(place: Place) -> str:
    """A place as the lines of a table of decodecheck.toml: `line = 12`; the column is left out."""
    named = [(part.name, getattr(place, part.name)) for part in fields(place) if part.name != "column"]
    return "\n".join(f"{name} = {json.dumps(value, ensure_ascii=False)}" for name, value in named if value)


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of a document that has a place of its own: where it starts, and that place. With `place.line` its line ends are
    counted on from there; otherwise a column counts from its start, on from `place.column` where that is given."""

    start: int
    place: Place


WHOLE = (Block(0, Place(line=1)),)


@dataclass(frozen=True)
class Document:
    """A text in blocks. Offsets count characters of `text`; the blocks start at rising offsets, the first at 0.

    Blocks that are apart in the file (paragraphs, cells) are set apart by a blank line in the text. With an `origin` the places are
    lines and columns of the file that the text was taken out of, and there are no blocks.
    """

    path: str
    text: str
    blocks: Sequence[Block] = WHOLE
    origin: Origin | None = None
    kept: str = "text"
    """What is to be kept for later where a word of it cannot be read yet: the text; of a list, the word."""
    allowances: tuple[Allowance, ...] = ()
    """The words that the file itself allows."""
    own_step: OwnStep | None = None
    """The step that the file itself names."""

    @classmethod
    def of(cls, source: SourceText) -> Document:
        """A plain text, whose places are lines and columns."""
        return cls(source.path, source.text)

    @cached_property
    def _starts(self) -> list[int]:
        return [block.start for block in self.blocks]

    @cached_property
    def line_starts(self) -> list[int]:
        """Offsets at which lines start; a line ends with LF, CR LF or CR."""
        if "\r" in self.text:
            return [0, *(m.end() for m in _LINE_END.finditer(self.text))]
        starts, at = [0], 0
        while at := self.text.find("\n", at) + 1:
            starts.append(at)
        return starts

    def place(self, offset: int) -> Place:
        """The place of the character at an offset."""
        if self.origin:
            return Place(*self.origin.source.place(self.origin.first(offset)))
        block = self.blocks[bisect_right(self._starts, offset) - 1] if len(self.blocks) > 1 else self.blocks[0]
        if not block.place.line:
            return replace(block.place, column=max(1, block.place.column) + offset - block.start)
        starts = self.line_starts
        line = bisect_right(starts, offset) - 1
        number = block.place.line + line
        if block.start:
            number -= bisect_right(starts, block.start) - 1
        place = block.place
        return Place(
            number, offset - starts[line] + 1, place.paragraph, place.page, place.chapter, place.sheet, place.cell
        )

    def end_place(self, end: int) -> Place:
        """The place right after the character before an offset: the end, exclusive, of what ends there."""
        if self.origin:
            return Place(*self.origin.source.place(self.origin.last(end)))
        at = self.place(max(0, end - 1))
        # not `replace`, which takes a while: every finding asks
        column = at.column + 1 if end else at.column
        return Place(at.line, column, at.paragraph, at.page, at.chapter, at.sheet, at.cell)

    def line_of(self, offset: int) -> tuple[str, int]:
        """The line around an offset as the file has it, without its end, and the 1-based column of the offset in it.

        Where the file has no lines it is one of the text.
        """
        if self.origin:
            line, column = self.origin.source.place(self.origin.first(offset))
            return self.origin.source.line(line), column
        starts = self.line_starts
        line = bisect_right(starts, offset) - 1
        end = starts[line + 1] if line + 1 < len(starts) else len(self.text)
        return self.text[starts[line] : end].rstrip("\r\n"), offset - starts[line] + 1
