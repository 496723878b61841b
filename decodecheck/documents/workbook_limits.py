"""Refuse a workbook that would take minutes or gigabytes, before anything of it is parsed for its contents.

An .xlsx file is a zip file of XML parts (ECMA-376, Office Open XML). Its parts are looked at as a stream: down to which cell each
sheet is used.
"""

from __future__ import annotations

import zipfile
from dataclasses import dataclass
from xml.parsers import expat

from decodecheck.documents.package_limits import Limits, Refused, open_package
from decodecheck.errors import Problem, UserError

MOST_BYTES = 150_000_000
"""Unpacked; a hundred thousand rows of four cells have about thirty million."""
LIMITS = Limits("workbook", MOST_BYTES, "save the one sheet that is needed as .csv")
LAST_ROW = 200_000
LAST_COLUMN = 1_000
MOST_CELLS = 1_500_000
"""Of the area down to the last value, empty ones counted."""
_CHUNK = 1 << 16


@dataclass
class _Scan:
    """What is seen of one part."""

    root: str = ""
    row: int = 0
    column: int = 0
    cells: int = 0
    last_row: int = 0
    last_column: int = 0
    """The last row and column with a value in it."""
    sheets: int = 0
    """How many sheets the workbook says it has."""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element opens."""
        name = name.rpartition(":")[2]
        if not self.root:
            self.root = name
        self.sheets += self.root == "workbook" and name == "sheet"
        if self.root != "worksheet":
            return
        if name == "row":
            self.row, self.column = _number(attributes.get("r"), self.row + 1), 0
        elif name == "c":
            self.cells += 1
            at = attributes.get("r", "")
            letters = at.rstrip("0123456789")
            self.row = _number(at[len(letters) :], self.row)
            self.column = _column(letters) if letters else self.column + 1
            if self.cells > MOST_CELLS:
                raise Refused(f"A sheet has more than {MOST_CELLS:,} cells.", "Take out what is not needed.")
        elif name in ("v", "is"):
            self.last_row = max(self.last_row, self.row)
            self.last_column = max(self.last_column, self.column)
            if self.row > LAST_ROW or self.column > LAST_COLUMN:
                what = f"A sheet is used down to row {self.row:,}, column {self.column:,}."
                todo = f"Up to {LAST_ROW:,} rows and {LAST_COLUMN:,} columns are read; take out what lies beyond them."
                raise Refused(what, todo)

    def doctype(self, *_: object) -> None:
        """A document type, which no part of a workbook has, may define text that grows without end."""
        raise Refused("This workbook has a part with a document type of its own.", "Save it again as .xlsx or as .csv.")


@dataclass(frozen=True, slots=True)
class Used:
    """The last row and the last column with a value in any sheet of a workbook, and how many sheets it says it has."""

    rows: int
    columns: int
    sheets: int


def check_package(name: str, data: bytes) -> Used | None:
    """How far a workbook is used; None where the bytes are no zip file with readable XML parts.

    Raises UserError, with `name` for its path, where the workbook is beyond what is read.
    """
    try:
        with open_package(data, LIMITS) as package:
            return _checked(package)
    except Refused as refused:
        raise UserError(Problem(name, *refused.args)) from None
    except Exception:  # zipfile, zlib and expat each have errors of their own for a damaged file
        return None


def _checked(package: zipfile.ZipFile) -> Used:
    rows = columns = sheets = 0
    for part in package.infolist():
        if part.filename.endswith((".xml", ".rels")):
            seen = _scanned(package, part)
            rows, columns = max(rows, seen.last_row), max(columns, seen.last_column)
            sheets += seen.sheets
    if rows * columns > MOST_CELLS:
        what = f"The sheets of this workbook are used down to row {rows:,} and column {columns:,}."
        raise Refused(what, "Take out what lies far from the rest, or save the one sheet that is needed as .csv.")
    return Used(rows, columns, sheets)


def _scanned(package: zipfile.ZipFile, part: zipfile.ZipInfo) -> _Scan:
    scan = _Scan()
    parser = expat.ParserCreate()
    parser.StartElementHandler = scan.start
    parser.StartDoctypeDeclHandler = scan.doctype
    with package.open(part) as file:
        while chunk := file.read(_CHUNK):
            parser.Parse(chunk, False)
            if scan.root and scan.root not in ("worksheet", "workbook"):
                # other parts are only asked for a document type, which stands before the first element
                return scan
    parser.Parse(b"", True)
    return scan


def _number(text: str | None, otherwise: int) -> int:
    return int(text) if text and text.isdecimal() and len(text) < 10 else otherwise


def _column(letters: str) -> int:
    number = 0
    for letter in letters[:4].upper():
        number = number * 26 + ord(letter) - 64
    return number
