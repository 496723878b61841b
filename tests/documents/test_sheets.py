"""Spreadsheets: cells keep their names and texts; what is damaged is said to be."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from decodecheck.documents.sheets import column_name, read_sheets
from decodecheck.errors import UserError

CELL = st.text(alphabet=st.sampled_from(list("abé,;\"'\n as-")), max_size=12).map(str.strip)
ROWS = st.lists(st.lists(CELL, min_size=1, max_size=5), min_size=1, max_size=6)


def test_column_names() -> None:
    # source: ECMA-376 (Office Open XML), cell references: A to Z, AA to ZZ, AAA to XFD, the last of 16,384 columns
    assert [column_name(n) for n in (1, 26, 27, 52, 53, 702, 703, 16384)] == [
        "A", "Z", "AA", "AZ", "BA", "ZZ", "AAA", "XFD"
    ]  # fmt: skip


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(ROWS, st.sampled_from([",", ";", "\t"]), st.booleans())
def test_csv_keeps_every_cell(tmp_path: Path, rows: list[list[str]], delimiter: str, bom: bool) -> None:
    written = io.StringIO()
    # the header decides what divides cells: it has more of it than of anything else
    csv.writer(written, delimiter=delimiter).writerows([["step", "item", "example word", "tricky"], *rows])
    path = tmp_path / "plan.csv"
    path.write_bytes((b"\xef\xbb\xbf" if bom else b"") + written.getvalue().encode("utf-8"))
    (sheet,) = read_sheets(str(path))
    assert [[c.text for c in row] for row in sheet.rows[1:]] == [r if r != [""] else [""] for r in rows]
    assert all(c.name == f"{column_name(j)}{i}" for i, row in enumerate(sheet.rows, 1) for j, c in enumerate(row, 1))


def test_xlsx_cells_numbers_and_sheets(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.worksheets[0].title = "Notes"
    plan = book.create_sheet("Plan")
    plan["A1"], plan["B1"] = "Step", "Item"
    plan["A3"], plan["B3"] = 2.0, " sh "
    book.save(tmp_path / "plan.xlsx")
    notes, found = read_sheets(str(tmp_path / "plan.xlsx"))
    assert (notes.title, found.title) == ("Notes", "Plan")
    assert [(c.name, c.text) for row in found.rows for c in row] == [
        ("A1", "Step"), ("B1", "Item"), ("A2", ""), ("B2", ""), ("A3", "2"), ("B3", "sh")
    ]  # fmt: skip
    assert found.place(found.rows[2][1]).endswith("plan.xlsx, sheet Plan, cell B3")


def workbook() -> bytes:
    """A small workbook. It holds the time it was made, so one is made for all examples."""
    book = openpyxl.Workbook()
    book.worksheets[0]["A1"] = "step"
    whole = io.BytesIO()
    book.save(whole)
    return whole.getvalue()


WORKBOOK = workbook()


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.floats(0, 1), st.lists(st.floats(0, 1, exclude_max=True), max_size=8))
def test_a_damaged_workbook_is_said_to_be(tmp_path: Path, kept_share: float, spoilt: list[float]) -> None:
    kept = bytearray(WORKBOOK[: round(len(WORKBOOK) * kept_share)])
    for share in spoilt:
        if kept:
            kept[int(share * len(kept))] ^= 0xFF
    path = tmp_path / "plan.xlsx"
    path.write_bytes(bytes(kept))
    try:
        sheets = read_sheets(str(path))
    except UserError as error:
        assert error.problems[0].what and error.problems[0].todo
        assert bytes(kept) != WORKBOOK
    else:
        # what could be read in spite of the damage is what stood there, never less and never something else
        assert [[c.text for c in row] for sheet in sheets for row in sheet.rows] == [["step"]]


@pytest.mark.parametrize("share", [0, 0.1, 0.5, 0.9, 0.999])
def test_a_workbook_that_was_cut_off_is_never_read(tmp_path: Path, share: float) -> None:
    (tmp_path / "plan.xlsx").write_bytes(WORKBOOK[: int(len(WORKBOOK) * share)])
    with pytest.raises(UserError) as caught:
        read_sheets(str(tmp_path / "plan.xlsx"))
    assert caught.value.problems[0].what and caught.value.problems[0].todo


@pytest.mark.parametrize("text", ["", "  \n", 'step,item\n1,"sh\n'])
def test_what_is_wrong_with_a_csv(tmp_path: Path, text: str) -> None:
    (tmp_path / "plan.csv").write_text(text, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        read_sheets(str(tmp_path / "plan.csv"))
    assert caught.value.problems[0].todo
