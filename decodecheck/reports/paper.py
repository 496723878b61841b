"""How large things are on a sheet to write on or to cut: in millimetres, type in points."""

from __future__ import annotations

from decodecheck.errors import count
from decodecheck.reports.page import Dictation, Frames, WordCards

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height of upright sheets (ISO 216; ANSI/ASME Y14.1, size A)."""
NAMES = {"a4": "A4", "letter": "letter"}
"""What CSS calls them (CSS Paged Media Module Level 3, "Page size")."""
MARGIN = 13.0
_MM = 0.3528
_LETTER = 0.66
"""How wide a letter is, as a part of the type size; the fonts are wide ones."""

TYPE = 12.0
"""Of running text on a sheet."""
DICTATED = 14.0
"""Of a word that is dictated and of its graphemes."""
BOX, SMALLEST_BOX = 14.0, 4.0
NUMBER, GAP, WRITING = 11.0, 7.0, 56.0
"""Room for the number of a frame, beside its boxes, and the least for the line to write on."""
BETWEEN = 8.5
"""From one frame to the next."""
CARD_COLUMNS, CARD = 2, 31.0
"""Cards in a row, and how high they are."""
LARGEST, SMALLEST = 44.0, 9.0
"""Type on cards."""
CARD_EDGE = 6.0


def line_width(paper: str) -> float:
    """How wide a line of an upright sheet is."""
    return PAPERS[paper][0] - 2 * MARGIN


def box_width(frames: Frames, paper: str) -> float:
    """How wide the boxes are: all the same, as wide as the longest word allows."""
    room = line_width(paper) - NUMBER - GAP - WRITING
    return max(SMALLEST_BOX, min(BOX, room / max(frames.boxes, default=1)))


def boxes_width(frames: Frames, paper: str) -> float:
    """How much room the boxes of the longest word take."""
    return max(frames.boxes, default=1) * box_width(frames, paper)


def card_type(cards: WordCards, paper: str) -> float:
    """The type size of all the words on cards: the largest with which the longest stays in one line."""
    room = line_width(paper) / CARD_COLUMNS - 2 * CARD_EDGE
    longest = max(map(len, cards.words), default=1)
    return max(SMALLEST, min(LARGEST, round(room / (longest * _LETTER * _MM) - 0.5)))


def points(dictation: Dictation) -> str:
    """How many marking points a dictation has."""
    return count(sum(len(word.graphemes) for word in dictation.words), "marking point")


HEAD = ("", "Word", "A box to tick for each grapheme", "Graphemes", "Sounds", "To watch")
"""The head of a dictation; what to watch stands below the boxes where paper is wide enough for them alone."""
COLUMNS = (11.0, 42.0, 0.0, 23.0, 17.0)
"""How wide its columns are; one has the rest."""
SMALL, SMALLER = 9.5, 8.0
"""Of what to watch, and of the head."""


def column_widths(paper: str) -> list[float]:
    """The widths of the columns of a dictation."""
    return [given or line_width(paper) - sum(COLUMNS) for given in COLUMNS]
