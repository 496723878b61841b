"""What schools write into their plans beyond one row a sound: everything is read, or said to be left out.

The source of the forms: plans as teachers are known to write them (common practice, no source).
"""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import openpyxl
import pytest

from decodecheck.errors import UserError
from decodecheck.progression.resolve import resolve
from decodecheck.project.starting import Started, start

HEAD = ["Week", "New sounds", "For example", "Tricky words"]


def lessons(text: str) -> list[tuple[int, str, list[str]]]:
    order, problems = resolve(text, "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    found = defaultdict(list)
    for m in order.mentions:
        found[m.step].append(m.label)
    for word, step in order.tricky.items():
        found[step].append(f"tricky {word}")
    return [(s.number, s.title, found[s.number]) for s in order.steps]


def from_csv(folder: Path, *rows: list[str]) -> Started:
    with (folder / "plan.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    return start(str(folder / "plan.csv"), None, None)


def from_list(folder: Path, text: str) -> Started:
    (folder / "plan.txt").write_text(text, encoding="utf-8")
    return start(str(folder / "plan.txt"), None, None)


def from_workbook(folder: Path, **sheets: list[list[str | int]]) -> Started:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(folder / "plan.xlsx")
    return start(str(folder / "plan.xlsx"), None, None)


def complaints(folder: Path, *rows: list[str]) -> list[tuple[str, str]]:
    with pytest.raises(UserError) as caught:
        from_csv(folder, *rows)
    return [(p.path.rpartition("cell ")[2], p.what) for p in caught.value.problems]


def test_a_second_sheet_goes_on(tmp_path: Path) -> None:
    started = from_workbook(
        tmp_path,
        Reception=[[*HEAD], ["Week 1", "p"], ["Week 2", "t"]],
        Year_1=[[*HEAD], ["Week 3", "n"]],
        Notes=[["Buy glue"]],
    )
    assert [(n, items) for n, _, items in lessons(started.text)] == [(1, ["p"]), (2, ["t"]), (3, ["n"])]
    assert "Left out, since no row has the headers: sheet 'Notes'." in started.understood


def test_weeks_that_start_again_in_the_second_sheet_are_named_with_it(tmp_path: Path) -> None:
    started = from_workbook(
        tmp_path, Reception=[[*HEAD], ["Week 1", "p"], ["Week 2", "t"]], Year1=[[*HEAD], ["Week 1", "n"], [2, "s"]]
    )
    assert lessons(started.text) == [
        (1, "Reception, Week 1", ["p"]), (2, "Reception, Week 2", ["t"]), (3, "Year1, Week 1", ["n"]), (4, "Year1, step 2", ["s"]),
    ]  # fmt: skip


def test_a_week_is_finer_than_a_term(tmp_path: Path) -> None:
    started = from_csv(
        tmp_path, ["Term", "Week beginning", "Sounds"], ["Autumn", "2026-09-07", "p"], ["", "2026-09-14", "t"], ["Spring", "2027-01-04", "n"]
    )  # fmt: skip
    assert lessons(started.text) == [
        (1, "Autumn, 2026-09-07", ["p"]), (2, "Autumn, 2026-09-14", ["t"]), (3, "Spring, 2027-01-04", ["n"])
    ]  # fmt: skip
    assert "step 'Week beginning' (B1)" in started.understood and "'Term' (A1)" in started.understood


@pytest.mark.parametrize(
    ("cell", "labels"),
    [
        ("s/z/", ["s as in is"]),
        ("s /z/", ["s as in is"]),
        ("th /θ/, n", ["th as in thin", "n"]),
        ("ai/sh", ["ai", "sh"]),
        ("ow /aʊ/", ["ow as in town"]),
    ],
)
def test_a_sound_between_slashes(tmp_path: Path, cell: str, labels: list[str]) -> None:
    # the source of the signs: the International Phonetic Alphabet, as southern British dictionaries use it
    ((_, _, items),) = lessons(from_csv(tmp_path, HEAD, ["1", cell, "", ""]).text)
    assert items == labels


def test_a_sound_that_a_grapheme_never_has(tmp_path: Path) -> None:
    assert complaints(tmp_path, HEAD, ["1", "s/q/", "", ""]) == [("B2", "`s` is never said /q/ in this accent.")]


def test_examples_go_with_what_they_hold(tmp_path: Path) -> None:
    started = from_csv(tmp_path, HEAD, ["1", "p, i, n", "", ""], ["2", "sh, th", "thin, this", ""])
    assert [items for _, _, items in lessons(started.text)] == [["p", "i", "n"], ["sh", "th"]]
    both = from_csv(tmp_path, HEAD, ["1", "oo, ai", "moon, rain, good", ""])
    assert [items for _, _, items in lessons(both.text)] == [["oo as in moon and good", "ai"]]
    assert complaints(tmp_path, HEAD, ["1", "sh, th", "thin, cat", ""]) == [
        ("C2", "The example word `cat` holds none of the items beside it.")
    ]


def test_rows_that_name_no_sound_are_left_out_and_named(tmp_path: Path) -> None:
    started = from_csv(
        tmp_path, HEAD, ["1", "p", "", ""], ["2", "Revision", "", "the"], ["3", "HALF TERM", "", ""], ["4", "t", "", ""]
    )
    assert lessons(started.text) == [(1, "", ["p"]), (2, "", ["tricky the"]), (4, "", ["t"])]
    assert "Left out, since no sound is named there: cell B3 ('Revision'), cell B4 ('HALF TERM')." in started.understood


def test_a_heading_of_a_list_is_left_out_and_named(tmp_path: Path) -> None:
    started = from_list(tmp_path, "Year R sounds\np, t\nn\n")
    assert [items for _, _, items in lessons(started.text)] == [["p", "t"], ["n"]]
    assert started.understood == "Left out, since no sound is named there: line 1 ('Year R sounds')."


def test_long_and_short_ask_for_a_word(tmp_path: Path) -> None:
    assert complaints(tmp_path, HEAD, ["1", "oo (long), oo (short)", "", ""]) == [
        ("B2", "`oo (long)` names no sound: what stands in brackets is a word with it."),
        ("B2", "`oo (short)` names no sound: what stands in brackets is a word with it."),
    ]


@pytest.mark.parametrize("step", ["1.5", "Step 1.5", "1,5"])
def test_half_a_step_is_none(tmp_path: Path, step: str) -> None:
    assert complaints(tmp_path, HEAD, [step, "p", "", ""]) == [("A2", f"The step {step} is no whole number.")]


def test_a_cell_with_a_line_break_is_named_itself(tmp_path: Path) -> None:
    found = complaints(tmp_path, HEAD, ["1", "p\nt", "", ""], ["2", "n\nzzq", "", ""], ["3", "xqx", "", ""])
    assert [cell for cell, _ in found] == ["B3", "B4"]


def test_two_letters_that_changed_places(tmp_path: Path) -> None:
    with pytest.raises(UserError) as caught:
        from_csv(tmp_path, HEAD, ["1", "kc", "", ""])
    assert "`ck`" in caught.value.problems[0].todo.split(",")[0]
