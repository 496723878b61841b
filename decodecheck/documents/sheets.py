"""Spreadsheets as rows of cells that know their names: .csv and .xlsx."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.source import read_bytes, read_text, shown

DELIMITERS = ",\t;"
LINES_LOOKED_AT = 10
SUFFIXES = (".csv", ".tsv", ".xlsx", ".xlsm")


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its text (numbers as people write them) and its name (B7)."""

    text: str
    name: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: the file, the sheet's title ("" in a .csv file), rows from the top."""

    path: str
    title: str
    rows: tuple[tuple[Cell, ...], ...]

    def place(self, cell: Cell) -> str:
        """A cell as messages name it: plan.xlsx, sheet Autumn, cell B7."""
        return f"{self.path}, {f'sheet {self.title}, ' if self.title else ''}cell {cell.name}"


def read_sheets(path: str) -> list[Sheet]:
    """The sheets of a spreadsheet, by the end of the file's name. Raises UserError where it cannot be read."""
    suffix = Path(path).suffix.lower()
    if suffix in (".xlsx", ".xlsm"):
        return _workbook(path)
    return [_separated(path)]


def column_name(number: int) -> str:
    """A, B, ..., Z, AA: the name of a column, from 1."""
    name = ""
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(65 + letter) + name
    return name


def _cells(values: list[str], row: int) -> tuple[Cell, ...]:
    return tuple(Cell(value, f"{column_name(i)}{row}") for i, value in enumerate(values, 1))


def _separated(path: str) -> Sheet:
    source = read_text(path)
    if not source.text.strip():
        raise UserError(Problem(source.path, "This file is empty.", "Put a header and rows in."))
    # spreadsheets write semicolons where the comma is a decimal point; a title above the header has neither
    lines = source.text.split("\n")[:LINES_LOOKED_AT]
    head = next((line for line in lines if any(line.count(sign) for sign in DELIMITERS)), "")
    delimiter = max(DELIMITERS, key=head.count)
    reader = csv.reader(io.StringIO(source.text, newline=""), delimiter=delimiter, strict=True)
    rows: list[tuple[Cell, ...]] = []
    start = 1
    try:
        for values in reader:
            rows.append(_cells([v.strip() for v in values], len(rows) + 1))
            start = reader.line_num + 1
    except csv.Error as error:
        line = min(start, len(source.line_starts))
        excerpt = source.line(line)
        what = "A quotation mark is opened and not closed." if "unexpected end" in str(error) else f"{error}."
        column = excerpt.find('"') + 1
        todo = "Close it, or save the sheet again as .csv or .xlsx."
        raise UserError(Problem(source.path, what, todo, line, max(1, column), excerpt)) from None
    return Sheet(source.path, "", tuple(rows))


def _workbook(path: str) -> list[Sheet]:
    # loading takes a fifth of a second
    import warnings

    import openpyxl

    wrong = Problem(shown(path), "This is no Excel workbook, or it is damaged.", "Save it again as .xlsx or as .csv.")
    data = read_bytes(path)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of extensions that only change how a sheet looks
            book = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
    except Exception:  # openpyxl, zipfile, zlib and the XML parser each have errors of their own for a damaged file
        raise UserError(wrong) from None
    sheets = []
    for sheet in book.worksheets:
        rows = [
            _cells([_shown(value) for value in values], number)
            for number, values in enumerate(sheet.iter_rows(values_only=True), 1)
        ]
        sheets.append(Sheet(shown(path), sheet.title, tuple(rows)))
    return sheets


def _shown(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()
