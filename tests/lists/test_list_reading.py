"""Word lists as they stand in files."""

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from decodecheck.errors import UserError
from decodecheck.lists.reading import read_list


def words(path: Path, **columns: str) -> list[str]:
    return [e.word.text for word_list in read_list(str(path), columns).lists for e in word_list.entries]


def test_a_plain_list(tmp_path: Path) -> None:
    path = tmp_path / "week.txt"
    text = "# Week 3\r\n1. ship\r\n2) shop\r\n- fish  # Tilda's\r\n\r\n   ice cream\r\n"
    path.write_bytes(b"\xef\xbb\xbf" + text.encode())
    (word_list,) = read_list(str(path)).lists
    assert [e.word.text for e in word_list.entries] == ["ship", "shop", "fish", "ice cream"]
    lines = text.split("\r\n")
    for entry in word_list.entries:
        place = entry.word.place
        assert lines[place.line - 1][place.column - 1 :].startswith(entry.word.text)
        assert text[entry.word.start : entry.word.end] == entry.word.text
    assert [e.follows for e in word_list.entries] == [False, True, True, False]


CELL = st.text(alphabet=st.sampled_from(list("abc ,;\t\"'\n")), max_size=6)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.tuples(st.sampled_from(["ship", "a cat", "fish"]), CELL), min_size=1, max_size=5),
    st.sampled_from([",", ";", "\t"]),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
def test_a_cell_knows_its_place(
    tmp_path: Path, rows: list[tuple[str, str]], delimiter: str, line_end: str, quoted: bool
) -> None:
    import csv

    written = io.StringIO()
    writer = csv.writer(
        written, delimiter=delimiter, lineterminator=line_end, quoting=csv.QUOTE_ALL if quoted else csv.QUOTE_MINIMAL
    )
    writer.writerows([("notes", "word", "step"), *((note, word, "") for word, note in rows)])
    path = tmp_path / "week.csv"
    path.write_text(written.getvalue(), encoding="utf-8", newline="")
    (word_list,) = read_list(str(path)).lists
    assert [e.word.text for e in word_list.entries] == [word for word, _ in rows]
    source = word_list.source
    assert source is not None
    for entry in word_list.entries:
        place = entry.word.place
        assert source.line(place.line)[place.column - 1 :].startswith(entry.word.text)


def test_headers(tmp_path: Path) -> None:
    path = tmp_path / "week.csv"
    path.write_text("Our words,,\n,\nSpelling words:;x\n", encoding="utf-8")
    with pytest.raises(UserError, match="No column"):
        read_list(str(path))
    path.write_text("Our words for autumn,,\n,,\nNo,Spelling words,Number of sounds\n1,ship,3\n", encoding="utf-8")
    (word_list,) = read_list(str(path)).lists
    assert word_list.columns == {"word": 1, "sounds": 2} and words(path) == ["ship"]
    path.write_text("Wort,word\nship,no\n", encoding="utf-8")
    assert words(path, word="wort") == ["ship"]


def workbook(path: Path) -> openpyxl.Workbook:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Autumn"
    for row in (("Word", "Step", "Sounds"), ("ship", 12, 3), ("shop", None, 3), (True, 14, 3)):
        sheet.append(row)
    sheet.merge_cells("B2:B3")
    book.create_sheet("Notes")["A1"] = "Omar takes the cards"
    book.save(path)
    return book


def test_a_workbook(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    workbook(path)
    file = read_list(str(path))
    (word_list,) = file.lists
    assert file.others == ("Notes",)
    assert [(e.word.text, e.word.place.cell) for e in word_list.entries] == [
        ("ship", "A2"), ("shop", "A3"), ("true", "A4")
    ]  # fmt: skip
    # a step that is merged over two rows is that of both
    assert [e.cells["step"].text for e in word_list.entries] == ["12", "12", "14"]


def test_formulas(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    book = workbook(path)
    book["Autumn"]["A5"], book["Autumn"]["C2"] = "=A2", "=1+2"
    book.save(path)
    with pytest.raises(UserError) as raised:
        read_list(str(path))
    assert [p.path for p in raised.value.problems] == [
        f"{path}, sheet Autumn, cell C2", f"{path}, sheet Autumn, cell A5"
    ]  # fmt: skip
    assert "whose result is not saved" in str(raised.value)


@pytest.mark.parametrize("name", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"])
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(share=st.floats(0, 1, exclude_max=True), byte=st.integers(0, 255))
def test_a_damaged_part_is_said_to_be(tmp_path: Path, name: str, share: float, byte: int) -> None:
    path = tmp_path / "week.xlsx"
    workbook(path)
    parts = {info.filename: zipfile.ZipFile(path).read(info) for info in zipfile.ZipFile(path).infolist()}
    damaged = bytearray(parts[name])
    damaged[int(share * len(damaged))] = byte
    with zipfile.ZipFile(path, "w") as package:
        for part, data in parts.items():
            package.writestr(part, bytes(damaged) if part == name else data)
    try:
        assert read_list(str(path)).lists
    except UserError as error:
        assert all(p.what and p.todo for p in error.problems)
