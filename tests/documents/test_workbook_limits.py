"""Workbooks that would take minutes or gigabytes, or that are broken: one message each; a large ordinary one is read.

The source of the forms: ECMA-376 (Office Open XML), SpreadsheetML, as openpyxl writes it; the last cell of a sheet is XFD1048576.
"""

from __future__ import annotations

import io
import re
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from decodecheck.documents import sheets
from decodecheck.documents.sheets import read_sheets
from decodecheck.errors import UserError

HEAD = ["step", "item", "example word", "tricky"]


def book(*rows: list[Any], then: Callable[[openpyxl.Workbook], None] | None = None) -> bytes:
    made = openpyxl.Workbook()
    for row in [HEAD, *rows]:
        made.worksheets[0].append(row)
    if then:
        then(made)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def with_part(data: bytes, name: str, change: Callable[[bytes], bytes] | None) -> bytes:
    """A workbook with one part changed, or left out."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            if part != name:
                new.writestr(part, old.read(part))
            elif change:
                new.writestr(part, change(old.read(part)))
        if name not in old.namelist() and change:
            new.writestr(name, change(b""))
    return out.getvalue()


SHEET = "xl/worksheets/sheet1.xml"


def last_cell() -> bytes:
    def fill(made: openpyxl.Workbook) -> None:
        made.worksheets[0].cell(1048576, 16384, "x")

    return book([1, "p"], then=fill)


def bomb() -> bytes:
    return with_part(book([1, "p"]), "xl/media/image1.png", lambda _: bytes(140_000_000))


def two_bombs() -> bytes:
    return with_part(
        with_part(bomb(), "xl/a.xml", lambda _: b" " * 90_000_000), "xl/b.xml", lambda _: b" " * 90_000_000
    )


def many_parts() -> bytes:
    out = io.BytesIO(book([1, "p"]))
    with zipfile.ZipFile(out, "a") as package:
        for n in range(3000):
            package.writestr(f"xl/media/{n}.txt", "x")
    return out.getvalue()


LAUGHS = (
    b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">' + b"".join(
        b'<!ENTITY %c "&%c;&%c;&%c;&%c;&%c;&%c;&%c;&%c;">' % (98 + n, *[97 + n] * 8) for n in range(9)
    ) + b"]>"
)  # fmt: skip


def laughs() -> bytes:
    return with_part(book([1, "p"]), SHEET, lambda old: old.replace(b"<worksheet", LAUGHS + b"<worksheet", 1))


def no_sheets() -> bytes:
    return with_part(
        book([1, "p"]), "xl/workbook.xml",
        lambda old: old[: old.index(b"<sheets>")] + b"<sheets/>" + old[old.index(b"</sheets>") + 9 :],
    )  # fmt: skip


def no_such_shared_text() -> bytes:
    return with_part(
        book([1, "p"]), SHEET, lambda old: re.sub(rb'<c r="B2".*?</c>', b'<c r="B2" t="s"><v>99</v></c>', old)
    )


def no_sheet_part() -> bytes:
    return with_part(book([1, "p"]), SHEET, None)


def row_beyond() -> bytes:
    return with_part(
        book([1, "p"]), SHEET, lambda old: old.replace(b'r="2"', b'r="99999999"').replace(b'"A2"', b'"A99999999"')
    )


def wide_and_long() -> bytes:
    def fill(made: openpyxl.Workbook) -> None:
        made.worksheets[0].cell(199_999, 1, "p")
        made.worksheets[0].cell(1, 900, "p")

    return book([1, "p"], then=fill)


@pytest.mark.parametrize(
    ("make", "what"),
    [
        (last_cell, "A sheet is used down to row 1,048,576, column 16,384."),
        (row_beyond, "A sheet is used down to row 99,999,999, column 1."),
        (wide_and_long, "The sheets of this workbook are used down to row 199,999 and column 900."),
        (bomb, "This workbook holds a part that is nothing but padding."),
        (two_bombs, "This workbook has 320 megabytes when it is unpacked."),
        (many_parts, "This workbook has 3,009 parts."),
        (laughs, "This workbook has a part with a document type of its own."),
        (no_sheets, "This workbook has no sheet with cells."),
        (no_such_shared_text, "This is no Excel workbook, or it is damaged."),
        (no_sheet_part, "1 sheet of this workbook is missing in the file."),
    ],
)
def test_what_is_beyond_reading_gets_one_message(tmp_path: Path, make: Callable[[], bytes], what: str) -> None:
    (tmp_path / "plan.xlsx").write_bytes(make())
    with pytest.raises(UserError) as caught:
        read_sheets(str(tmp_path / "plan.xlsx"))
    (problem,) = caught.value.problems
    assert problem.what == what and problem.todo


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheets, "LARGEST", 1000)
    (tmp_path / "plan.xlsx").write_bytes(book([1, "p"]))
    with pytest.raises(UserError, match="more than 0 are not read"):
        read_sheets(str(tmp_path / "plan.xlsx"))


def test_a_folder_is_no_workbook(tmp_path: Path) -> None:
    (tmp_path / "plan.xlsx").mkdir()
    with pytest.raises(UserError, match="This is a folder"):
        read_sheets(str(tmp_path / "plan.xlsx"))


def empty_rows(old: bytes) -> bytes:
    rows = b"".join(b'<row r="%d" s="1" customFormat="1"/>' % n for n in range(3, 1_000_000))
    return old.replace(b"</sheetData>", rows + b"</sheetData>")


def linked(old: bytes) -> bytes:
    return old.replace(
        b"</sheetData>",
        b'</sheetData><mergeCells count="1"><mergeCell ref="C1:XFD1048576"/></mergeCells>'
        b'<hyperlinks><hyperlink ref="A1:XFD1048576" location="x"/></hyperlinks>',
    )


def says_it_is_larger(old: bytes) -> bytes:
    return old.replace(b'<dimension ref="A1:D2"', b'<dimension ref="A1:XFD1048576"')


def says_it_is_smaller(old: bytes) -> bytes:
    return old.replace(b'<dimension ref="A1:D2"', b'<dimension ref="A1:A1"')


@pytest.mark.parametrize("change", [empty_rows, linked, says_it_is_larger, says_it_is_smaller])
def test_what_holds_no_values_changes_nothing(tmp_path: Path, change: Callable[[bytes], bytes]) -> None:
    data = with_part(book([1, "p", "pen", "the"]), SHEET, change)
    assert data != book([1, "p", "pen", "the"])
    (tmp_path / "plan.xlsx").write_bytes(data)
    (sheet,) = read_sheets(str(tmp_path / "plan.xlsx"))
    assert [[c.text for c in row] for row in sheet.rows] == [HEAD, ["1", "p", "pen", "the"]]


READ = """
import re, sys
from pathlib import Path
from decodecheck.documents.sheets import read_sheets
(sheet,) = read_sheets(sys.argv[1])
# not ru_maxrss, which counts the process that started this one
peak = re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())[1]
print(len(sheet.rows), sheet.rows[-1][1].text, sheet.rows[-1][1].name, peak)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="the peak is read from /proc")
def test_a_hundred_thousand_rows_are_read(tmp_path: Path) -> None:
    made = openpyxl.Workbook(write_only=True)
    sheet = made.create_sheet("Plan")
    sheet.append(HEAD)
    for n in range(100_000):
        sheet.append([n // 20, "ai", "rain", "the"])
    made.save(tmp_path / "plan.xlsx")
    done = subprocess.run(
        [sys.executable, "-c", READ, str(tmp_path / "plan.xlsx")], capture_output=True, text=True, check=True
    )
    rows, item, name, peak = done.stdout.split()
    assert (rows, item, name) == ("100001", "ai", "B100001")
    assert int(peak) < 500_000, "kilobytes"
