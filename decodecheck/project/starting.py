"""Where a new progression starts from: a shipped one, a list of graphemes, a spreadsheet."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from decodecheck.documents.sheets import SUFFIXES, Cell, Sheet, read_sheets, sheets_of
from decodecheck.errors import Problem, UserError, cut, nearest
from decodecheck.insight.standards import shipped
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.draft import EMPTY, Piece, Row, draft, is_heading, numbered
from decodecheck.progression.many import first_of
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
    "step": ("step", "lesson", "day", "date", "week", "unit", "half term", "term"),
}
"""A column is recognised by one of these in its header, in any case; the first line of this table that fits holds. Of several
columns that tell steps the one holds that this table names first: a week is finer than a term."""
WHOLE = {"word": "words", "words": "words"}
"""Headers that say it by themselves."""
LONGEST_HEADER = 100
"""Characters of a header that are looked at."""
MOST_NAMED = 6
"""Cells that are named in one sentence."""
HEADER_WITHIN = 10
"""The header stands in one of so many first rows."""
LABEL = re.compile(
    r"\s*(?:((?:step|week|unit|lesson|term|day)\s*\d+|\d+)\s*(?:[:)]|\.(?!\d))|(tricky|tricky words|exception words)\s*:)\s*",
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
        (rows, understood), where = _rows_of_list(source), source.path
    else:
        raise UserError(_unknown(origin, list(known)))
    return _drafted(rows, where, understood, title, accent)


def start_from_sheets(name: str, data: bytes) -> Started:
    """A new progression from the bytes of a spreadsheet, by the end of its name. Raises UserError with every mistake in it, at its cell."""
    rows, understood = _rows_of_sheets(sheets_of(name, data))
    return _drafted(rows, name, understood, None, None)


def _drafted(rows: Sequence[Row], where: str, understood: str, title: str | None, accent: str | None) -> Started:
    text, problems = draft(rows, (title or "Order of teaching").replace('"', "'"), accent or ACCENTS[0])
    if problems:
        raise UserError(*first_of([p if p.path else Problem(where, p.what, p.todo, code=p.code) for p in problems]))
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


def _rows_of_list(source: SourceText) -> tuple[list[Row], str]:
    """A list of graphemes: a blank line opens a new step; where there is none, every line is a step of its own.

    `Week 1:` or `1.` opens a step as well, a line of its own or before items; `tricky:` opens a line of tricky words. What is
    only a heading is left out; the second value says so.
    """
    lines = [source.line(n).partition("#")[0].rstrip() for n in range(1, len(source.line_starts) + 1)]
    while lines and not lines[-1].strip():
        lines.pop()
    first = next((i for i, line in enumerate(lines) if line.strip()), 0)
    divided = any(not line.strip() or TITLE.match(line.strip()) for line in lines[first:])
    rows: list[Row] = []
    headings: list[str] = []
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
        if not tricky and is_heading(line[lead:]):
            headings.append(f"line {number} ({line[lead:].strip()!r})")
            continue
        piece = Piece(line[lead:].strip(), source.path, number, lead + 1, source.line(number))
        rows.append(Row(step, EMPTY if tricky else piece, EMPTY, piece if tricky else EMPTY))
    return _numbered(rows), _left_out(headings)


def _left_out(headings: Sequence[str]) -> str:
    """What is said of cells or lines that name nothing to teach."""
    if not headings:
        return ""
    some = ", ".join(cut(h) for h in headings[:MOST_NAMED])
    more = f" and {len(headings) - MOST_NAMED} more" if len(headings) > MOST_NAMED else ""
    return f"Left out, since no sound is named there: {some}{more}."


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
    """The rows of all sheets with a header that is recognised, in order, and what was taken of them and what was left out.

    Raises UserError where no sheet has such a header, or where a column is left over and none has the items.
    """
    read: list[tuple[Sheet, list[Row], list[str]]] = []
    said: list[str] = []
    others: list[str] = []
    for sheet in sheets:
        found = _rows_of_sheet(sheet)
        if found:
            read.append((sheet, found[0], found[1]))
            said.append(found[2])
        elif any(c.text for row in sheet.rows for c in row):
            others.append(f"{sheet.title!r}")
    if not read:
        sheet = sheets[0]
        top = next((row for row in sheet.rows if any(c.text for c in row)), ())
        seen = _headers([c for c in top[:8] if c.text]) or "nothing"
        what = f"No row has the headers of the columns; the first one holds {seen}."
        raise UserError(Problem(sheet.path, what, FORM))
    rows = _in_one(read)
    kept: list[Row] = []
    headings: list[str] = []
    for row in rows:
        if is_heading(row.items.text):
            headings.append(f"{row.items.path.rpartition(', ')[2]} ({row.items.text!r})")
            row = replace(row, items=EMPTY, words=EMPTY)
        kept.append(row)
    lines = [text if len(read) == 1 else f"Sheet {sheet.title!r}. {text}" for (sheet, _, _), text in zip(read, said)]
    if others:
        lines.append(
            f"Left out, since no row has the headers: {'sheet' if len(others) == 1 else 'sheets'} {', '.join(others)}."
        )
    lines.append(_left_out(headings))
    return kept, " ".join(line for line in lines if line)


def _rows_of_sheet(sheet: Sheet) -> tuple[list[Row], list[str], str] | None:
    """The rows of one sheet, the coarser part of each one's step ("" where there is none), and how its columns were taken."""
    for at, cells in enumerate(sheet.rows[:HEADER_WITHIN]):
        columns = _columns(cells)
        if "step" in columns and ("items" in columns or "tricky" in columns):
            coarser = [n for n, c in enumerate(cells) if n != columns["step"] and _kind(c) == "step"][:1]
            rest = [c for n, c in enumerate(cells) if c.text and n not in columns.values() and n not in coarser]
            if "items" not in columns and rest:
                what = f"No column has the items; {_headers(rest)} is not recognised."
                raise UserError(Problem(sheet.place(rest[0]), what, FORM, 0, 1, rest[0].text, len(rest[0].text)))
            taken = ", ".join(f"{NAMES[name]} {_headers([cells[n]])}" for name, n in columns.items())
            if coarser:
                taken += f" (the finer one; {_headers([cells[coarser[0]]])} is used where numbers start again)"
            left = f"; left out: {_headers(rest)}" if rest else ""
            above = ""
            groups = []
            for row in sheet.rows[at + 1 :]:
                above = (row[coarser[0]].text if coarser and coarser[0] < len(row) else "") or above
                groups.append(above)
            return [_row(sheet, columns, row) for row in sheet.rows[at + 1 :]], groups, f"Columns: {taken}{left}."
    return None


