"""A page as plain text, 100 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from io import StringIO

from decodecheck.printing import columns
from decodecheck.reports import paper
from decodecheck.reports.page import (
    Bars,
    Blanks,
    Block,
    Dictation,
    Display,
    Entry,
    Frames,
    Heading,
    Page,
    Paragraph,
    Sheet,
    Table,
    WordCards,
)

SUFFIXES = (".txt", "")
WIDTH = 100
NARROW = 24
TICK = "☐"
BLANK = "─" * 28
NARROWEST = 12
"""Columns that every card has, beside its edges."""
BOXES = 14
"""Boxes of a phoneme frame in a row."""
BETWEEN = 3
"""Columns between two columns of a table."""
WIDEST_LABEL = 26
"""The widest a column gets that takes no more room than it needs."""


def render(page: Page) -> str:
    """The page as text that ends with a line end."""
    lines = [page.title]
    if page.subtitle:
        lines += _wrap(page.subtitle)
    before: Block | None = None
    blocks = tuple(block for block in page.blocks if not isinstance(block, Bars))
    for number, block in enumerate(blocks):
        # what belongs to a heading, and entries among themselves, stand close
        if not (isinstance(before, Heading) or (isinstance(block, Entry) and before is not None)):
            lines.append("")
        lines += _block(block, _label_width(blocks, number))
        before = block
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _wrap(text: str, lead: str = "", indent: str = "") -> list[str]:
    """Lines of a text; a split digraph (a-e) is never divided at its hyphen."""
    return textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=indent, break_on_hyphens=False)


def _label_width(blocks: tuple[Block, ...], at: int) -> int:
    """The room that the labels of a run of entries need."""
    start = end = at
    while start and isinstance(blocks[start - 1], Entry):
        start -= 1
    while end < len(blocks) and isinstance(blocks[end], Entry):
        end += 1
    labels = [len(b.label) for b in blocks[start:end] if isinstance(b, Entry)]
    return min(max(labels, default=0), WIDEST_LABEL)


def _block(block: Block, label_width: int) -> Iterator[str]:
    match block:
        case Heading(text):
            yield text
            yield "-" * len(text)
        case Sheet(title, subtitle):
            yield ""
            yield title
            yield "=" * len(title)
            yield from _wrap(subtitle)
        case Paragraph(text):
            yield from _wrap(text)
        case Entry(label, text):
            yield from _wrap(text, f"  {label:<{label_width}}  ", " " * (label_width + 4))
        case Display(cards):
            rows = [
                (
                    card.name,
                    ", ".join(f"{grapheme} ({word})" if word else grapheme for grapheme, word in card.graphemes),
                    ", ".join(card.words),
                )
                for card in cards
            ]
            yield from _table(Table(("Step", "Graphemes", "Tricky words"), tuple(rows), wide=(1, 2)))
        case Table():
            yield from _table(block)
        case Blanks(labels):
            for label in labels:
                yield from _wrap(f"{label} {BLANK}")
        case Dictation(words):
            told = [
                (
                    str(n),
                    w.word,
                    "  ".join(f"{TICK}{g}" for g in w.graphemes),
                    str(len(w.graphemes)),
                    str(w.sounds),
                    w.watch,
                )
                for n, w in enumerate(words, 1)
            ]
            yield from _table(Table(paper.HEAD, tuple(told), wide=(2, 5)))
        case Frames(numbers):
            for number, boxes in enumerate(numbers, 1):
                yield from _frame(number, boxes)
        case WordCards(words):
            yield from _cards(words)


def _frame(number: int, boxes: int) -> Iterator[str]:
    """A row of boxes, several where there are very many, and a line to write on."""
    for start in range(0, boxes, BOXES):
        here = min(BOXES, boxes - start)
        sides = "│" + "   │" * here
        lead = "" if start else str(number)
        yield " " * 6 + "┌" + "┬".join(["───"] * here) + "┐"
        yield f"{lead:>4}  {sides}"
        yield " " * 6 + "└" + "┴".join(["───"] * here) + "┘" + (f"  {BLANK}" if start + here == boxes else "")


def _cards(words: tuple[str, ...]) -> Iterator[str]:
    """Words between lines to cut along, two cards in a row where there is room; only what is far too long takes several lines."""
    lines = [textwrap.wrap(word, WIDTH - 6) for word in words]
    width = max([NARROWEST, *(columns(line) for word in lines for line in word)]) + 4
    each = 2 if 2 * width + 3 <= WIDTH else 1
    edge = "+" + f"{'-' * width}+" * each
    yield edge
    for start in range(0, len(lines), each):
        row = lines[start : start + each]
        for at in range(max(map(len, row))):
            texts = [word[at] if at < len(word) else "" for word in row]
            yield "|" + "".join(_middle(text, width) + "|" for text in texts + [""] * (each - len(row)))
        yield edge


def _middle(text: str, width: int) -> str:
    room = width - columns(text)
    return " " * (room // 2) + text + " " * (room - room // 2)


def _parts(table: Table) -> dict[int, int]:
    """How the wide columns of a table share the room that the others leave: alike, unless one holds a word, such as a path, that would be
    broken then, and none need be."""
    longest = [
        max((columns(part) for cell in (title, *(row[at] for row in table.rows)) for part in cell.split()), default=0)
        for at, title in enumerate(table.header)
    ]
    narrow = [
        min(NARROW, max(columns(row[at]) for row in ((title,) * len(table.header), *table.rows)))
        for at, title in enumerate(table.header)
        if at not in table.wide
    ]
    room = WIDTH - sum(narrow) - BETWEEN * (len(table.header) - 1)
    wide = table.wide
    over = room - sum(longest[at] for at in wide)
    if over < 0 or all(longest[at] * len(wide) <= room for at in wide):
        return dict.fromkeys(wide, 1)
    return {at: longest[at] + over // len(wide) for at in wide}


def _table(table: Table) -> list[str]:
    # rich is slow to load, and only tables need it
    from rich import box
    from rich.console import Console
    from rich.table import Table as RichTable
    from rich.text import Text

    parts = _parts(table)
    drawn = RichTable(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, expand=bool(table.wide))
    for number, title in enumerate(table.header):
        drawn.add_column(
            Text(title),
            ratio=parts.get(number),
            max_width=None if number in table.wide else NARROW,
            justify="right" if table.numeric(number) else "left",
            overflow="fold",
        )
    for row in table.rows:
        drawn.add_row(*(Text(cell) for cell in row))
    target = StringIO()
    Console(file=target, width=WIDTH, color_system=None, force_terminal=False, emoji=False, markup=False).print(drawn)
    return target.getvalue().rstrip("\n").split("\n")
