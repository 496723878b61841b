"""What --fix does to a list file, and what it leaves alone."""

import csv
import io
import stat
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl.styles import Font, PatternFill

from decodecheck.cli.main import run
from tests.lists.asking import mended, told
from tests.wordlists.asking import HARBOUR

SAFE = {"wrong-segmentation", "wrong-sound-count", "hard-before-easy"}
WORDS = ("ship", "box", "knit", "cake", "snow", "storm", "it's", "queen", "yellow", "see", "straw")
ROW = st.tuples(
    st.sampled_from(WORDS),
    st.sampled_from(["", "a/b", "s-n-ow", "b o x", "x"]),
    st.sampled_from(["", "3", "4", "no"]),
    st.text(alphabet=st.sampled_from(list("ab ,;\t\"é\n'")), max_size=5),
)
AT = ["--progression", str(HARBOUR), "--step", "23"]


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.one_of(ROW, st.none()), min_size=1, max_size=8),
    st.sampled_from([",", ";", "\t"]),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
    st.booleans(),
)
def test_safe_faults_go_and_all_else_stays(
    tmp_path: Path,
    rows: list[tuple[str, str, str, str] | None],
    delimiter: str,
    line_end: str,
    ends: bool,
    encoding: str,
    ordered: bool,
) -> None:
    if not any(rows):
        return
    written = io.StringIO()
    writer = csv.writer(written, delimiter=delimiter, lineterminator=line_end)
    writer.writerow(["word", "segmentation", "sounds", "notes"])
    for row in rows:
        writer.writerow(row or ["", "", "", ""])
    text = written.getvalue() if ends else written.getvalue().removesuffix(line_end)
    path = tmp_path / "week.csv"
    before = text.encode(encoding)
    path.write_bytes(before)
    result = mended(path, ordered=ordered)
    if result.data is None:
        assert not SAFE & {kind for kind, _ in told(path, ordered=ordered)}
        return
    path.write_bytes(result.data)
    assert not SAFE & {kind for kind, _ in told(path, ordered=ordered)}
    after = result.data.decode(encoding)
    assert after.endswith(line_end) == text.endswith(line_end) and ("\r\n" in after) == ("\r\n" in text)
    assert result.data[:2] == before[:2]
    # each row that is left has its word and its notes as they were
    kept = [(r[0], r[3]) for r in csv.reader(io.StringIO(after, newline=""), delimiter=delimiter)]
    were = [(r[0], r[3]) for r in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)]
    assert len(were) - len(kept) == result.removed
    for row_kept in kept:
        were.remove(row_kept)
    assert {word for word, _ in were} <= {word for word, _ in kept}
    # and there is nothing more to mend
    assert mended(path, ordered=ordered).data is None


def test_a_plain_list(tmp_path: Path) -> None:
    path = tmp_path / "week.txt"
    path.write_bytes(b"# for Tilda\r\n1. straw  # a hat\r\n2. see\r\n3. straw\r\n\r\nsnow")
    result = mended(path, ordered=True)
    assert result.data == b"# for Tilda\r\n1. see\r\n2. straw  # a hat\r\n\r\nsnow"
    assert result.told() == "1 repeated word taken out, put in order"


def test_a_heading_and_rows_that_say_the_same(tmp_path: Path) -> None:
    path = tmp_path / "week.txt"
    path.write_text("Words this week\n1. straw\n2. see\n", encoding="utf-8")
    result = mended(path, ordered=True)
    assert result.data == b"Words this week\n1. see\n2. straw\n"
    path = tmp_path / "week.csv"
    path.write_text("no,word\n1,bird\n2,bird\n2,bird\n", encoding="utf-8")
    result = mended(path)
    assert result.data == b"no,word\n1,bird\n2,bird\n" and result.removed == 1


