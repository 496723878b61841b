"""Rows of short cells as aligned text or CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from decodecheck.printing import columns


def aligned(rows: Sequence[Sequence[str]], *, indent: str = "  ", gap: int = 2) -> list[str]:
    """Rows as lines in which each column is as wide as its widest cell needs."""
    widths = [max(map(columns, column)) for column in zip(*rows)]
    return [
        (indent + "".join(cell + " " * (width + gap - columns(cell)) for cell, width in zip(row, widths))).rstrip()
        for row in rows
    ]


def as_csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table as CSV with a line of headers."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)
    return out.getvalue()