def _in_one(read: Sequence[tuple[Sheet, list[Row], list[str]]]) -> list[Row]:
    """The rows of several sheets or terms in a row; where step numbers start again, each step is named with its sheet and term."""
    rows = [row for _, rows, _ in read for row in rows]
    groups = [(sheet.title if len(read) > 1 else "", group) for sheet, _, groups in read for group in groups]
    if len(set(groups)) < 2:
        return rows
    last, again = ("", ""), False
    highest = 0
    for row, group in zip(rows, groups):
        match = numbered(row.step.text) if row.step.text else None
        number = int(match[1]) if match else 0
        again = again or (bool(number) and group != last and number <= highest)
        highest, last = max(highest, number), group
    if not again and not any(row.step.text and not numbered(row.step.text) for row in rows):
        return rows
    found = []
    for row, group in zip(rows, groups):
        names = [part for part in (*group, row.step.text) if part]
        if row.step.text:
            step = f"step {names.pop()}" if row.step.text.isdecimal() else names.pop()
            row = replace(row, step=replace(row.step, text=", ".join([*names, step])))
        found.append(row)
    return found


NAMES = {"step": "step", "items": "items", "words": "example words", "tricky": "tricky words"}
FORM = "Head the columns `step`, `item`, `example word` and `tricky`; step and one of item and tricky must be there."


def _headers(cells: Sequence[Cell]) -> str:
    return ", ".join(f"{c.text!r} ({c.name})" for c in cells)


def _columns(cells: Sequence[Cell]) -> dict[str, int]:
    found: dict[str, int] = {}
    for number, cell in enumerate(cells):
        column = _kind(cell)
        if column == "step" and "step" in found and _fineness(cell) < _fineness(cells[found["step"]]):
            found["step"] = number
        elif column:
            found.setdefault(column, number)
    return found


def _kind(cell: Cell) -> str | None:
    """What a column holds, by its header; None where the header is not recognised."""
    name = _plain(cell)
    return WHOLE.get(name) or next(
        (column for column, marks in COLUMNS.items() if any(re.search(rf"\b{m}", name) for m in marks)), None
    )


def _fineness(cell: Cell) -> int:
    """How short the time is that a column of steps goes by: the lower, the shorter."""
    return next(n for n, mark in enumerate(COLUMNS["step"]) if re.search(rf"\b{mark}", _plain(cell)))


def _plain(cell: Cell) -> str:
    return " ".join(re.sub(r"[^a-z]+", " ", cell.text[:LONGEST_HEADER].lower()).split())


def _row(sheet: Sheet, columns: dict[str, int], cells: Sequence[Cell]) -> Row:
    def piece(column: str) -> Piece:
        number = columns.get(column, len(cells))
        if number >= len(cells) or not cells[number].text:
            return EMPTY
        return Piece(cells[number].text, sheet.place(cells[number]))

    return Row(piece("step"), piece("items"), piece("words"), piece("tricky"))
