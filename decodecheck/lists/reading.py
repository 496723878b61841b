"""From a path to the word lists in it: a sheet with a header, or a plain text with one entry a line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from decodecheck.documents.document import Place
from decodecheck.documents.separated import Line, delimiter_of, lines_of
from decodecheck.documents.sheets import SUFFIXES, Cell, Sheet, column_name, read_sheets
from decodecheck.documents.workbook_parts import Area, WorkbookParts
from decodecheck.errors import Problem, UserError
from decodecheck.lists.header import Header, header_of, no_words
from decodecheck.lists.word_list import COLUMNS, STEP, TARGET, WORD, Entry, ListCell, WordList
from decodecheck.progression.many import first_of
from decodecheck.source import SourceText, decode, read_bytes, shown, suffix_of

WORKBOOKS = (".xlsx", ".xlsm")
NUMBERED = re.compile(r"\s*(?:\d{1,4}\s*[.):]|[-*•–])(?=\s)")
"""What may stand before an entry of a plain list: 3. or - or a bullet."""
ERRORS = re.compile(r"#(?:REF|NAME\?|VALUE|DIV/0|NUM|N/A|NULL)!?\Z")
"""What a formula says that went wrong (ECMA-376, part 1, section 18.17.3)."""


@dataclass(frozen=True)
class ListFile:
    """A file with its lists. `data` are its bytes; `lines` the rows of separated values, which `delimiter` sets apart ("" elsewhere);
    `others` the titles of sheets without a column of words."""

    path: str
    lists: tuple[WordList, ...]
    data: bytes
    source: SourceText | None = None
    lines: tuple[Line, ...] = ()
    delimiter: str = ""
    others: tuple[str, ...] = ()


def is_table(path: str) -> bool:
    """Whether a file is a spreadsheet by its name, and so a list if anything."""
    return suffix_of(path) in SUFFIXES


def read_list(path: str, columns: Mapping[str, str] | None = None, name: str = "") -> ListFile:
    """The lists of a file. `columns` are headers that a configuration names, by what their columns hold; `name` is what the file is called
    where its path does not say it: standard input may have a name.

    Raises UserError where the file cannot be read, or no column of words is found (its problem has the code `header.NO_WORDS`); where a
    list is empty; and with every cell in it that cannot be used.
    """
    name = name or path
    if not is_table(name):
        return _plain(path, name)
    if suffix_of(name) not in WORKBOOKS:
        return _separated(path, name, columns or {})
    if path == "-":
        todo = "Name its file, or save it as .csv."
        raise UserError(Problem(shown(name), "A workbook is not read from standard input.", todo))
    return _workbook(path, columns or {})


# -- plain lists ------------------------------------------------------------------------------------------------------------


def _plain(path: str, name: str) -> ListFile:
    data = read_bytes(path)
    source = SourceText(shown(name), decode(data, shown(name)))
    entries = []
    follows = False
    for number, start in enumerate(source.line_starts, 1):
        line = source.line(number)
        text = line.partition("#")[0]
        mark = NUMBERED.match(text)
        lead = mark.end() if mark else 0
        word = text[lead:].strip()
        if not word:
            follows = follows and bool(line.strip())
            continue
        at = lead + len(text[lead:]) - len(text[lead:].lstrip())
        cell = ListCell(word, Place(line=number, column=at + 1), start + at, start + at + len(word))
        entries.append(Entry(number, {WORD: cell}, (word, line[len(text) :].strip()), follows))
        follows = True
    if not entries:
        raise UserError(Problem(source.path, "This list is empty.", "Put words in, one a line, or leave the file out."))
    return ListFile(source.path, (WordList(source.path, "", tuple(entries), {WORD: 0}, source),), data, source)


# -- sheets -----------------------------------------------------------------------------------------------------------------


def _separated(path: str, name: str, named: Mapping[str, str]) -> ListFile:
    data = read_bytes(path)
    source = SourceText(shown(name), decode(data, shown(name)))
    if not source.text.strip():
        raise UserError(Problem(source.path, "This file is empty.", "Put a header and rows in."))
    delimiter = delimiter_of(source.text)
    lines = tuple(lines_of(source, delimiter))
    rows = tuple(
        tuple(Cell(f.text.strip(), f"{column_name(column)}{row}") for column, f in enumerate(line.fields, 1))
        for row, line in enumerate(lines, 1)
    )
    sheet = Sheet(source.path, "", rows)
    header = header_of(sheet, named)
    if header is None:
        raise UserError(no_words(sheet, named))
    found = _entries(sheet, header, partial(_field_cell, source, lines))
    word_list = WordList(source.path, "", tuple(found), header.columns, source, header.width)
    return ListFile(source.path, (_not_empty(word_list),), data, source, lines, delimiter)


def _field_cell(source: SourceText, lines: Sequence[Line], row: int, column: int, text: str) -> ListCell:
    """The cell of separated values: its place is that of its text, without blanks and quotation marks around it."""
    field = lines[row].fields[column]
    raw = source.text[field.start : field.end]
    at = field.start + max(0, raw.find(text))
    line, start = source.place(at)
    return ListCell(text, Place(line=line, column=start), at, at + len(text))


def _workbook(path: str, named: Mapping[str, str]) -> ListFile:
    sheets = read_sheets(path)
    data = read_bytes(path)
    parts = WorkbookParts(data)
    lists: list[WordList] = []
    others: list[str] = []
    problems: list[Problem] = []
    for sheet in sheets:
        header = header_of(sheet, named)
        if header is None:
            others.append(sheet.title)
            continue
        try:
            merged, formulas = parts.merged(sheet.title), parts.formulas(sheet.title)
        except Exception:  # zipfile and lxml raise what they like for a damaged part
            what = f"The sheet {sheet.title} of this workbook is damaged."
            raise UserError(Problem(sheet.path, what, "Save it again as .xlsx or as .csv.")) from None
        filled = replace(sheet, rows=_filled(sheet.rows, header, merged))
        entries = list(_entries(filled, header, partial(_sheet_cell, sheet.title)))
        word_list = WordList(sheet.path, sheet.title, tuple(entries), header.columns, width=header.width)
        problems += _unreckoned(word_list, filled, header, formulas)
        if entries:
            lists.append(word_list)
    if problems:
        raise UserError(*first_of(problems))
    if not lists and len(others) == len(sheets):
        raise UserError(no_words(next((s for s in sheets if any(map(len, s.rows))), sheets[0]), named))
    if not lists:
        raise UserError(Problem(shown(path), "This list is empty.", "Put words below its header."))
    return ListFile(shown(path), tuple(lists), data, others=tuple(others))


def _sheet_cell(title: str, row: int, column: int, text: str) -> ListCell:
    return ListCell(text, Place(sheet=title, cell=f"{column_name(column + 1)}{row + 1}"))


def _filled(rows: tuple[tuple[Cell, ...], ...], header: Header, merged: Iterable[Area]) -> tuple[tuple[Cell, ...], ...]:
    """Rows in which a step or a target that is merged over several rows stands in each of them."""
    spread = {header.columns[name] for name in (STEP, TARGET) if name in header.columns}
    result = [list(row) for row in rows]
    for area in merged:
        for column in spread & set(range(area.first_column - 1, area.last_column)):
            if area.first_row - 1 <= header.row or area.first_row > len(result):
                continue
            text = result[area.first_row - 1][area.first_column - 1].text
            for row in result[area.first_row : area.last_row]:
                if column < len(row):
                    row[column] = replace(row[column], text=text)
    return tuple(map(tuple, result))


def _unreckoned(
    word_list: WordList, sheet: Sheet, header: Header, formulas: frozenset[tuple[int, int]]
) -> Iterator[Problem]:
    """Cells of a list whose formula has no value, or says that it went wrong."""
    for number, column in sorted(formulas):
        if column - 1 in header.columns.values() and number - 1 > header.row and number <= len(sheet.rows):
            row = sheet.rows[number - 1]
            text = row[column - 1].text if column <= len(row) else ""
            cell = _sheet_cell(word_list.title, number - 1, column - 1, text)
            if not text:
                what = "This cell holds a formula whose result is not saved in the file."
                yield word_list.problem(cell, what, "Open the workbook in a spreadsheet program and save it there.")
            elif ERRORS.match(text):
                yield word_list.problem(cell, f"The formula in this cell went wrong: {text}.", "Mend it.")


CellAt = partial[ListCell]


def _entries(sheet: Sheet, header: Header, cell_at: CellAt) -> Iterator[Entry]:
    """The rows below a header that have a word."""
    follows = False
    for number, row in enumerate(sheet.rows[header.row + 1 :], header.row + 1):
        there = {
            name: (column, row[column].text)
            for name, column in header.columns.items()
            if column < len(row) and row[column].text
        }
        if WORD not in there:
            follows = False
            continue
        cells = {name: cell_at(number, *there[name]) for name in COLUMNS if name in there}
        yield Entry(number + 1, cells, tuple(cell.text for cell in row), follows)
        follows = True


def _not_empty(word_list: WordList) -> WordList:
    if not word_list.entries:
        raise UserError(Problem(word_list.path, "This list is empty.", "Put words below its header."))
    return word_list