def book(path: Path) -> None:
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.title = "Week"
    for row in (("word", "segmentation", "sounds", "for"), ("straw", "s t r aw", 4, "Tilda"), ("box", "b/o x", 3, "Omar"),
                ("see", "s-e-e", 2, None), ("box", None, None, "Omar")):  # fmt: skip
        sheet.append(row)
    sheet["A2"].fill = PatternFill("solid", fgColor="FFEE99")
    sheet["C3"].font = Font(italic=True)
    sheet.column_dimensions["A"].width = 31
    notes = made.create_sheet("Notes")
    notes["B2"], notes["B2"].font = "Mr Pike", Font(bold=True)
    made.save(path)


def test_a_workbook_keeps_sheets_and_styles(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    book(path)
    before = {i.filename: zipfile.ZipFile(path).read(i) for i in zipfile.ZipFile(path).infolist()}
    result = mended(path, ordered=True)
    assert result.data is not None
    path.write_bytes(result.data)
    after = {i.filename: zipfile.ZipFile(path).read(i) for i in zipfile.ZipFile(path).infolist()}
    assert [name for name in before if before[name] != after[name]] == ["xl/worksheets/sheet1.xml"]
    made = openpyxl.load_workbook(path)
    rows = list(made["Week"].iter_rows(values_only=True))
    assert rows == [
        ("word", "segmentation", "sounds", "for"), ("see", "s-ee", 2, None), ("box", "b/o x", 4, "Omar"),
        ("straw", "s t r aw", 4, "Tilda"), (None, None, None, None),
    ]  # fmt: skip
    # how a cell looks goes with its row
    assert made["Week"]["A4"].fill.fgColor.rgb == "00FFEE99" and made["Week"]["C3"].font.italic
    assert made["Week"].column_dimensions["A"].width == 31 and made["Notes"]["B2"].font.bold
    assert mended(path, ordered=True).data is None


@pytest.mark.parametrize("tie", ["formulas", "merged cells"])
def test_rows_that_others_count_on_stay(tmp_path: Path, tie: str) -> None:
    path = tmp_path / "week.xlsx"
    book(path)
    made = openpyxl.load_workbook(path)
    if tie == "formulas":
        made["Notes"]["A1"] = "=Week!A2"
    else:
        made["Week"].merge_cells("D4:D5")
    made.save(path)
    result = mended(path, ordered=True)
    where = "sheet Week has merged cells" if tie == "merged cells" else "this workbook has formulas"
    assert result.data is not None and (result.removed, result.ordered) == (0, 0)
    assert result.left == [f"No row was moved or taken out: {where}, which would no longer fit. Do it by hand."]
    path.write_bytes(result.data)
    sheet = openpyxl.load_workbook(path)["Week"]
    assert [cell.value for cell in sheet["A"]] == ["word", "straw", "box", "see", "box"]
    assert [cell.value for cell in sheet["C"]] == ["sounds", 4, 4, 2, None]


def test_the_command_mends_and_tells(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "week.csv"
    path.write_text("word,sounds\nbox,3\nbox,3\n", encoding="utf-8")
    assert run(["check", str(path), *AT]) == 1
    assert run(["check", str(path), *AT, "--fix"]) == 0
    assert capsys.readouterr().err == f"{path}: 2 cells put right, 1 repeated word taken out.\n"
    assert path.read_text(encoding="utf-8") == "word,sounds\nbox,4\n"
    assert run(["check", str(path), *AT, "--fix", "--strict"]) == 0
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_that_may_only_be_read_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "week.csv"
    path.write_text("word,sounds\nbox,3\n", encoding="utf-8")
    path.chmod(stat.S_IRUSR)
    assert run(["check", str(path), *AT, "--fix"]) == 2
    assert "This file may only be read." in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == "word,sounds\nbox,3\n"


def test_texts_are_not_touched(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "story.txt"
    path.write_text("A box. A box.\n", encoding="utf-8")
    assert run(["check", str(path), *AT, "--fix"]) == 0
    assert path.read_text(encoding="utf-8") == "A box. A box.\n" and capsys.readouterr().err == ""
