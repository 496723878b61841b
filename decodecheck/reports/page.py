"""A page as data: what every printable report is made of, whatever format it is printed in."""

from __future__ import annotations

from dataclasses import dataclass

SHORT = 16


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside the page."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A short label with what belongs to it, run on: `nouns  boat, hill, ...`."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells under a header; `wide` are the columns (from 0) that take the room that is left."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[int, ...] = ()

    def short(self, column: int) -> bool:
        """Does every cell of a column fit on one short line?"""
        return max((len(row[column]) for row in self.rows), default=0) <= SHORT


Block = Heading | Paragraph | Entry | Table


@dataclass(frozen=True, slots=True)
class Page:
    """A title, a line below it, blocks. `shape`: "portrait", "landscape" (a wall table) or "half" (half a page)."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    shape: str = "portrait"
