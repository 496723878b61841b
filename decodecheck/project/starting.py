"""Where a new progression starts from: a shipped one, a list of graphemes, a spreadsheet."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from decodecheck.documents.sheets import SUFFIXES, Cell, Sheet, read_sheets
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.insight.standards import shipped
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.draft import EMPTY, Piece, Row, draft
from decodecheck.source import SourceText, read_text, shown

COLUMNS = {
    "tricky": ("tricky", "exception", "irregular", "high frequency", "sight word", "whole word"),
    "words": ("example", "key word", "keyword", "as in"),
    "items": (
        "item",
        "grapheme",
        "sound",
        "gpc",
        "spelling",
        "phoneme",
        "correspondence",
        "letter",
        "digraph",
        "teach",
    ),
    "step": ("step", "week", "unit", "lesson", "term", "date"),
}
"""A column is recognised by one of these in its header, in any case; the first line of this table that fits holds."""
WHOLE = {"word": "words", "words": "words"}
"""Headers that say it by themselves."""
HEADER_WITHIN = 10
"""The header stands in one of so many first rows."""
LABEL = re.compile(
    r"\s*(?:((?:step|week|unit|lesson|term|day)\s*\d+|\d+)\s*[:.)]|(tricky|tricky words|exception words)\s*:)\s*",
    re.IGNORECASE,
)
"""What opens a line of a list without being an item: `Week 1:`, `1.`, `tricky:`."""
TITLE = re.compile(r"(?:autumn|spring|summer|winter|term|week|step|unit|lesson|day)\b[\w ]*:?\Z", re.IGNORECASE)
"""A line of a list that only names a step."""


@dataclass(frozen=True, slots=True)
class Started:
    """The text of a new progression, and what was understood of the columns of a spreadsheet ("" for anything else)."""

    text: str
    understood: str = ""


def start(origin: str, title: str | None, accent: str | None) -> Started:
    """A new progression. `origin` is the name of a shipped one, or the path of a list or a spreadsheet.

    Raises UserError with every mistake in a list or a spreadsheet, at its line or cell; nothing is made then.
    """
    known = shipped()
    if origin in known:
        if accent is not None:
            todo = "Leave --accent out, and change its line `accent` afterwards if need be."
            raise UserError(Problem("--accent", "A shipped progression names its accent itself.", todo))
        return Started(_retitled(known[origin].read_text(encoding="utf-8"), title))
    suffix = Path(origin).suffix.lower()
    rows: list[Row]
    understood = ""
    if suffix in SUFFIXES:
        where = shown(origin)
        rows, understood = _rows_of_sheets(read_sheets(origin))
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
    return Started(text, understood)


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
    """A list of graphemes: a blank line opens a new step; where there is none, every line is a step of its own.

    `Week 1:` or `1.` opens a step as well, a line of its own or before items; `tricky:` opens a line of tricky words.
    """
    lines = [source.line(n).partition("#")[0].rstrip() for n in range(1, len(source.line_starts) + 1)]
    while lines and not lines[-1].strip():
        lines.pop()
    first = next((i for i, line in enumerate(lines) if line.strip()), 0)
    divided = any(not line.strip() or TITLE.match(line.strip()) for line in lines[first:])
    rows: list[Row] = []
    step, again = EMPTY, True
    for number, line in enumerate(lines, 1):
        if not line.strip():
            again = True
            continue
        label = LABEL.match(line)
        tricky = bool(label and label[2])
        if TITLE.match(line.strip()):
            step, again = Piece(line.strip().rstrip(":"), source.path, number, 1, source.line(number)), False
            continue
        if label and label[1]:
            step, again = Piece(label[1], source.path, number, 1, source.line(number)), False
        elif (again or not divided) and not tricky:
            # a step that nothing names is named by the place of its first line
            step, again = Piece(f"line {number}"), False
        lead = label.end() if label else len(line) - len(line.lstrip())
        piece = Piece(line[lead:].strip(), source.path, number, lead + 1, source.line(number))
        rows.append(Row(step, EMPTY if tricky else piece, EMPTY, piece if tricky else EMPTY))
    return _numbered(rows)


def _numbered(rows: Sequence[Row]) -> list[Row]:
    """Steps that only have a place get numbers, so that they need no title."""
    named: dict[str, str] = {}
    found = []
    for row in rows:
        text = row.step.text
        number = named.setdefault(text, str(len(named) + 1))
        found.append(replace(row, step=replace(row.step, text=number)) if text.startswith("line ") else row)
    return found


def _rows_of_sheets(sheets: Sequence[Sheet]) -> tuple[list[Row], str]:
    """The rows of the first sheet with a header that is recognised, and how its columns were taken.

    Raises UserError where no sheet has such a header, or where a column is left over and none has the items.
    """
    for sheet in sheets:
        for at, cells in enumerate(sheet.rows[:HEADER_WITHIN]):
            columns = _columns(cells)
            if "step" in columns and ("items" in columns or "tricky" in columns):
                rest = [c for n, c in enumerate(cells) if c.text and n not in columns.values()]
                if "items" not in columns and rest:
                    what = f"No column has the items; {_headers(rest)} is not recognised."
                    raise UserError(Problem(sheet.place(rest[0]), what, FORM, 0, 1, rest[0].text, len(rest[0].text)))
                taken = ", ".join(f"{NAMES[name]} {_headers([cells[n]])}" for name, n in columns.items())
                left = f"; left out: {_headers(rest)}" if rest else ""
                return [_row(sheet, columns, row) for row in sheet.rows[at + 1 :]], f"Columns: {taken}{left}."
    sheet = sheets[0]
    top = next((row for row in sheet.rows if any(c.text for c in row)), ())
    seen = _headers([c for c in top[:8] if c.text]) or "nothing"
    what = f"No row has the headers of the columns; the first one holds {seen}."
    raise UserError(Problem(sheet.path, what, FORM))


NAMES = {"step": "step", "items": "items", "words": "example words", "tricky": "tricky words"}
FORM = "Head the columns `step`, `item`, `example word` and `tricky`; step and one of item and tricky must be there."


def _headers(cells: Sequence[Cell]) -> str:
    return ", ".join(f"{c.text!r} ({c.name})" for c in cells)


def _columns(cells: Sequence[Cell]) -> dict[str, int]:
    found: dict[str, int] = {}
    for number, cell in enumerate(cells):
        name = " ".join(re.sub(r"[^a-z]+", " ", cell.text.lower()).split())
        column = WHOLE.get(name) or next(
            (column for column, marks in COLUMNS.items() if any(re.search(rf"\b{m}", name) for m in marks)), None
        )
        if column:
            found.setdefault(column, number)
    return found


def _row(sheet: Sheet, columns: dict[str, int], cells: Sequence[Cell]) -> Row:
    def piece(column: str) -> Piece:
        number = columns.get(column, len(cells))
        if number >= len(cells) or not cells[number].text:
            return EMPTY
        return Piece(cells[number].text, sheet.place(cells[number]))

    return Row(piece("step"), piece("items"), piece("words"), piece("tricky"))
