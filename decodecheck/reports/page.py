"""A page as data: what every printable report is made of, whatever format it is printed in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decodecheck.reports.step_chart import Chart

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
    """Rows of cells under a header; `wide` are the columns (from 0) that may take several lines."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[int, ...] = ()

    def short(self, column: int) -> bool:
        """Does every cell of a column fit on one short line?"""
        return max((len(row[column]) for row in self.rows), default=0) <= SHORT

    def numeric(self, column: int) -> bool:
        """Does a column hold numbers only?"""
        return all(row[column].lstrip("+").isdigit() or not row[column] for row in self.rows)


@dataclass(frozen=True, slots=True)
class Bars:
    """A small chart with a line below it, for formats that can draw: how many words cannot be read at each step. What it shows has to be told
    elsewhere on the page, too."""

    text: str
    chart: Chart


@dataclass(frozen=True, slots=True)
class Card:
    """One step for the wall: its name, its graphemes each with one key word ("" for none), its tricky words."""

    name: str
    graphemes: tuple[tuple[str, str], ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Display:
    """Cards in large type, to be read from across a room."""

    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What follows begins a sheet of paper of its own, under this title and a line below it."""

    title: str
    subtitle: str = ""


@dataclass(frozen=True, slots=True)
class Blanks:
    """Labels side by side, each with a line to write on: the date, a name."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Dictated:
    """A word to dictate: its graphemes, each of them a marking point, how many sounds it has, and what to watch in it."""

    word: str
    graphemes: tuple[str, ...]
    sounds: int
    watch: str


@dataclass(frozen=True, slots=True)
class Dictation:
    """The words of a dictation by number, with a box to tick for each grapheme."""

    words: tuple[Dictated, ...]


@dataclass(frozen=True, slots=True)
class Frames:
    """Phoneme frames by number: for each word so many empty boxes as it has graphemes, and a line to write the word on."""

    boxes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WordCards:
    """Words in large type, each on a card to cut out."""

    words: tuple[str, ...]


Block = Heading | Paragraph | Entry | Table | Bars | Display | Sheet | Blanks | Dictation | Frames | WordCards


@dataclass(frozen=True, slots=True)
class Page:
    """A title, a line below it, blocks. `shape`: "portrait", "landscape", "half" (half a page), or "sheet" (in large type, to write
    on); `paper`: one of `paper.PAPERS`."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    shape: str = "portrait"
    paper: str = "a4"
