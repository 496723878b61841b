"""Separated values (.csv, .tsv) as cells that know where they stand, so that one can be changed and everything else left as it is.

RFC 4180, with any one delimiter. Python's csv module reads the same cells, but does not say where they stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from decodecheck.errors import Problem, UserError
from decodecheck.source import SourceText

DELIMITERS = ",\t;"
LINES_LOOKED_AT = 10
_QUOTED = re.compile(r'"(?:[^"]|"")*"')
_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True, slots=True)
class Field:
    """One cell: its text, and from where to where it stands in the file, quotation marks included."""

    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Line:
    """One row: its cells, from where to where it stands, and the line end behind it ("" for a last one without)."""

    fields: tuple[Field, ...]
    start: int
    end: int
    line_end: str


def delimiter_of(text: str) -> str:
    """What sets the cells apart: the sign that the first line with one has most of. Spreadsheets write semicolons where the comma is a
    decimal point; a title above the header has no sign."""
    lines = _LINE_END.split(text, LINES_LOOKED_AT)[:LINES_LOOKED_AT]
    head = next((line for line in lines if any(line.count(sign) for sign in DELIMITERS)), "")
    return max(DELIMITERS, key=head.count)


def lines_of(source: SourceText, delimiter: str) -> Iterator[Line]:
    """The rows of a file. Raises UserError for a quotation mark that is opened and not closed, or closed inside of a cell."""
    text, plain = source.text, _plain(delimiter)
    at = 0
    while at < len(text):
        start, fields = at, []
        while True:
            if text.startswith('"', at):
                match = _QUOTED.match(text, at)
                if match is None:
                    raise UserError(_not_closed(source, at, "A quotation mark is opened and not closed."))
                inside = match[0][1:-1].replace('""', '"')
            else:
                match = plain.match(text, at)
                assert match is not None  # it may be empty
                inside = match[0]
            fields.append(Field(inside, at, match.end()))
            at = match.end()
            if not text.startswith(delimiter, at):
                break
            at += 1
        line_end = _LINE_END.match(text, at)
        if line_end is None and at < len(text):
            raise UserError(_not_closed(source, at, "A quotation mark is closed here, and the cell goes on."))
        yield Line(tuple(fields), start, at, line_end[0] if line_end else "")
        at = line_end.end() if line_end else at


@cache
def _plain(delimiter: str) -> re.Pattern[str]:
    return re.compile(rf"[^{re.escape(delimiter)}\r\n]*")


def _not_closed(source: SourceText, at: int, what: str) -> Problem:
    line, column = source.place(at)
    todo = "Close it, or save the sheet again as .csv or .xlsx."
    return Problem(source.path, what, todo, line, column, source.line(line))


def as_field(text: str, like: str, delimiter: str) -> str:
    """A text as a cell of a file: in quotation marks where it has to be, or where the cell that it stands for (`like`) has them."""
    if like.startswith('"') or any(sign in text for sign in (delimiter, '"', "\r", "\n")):
        return '"' + text.replace('"', '""') + '"'
    return text
