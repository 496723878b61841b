"""Spreadsheets as rows of cells that know their names: .csv and .xlsx."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import datetime, time
from pathlib import Path

from decodecheck.documents.separated import delimiter_of, lines_of
from decodecheck.documents.workbook_limits import check_package
from decodecheck.errors import Problem, UserError, count
from decodecheck.formats import OLDER_OFFICE, known_bytes
from decodecheck.source import SourceText, decode, read_bytes, shown

IN_EXCEL_AGAIN = "Open it, take a password out if it has one, and use Save As, Excel Workbook (.xlsx)."
LARGEST = 50_000_000
"""Bytes of a workbook: a hundred thousand rows have about three million."""
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
    return sheets_of(shown(path), read_bytes(path))


def sheets_of(name: str, data: bytes) -> list[Sheet]:
    """The sheets that some bytes are, read as a file of that name would be; nothing is opened. Raises UserError where they cannot be read."""
    if Path(name).suffix.lower() in (".xlsx", ".xlsm"):
        return _workbook(name, data)
    return [_separated(SourceText(name, decode(data, name)))]


def column_name(number: int) -> str:
    """A, B, ..., Z, AA: the name of a column, from 1."""
    name = ""
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(65 + letter) + name
    return name


def _cells(values: list[str], row: int) -> tuple[Cell, ...]:
    return tuple(Cell(value, f"{column_name(i)}{row}") for i, value in enumerate(values, 1))


def _separated(source: SourceText) -> Sheet:
    if not source.text.strip():
        raise UserError(Problem(source.path, "This file is empty.", "Put a header and rows in."))
    delimiter = delimiter_of(source.text)
    rows = (line.fields for line in lines_of(source, delimiter))
    return Sheet(source.path, "", tuple(_cells([f.text.strip() for f in row], n) for n, row in enumerate(rows, 1)))


def _workbook(named: str, data: bytes) -> list[Sheet]:
    # loading takes a fifth of a second
    import warnings

    import openpyxl

    wrong = Problem(named, "This is no Excel workbook, or it is damaged.", "Save it again as .xlsx or as .csv.")
    if len(data) > LARGEST:
        what = f"This workbook has {len(data) // 1_000_000} MB; more than {LARGEST // 1_000_000} are not read."
        raise UserError(Problem(named, what, "Save the one sheet that is needed as .csv."))
    known = known_bytes(data)
    if known and (known.locked or known is OLDER_OFFICE):
        raise UserError(Problem(named, f"This is {known.name}, and no .xlsx workbook.", IN_EXCEL_AGAIN))
    # what would take minutes or gigabytes is refused before anything is parsed
    used = check_package(named, data)
    if used is None:
        raise UserError(wrong)
    sheets = []
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of extensions that only change how a sheet looks
            book = openpyxl.load_workbook(io.BytesIO(data), data_only=True, read_only=True)
            limits = max(1, used.rows), 1, max(1, used.columns)
            for sheet in book.worksheets:
                sheet.reset_dimensions()  # a sheet may say of itself that it is larger or smaller than it is
                rows = [
                    _cells([_shown(value) for value in values], number)
                    for number, values in enumerate(sheet.iter_rows(1, *limits, values_only=True), 1)
                ]
                sheets.append(Sheet(named, sheet.title, tuple(rows)))
            lost = used.sheets - len(book.sheetnames)
    except Exception:  # openpyxl, zipfile, zlib and the XML parser each have errors of their own for a damaged file
        raise UserError(wrong) from None
    if lost > 0:
        what = f"{count(lost, 'sheet')} of this workbook {'is' if lost == 1 else 'are'} missing in the file."
        raise UserError(Problem(named, what, "Save it again as .xlsx or as .csv."))
    if not sheets:
        raise UserError(Problem(named, "This workbook has no sheet with cells.", "Put a header and rows in."))
    return sheets


def _shown(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        # what a spreadsheet makes of the word true
        return str(value).lower()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime) and value.time() == time():
        return value.date().isoformat()
    return str(value).strip()
