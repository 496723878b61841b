"""A page as plain text, 100 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from io import StringIO

from decodecheck.reports.page import Block, Display, Entry, Heading, Page, Paragraph, Sheet, Table

SUFFIXES = (".txt", "")
WIDTH = 100
NARROW = 24
WIDEST_LABEL = 26
"""The widest a column gets that takes no more room than it needs."""


def render(page: Page) -> str:
    """The page as text that ends with a line end."""
    lines = [page.title]
    if page.subtitle:
        lines += _wrap(page.subtitle)
    before: Block | None = None
    for number, block in enumerate(page.blocks):
        # what belongs to a heading, and entries among themselves, stand close
        if not (isinstance(before, Heading) or (isinstance(block, Entry) and before is not None)):
            lines.append("")
        lines += _block(block, _label_width(page.blocks, number))
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
        case Sheet(title):
            yield ""
            yield title
            yield "=" * len(title)
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


def _table(table: Table) -> list[str]:
    # rich is slow to load, and only tables need it
    from rich import box
    from rich.console import Console
    from rich.table import Table as RichTable
    from rich.text import Text

    drawn = RichTable(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, expand=bool(table.wide))
    for number, title in enumerate(table.header):
        drawn.add_column(
            Text(title),
            ratio=1 if number in table.wide else None,
            max_width=None if number in table.wide else NARROW,
            justify="right" if table.numeric(number) else "left",
            overflow="fold",
        )
    for row in table.rows:
        drawn.add_row(*(Text(cell) for cell in row))
    target = StringIO()
    Console(file=target, width=WIDTH, color_system=None, force_terminal=False, emoji=False, markup=False).print(drawn)
    return target.getvalue().rstrip("\n").split("\n")
