"""The parts of an .xlsx workbook: what of a sheet is merged or reckoned, and changes of cells that leave all else as it is.

Office Open XML (ECMA-376, part 1, section 18). A workbook is never rebuilt: the parts of sheets that change are written anew, with the changed
cells alone changed in them, and every other part is carried over byte for byte.
"""

from __future__ import annotations

import io
import posixpath
import zipfile
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from lxml import etree

from decodecheck.documents.sheets import column_name

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
STRICT = "{http://purl.oclc.org/ooxml/spreadsheetml/main}"
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
STRICT_RELATION = "{http://purl.oclc.org/ooxml/officeDocument/relationships}id"


@dataclass(frozen=True, slots=True)
class Area:
    """Merged cells: the first and last row and column, from 1."""

    first_row: int
    first_column: int
    last_row: int
    last_column: int


@dataclass
class Changes:
    """What is to change in a sheet: texts and numbers by cell (row and column, from 1); and rows that take the contents of other
    rows, by their number: 0 for none, which empties the row."""

    cells: dict[tuple[int, int], str | int] = field(default_factory=dict)
    rows: dict[int, int] = field(default_factory=dict)


class WorkbookParts:
    """A workbook whose package has been checked (`workbook_limits`). Raises what zipfile and lxml raise for a damaged one."""

    def __init__(self, data: bytes) -> None:
        self.data = data

    @cached_property
    def _package(self) -> zipfile.ZipFile:
        return zipfile.ZipFile(io.BytesIO(self.data))

    @cached_property
    def sheets(self) -> dict[str, str]:
        """The part of each sheet by its title, in order."""
        book = self._root("xl/workbook.xml")
        relations = self._root("xl/_rels/workbook.xml.rels")
        targets = {relation.get("Id"): relation.get("Target") for relation in relations}
        found = {}
        for sheet in book.iter(f"{MAIN}sheet", f"{STRICT}sheet"):
            target = targets.get(sheet.get(RELATION) or sheet.get(STRICT_RELATION))
            if target:
                found[sheet.get("name")] = target[1:] if target.startswith("/") else posixpath.join("xl", target)
        return found

    def merged(self, title: str) -> list[Area]:
        """The merged cells of a sheet."""
        found = []
        for cell in _children(self._sheet(title), "mergeCell"):
            first, _, last = cell.get("ref", "").partition(":")
            if last:
                (r1, c1), (r2, c2) = place_of(first), place_of(last)
                found.append(Area(r1, c1, r2, c2))
        return found

    def formulas(self, title: str) -> frozenset[tuple[int, int]]:
        """The cells of a sheet that hold a formula."""
        return frozenset(place_of(f.getparent().get("r", "")) for f in _children(self._sheet(title), "f"))

    def tied(self, title: str) -> str:
        """What ties the rows of a sheet to their places, in a word; "" where they may change places. A formula anywhere may speak of them."""
        if any(next(_children(self._sheet(other), "f"), None) is not None for other in self.sheets):
            return "formulas"
        sheet = self._sheet(title)
        names = {"mergeCell": "merged cells", "legacyDrawing": "comments", "drawing": "pictures", "hyperlink": "links"}
        return next((what for name, what in names.items() if next(_children(sheet, name), None) is not None), "")

    def changed(self, changes: Mapping[str, Changes]) -> bytes:
        """The workbook with changes in sheets, by title."""
        parts = {self.sheets[title]: self._changed(title, change) for title, change in changes.items()}
        target = io.BytesIO()
        with zipfile.ZipFile(target, "w") as written:
            for info in self._package.infolist():
                written.writestr(info, parts.get(info.filename, self._package.read(info.filename)), info.compress_type)
        return target.getvalue()

    def _changed(self, title: str, changes: Changes) -> bytes:
        root = self._sheet(title)
        (data,) = list(root.iter(f"{MAIN}sheetData", f"{STRICT}sheetData"))[:1]
        rows = {_number(row, at): row for at, row in enumerate(data, 1)}
        moved = {to: deepcopy(rows[source]) for to, source in changes.rows.items() if source in rows}
        for to in changes.rows:
            if to in rows:
                _empty(rows[to])
        for to, row in moved.items():
            old = rows.get(to)
            row.set("r", str(to))
            for at, cell in enumerate(row, 1):
                _, column = place_of(cell.get("r", "")) if cell.get("r") else (to, at)
                cell.set("r", f"{column_name(column)}{to}")
            if old is not None:
                data.replace(old, row)
            else:
                _insert(data, row, to)
            rows[to] = row
        for (number, column), value in changes.cells.items():
            _write(_cell(data, rows, number, column), value)
        declaration: bytes = etree.tostring(root.getroottree(), xml_declaration=True, encoding="UTF-8", standalone=True)
        return declaration

    def _sheet(self, title: str) -> Any:
        return self._root(self.sheets[title])

    def _root(self, part: str) -> Any:
        parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=True)
        return etree.fromstring(self._package.read(part), parser)


def place_of(name: str) -> tuple[int, int]:
    """The row and the column of a cell's name: B7 is 7 and 2."""
    letters = name.rstrip("0123456789")
    column = 0
    for letter in letters.upper():
        column = column * 26 + ord(letter) - 64
    return int(name[len(letters) :] or 0), column


def _children(sheet: Any, name: str) -> Any:
    return sheet.iter(f"{MAIN}{name}", f"{STRICT}{name}")


def _number(row: Any, otherwise: int) -> int:
    return int(row.get("r") or otherwise)


def _empty(row: Any) -> None:
    """Take the contents of a row out; its cells keep how they look."""
    for cell in row:
        for part in list(cell):
            cell.remove(part)
        cell.attrib.pop("t", None)


def _insert(data: Any, row: Any, number: int) -> None:
    """Put a row where it belongs among the others."""
    at = next((i for i, other in enumerate(data) if _number(other, i + 1) > number), len(data))
    data.insert(at, row)


def _cell(data: Any, rows: dict[int, Any], number: int, column: int) -> Any:
    """A cell, which is made where it is not there."""
    row = rows.get(number)
    if row is None:
        row = rows[number] = etree.Element(f"{{{etree.QName(data).namespace}}}row", r=str(number))
        _insert(data, row, number)
    cells: Sequence[Any] = list(row)
    for at, cell in enumerate(cells):
        there = place_of(cell.get("r", ""))[1] if cell.get("r") else at + 1
        if there == column:
            return cell
        if there > column:
            break
    else:
        at = len(cells)
    cell = etree.Element(f"{{{etree.QName(data).namespace}}}c", r=f"{column_name(column)}{number}")
    row.insert(at, cell)
    return cell


def _write(cell: Any, value: str | int) -> None:
    """Give a cell a text or a number; how it looks stays."""
    for part in list(cell):
        cell.remove(part)
    namespace = etree.QName(cell).namespace
    if isinstance(value, int):
        cell.attrib.pop("t", None)
        etree.SubElement(cell, f"{{{namespace}}}v").text = str(value)
        return
    cell.set("t", "inlineStr")
    text = etree.SubElement(etree.SubElement(cell, f"{{{namespace}}}is"), f"{{{namespace}}}t")
    text.text = value
    text.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
