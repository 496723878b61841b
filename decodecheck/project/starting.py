"""Where a new progression starts from: a shipped one, a list of graphemes, a spreadsheet."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from decodecheck.documents.sheets import SUFFIXES, Cell, Sheet, read_sheets
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.insight.standards import shipped
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.draft import EMPTY, Piece, Row, draft
from decodecheck.source import SourceText, read_text, shown

COLUMNS = {
    "step": ("step", "steps", "week", "unit", "lesson"),
    "items": ("item", "items", "grapheme", "graphemes", "sound", "sounds", "gpc", "gpcs", "teach", "correspondence"),
    "words": ("example word", "example words", "example", "examples", "key word", "key words", "keyword", "as in"),
    "tricky": ("tricky", "tricky word", "tricky words", "common exception words", "exception words"),
}
"""Headers by which a column is recognised, in any case."""
HEADER_WITHIN = 10
"""The header stands in one of so many first rows."""


def start(origin: str, title: str | None, accent: str | None) -> str:
    """The text of a new progression. `origin` is the name of a shipped one, or the path of a list or a spreadsheet.

    Raises UserError with every mistake in a list or a spreadsheet, at its line or cell; nothing is made then.
    """
    known = shipped()
    if origin in known:
        if accent is not None:
            todo = "Leave --accent out, and change its line `accent` afterwards if need be."
            raise UserError(Problem("--accent", "A shipped progression names its accent itself.", todo))
        return _retitled(known[origin].read_text(encoding="utf-8"), title)
    suffix = Path(origin).suffix.lower()
    rows: list[Row]
    if suffix in SUFFIXES:
        rows, where = _rows_of_sheets(read_sheets(origin)), shown(origin)
    elif suffix in (".xls", ".ods", ".docx", ".pdf"):
        raise UserError(
            Problem(shown(origin), "This kind of file is not read here.", "Save it as .xlsx, .csv or .txt.")
        )
    elif origin == "-" or Path(origin).exists():
        source = read_text(origin)
        rows, where = _rows_of_list(source), source.path
    else:
        raise UserError(_unknown(origin, list(known)))
    text, problems = draft(rows, (title or "Order of teaching").replace('"', "'"), accent or ACCENTS[0])
    if problems:
        raise UserError(*(p if p.path else Problem(where, p.what, p.todo) for p in problems))
    return text


def _unknown(origin: str, known: list[str]) -> Problem:
    close = nearest(origin, known, most=1)
    todo = f"Did you mean {close[0]}? " if close else ""
    todo += f"Shipped are {', '.join(known)}; or name a .txt list of graphemes, a .csv or .xlsx file."
    return Problem("--from", f"There is no shipped progression and no file called {origin!r}.", todo)


def _retitled(text: str, title: str | None) -> str:
    if title is None:
        return text
    straight = title.replace('"', "'")
    line = f'progression "{straight}"'
    changed, times = re.subn(r'^[ \t]*progression[ \t]+"[^"\n]*"', lambda _: line, text, count=1, flags=re.MULTILINE)
    return changed if times else f"{line}\n{text}"


def _rows_of_list(source: SourceText) -> list[Row]:
    """A list of graphemes: a blank line opens a new step; where there is none, every line is a step of its own."""
    lines = [source.line(n).partition("#")[0].rstrip() for n in range(1, len(source.line_starts) + 1)]
    while lines and not lines[-1].strip():
        lines.pop()
    first = next((i for i, line in enumerate(lines) if line.strip()), 0)
    divided = any(not line.strip() for line in lines[first:])
    rows: list[Row] = []
    step = 1
    for number, line in enumerate(lines, 1):
        if not line.strip():
            step += number - 1 > first and bool(lines[number - 2].strip())
            continue
        if not divided:
            step = len(rows) + 1
        lead = len(line) - len(line.lstrip())
        piece = Piece(line.strip(), source.path, number, lead + 1, source.line(number))
        rows.append(Row(Piece(str(step)), piece))
    return rows


def _rows_of_sheets(sheets: Sequence[Sheet]) -> list[Row]:
    """The rows of the first sheet with a header that is recognised. Raises UserError where none has one."""
    for sheet in sheets:
        for at, cells in enumerate(sheet.rows[:HEADER_WITHIN]):
            columns = _columns(cells)
            if "step" in columns and ("items" in columns or "tricky" in columns):
                return [_row(sheet, columns, row) for row in sheet.rows[at + 1 :]]
    sheet = sheets[0]
    top = next((row for row in sheet.rows if any(c.text for c in row)), ())
    seen = ", ".join(f"{c.text!r} ({c.name})" for c in top[:8] if c.text) or "nothing"
    what = f"No row has the headers of the columns; the first one holds {seen}."
    todo = (
        "Head the columns `step`, `item`, `example word` and `tricky`; step and one of item and tricky must be there."
    )
    raise UserError(Problem(sheet.path, what, todo))


def _columns(cells: Sequence[Cell]) -> dict[str, int]:
    found: dict[str, int] = {}
    for number, cell in enumerate(cells):
        name = " ".join(cell.text.lower().replace("-", " ").split()).rstrip(":")
        for column, headers in COLUMNS.items():
            if name in headers:
                found.setdefault(column, number)
    return found


def _row(sheet: Sheet, columns: dict[str, int], cells: Sequence[Cell]) -> Row:
    def piece(column: str) -> Piece:
        number = columns.get(column, len(cells))
        if number >= len(cells) or not cells[number].text:
            return EMPTY
        return Piece(cells[number].text, sheet.place(cells[number]))

    return Row(piece("step"), piece("items"), piece("words"), piece("tricky"))
