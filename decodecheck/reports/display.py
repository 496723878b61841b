"""How large a wall display is printed, so that it fills one sheet and no more."""

from __future__ import annotations

from decodecheck.reports.page import Card, Display

COLUMNS = 3
WIDTH, HEIGHT = 273.0, 166.0
"""Millimetres that the cards of an A4 sheet on its side have, below the title."""
GAP = 8.0
LARGEST, SMALLEST = 34.0, 11.0
"""Type sizes of a grapheme in points; a progression that does not fit in the smallest goes on to a second sheet."""
KEY_WORD, TRICKY, NAME = 0.6, 0.7, 0.45
"""Type sizes of the rest as parts of that of a grapheme."""
GAP_BETWEEN = 0.8
"""How far one grapheme stands from the next, as a part of the type size."""
_MM = 0.3528
_LETTER, LINE, AFTER = 0.66, 1.2, 0.45
"""How wide a letter is, how high a line, how much room follows a card, as parts of the type size."""


def type_size(display: Display) -> float:
    """The type size of a grapheme in points: the largest with which all cards stand on one sheet."""
    size = LARGEST
    while size > SMALLEST and not _fits(display, size):
        size -= 0.5
    return size


def _fits(display: Display, size: float) -> bool:
    heights = [_height(card, size) for card in display.cards]
    if max(heights, default=0.0) > HEIGHT / 2:
        # a card as long as that is divided; what that costs is room at the ends of columns
        return sum(heights) <= HEIGHT * (COLUMNS - 0.5)
    column, used = 1, 0.0
    for height in heights:
        if used + height > HEIGHT:
            column, used = column + 1, 0.0
        used += height
    return column <= COLUMNS


def _height(card: Card, size: float) -> float:
    """How high a card is in millimetres."""
    between = GAP_BETWEEN * size
    graphemes = [
        (len(grapheme) + (len(word) + 0.5 * bool(word)) * KEY_WORD) * size * _LETTER + between
        for grapheme, word in card.graphemes
    ]
    words = [len(word) * size * TRICKY * _LETTER + between * TRICKY for word in card.words]
    lines = _lines(graphemes) + _lines(words) * TRICKY + NAME
    return (lines * LINE + AFTER) * size * _MM


def _lines(widths: list[float]) -> int:
    """Lines that pieces of these widths (in points) take in a column."""
    room = (WIDTH - (COLUMNS - 1) * GAP) / COLUMNS / _MM
    lines, used = (1, 0.0) if widths else (0, 0.0)
    for width in widths:
        if used and used + width > room:
            lines, used = lines + 1, 0.0
        used += width
    return lines
