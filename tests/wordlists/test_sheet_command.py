"""`decodecheck sheet` and `decodecheck words --sheet` as they are typed."""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from io import BytesIO, StringIO
from pathlib import Path

import docx
import pytest

from decodecheck.cli._options import PAPERS as PAPER_CHOICES
from decodecheck.cli._options import SHEET_PARTS
from decodecheck.cli.main import run
from decodecheck.cli.sheet import FORMATS
from decodecheck.reports import pages, paper
from decodecheck.reports.sheet import MOST, PARTS
from tests.wordlists.asking import HARBOUR, found, harbour, words

AT = ["--progression", str(HARBOUR), "--step", "23"]
LESSON = [*AT, "--with", "ow as in grow", "--number", "8", "--apart"]


@pytest.fixture
def week(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "week.txt"
    path.write_text("grow\n\n  meat \r\ndidn’t\nTilda\n", encoding="utf-8")
    return path


def test_options_name_what_there_is() -> None:
    assert SHEET_PARTS == PARTS
    assert set(PAPER_CHOICES) == set(paper.PAPERS)
    assert set(FORMATS) == {*pages.names(), "json", "csv"}


# -- one command for a lesson ---------------------------------------------------------------------------------------------


def test_a_lesson_in_one_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "week.html"
    assert run(["words", *LESSON, "--sheet", str(target), "--title", "Tilda's week"]) == 0
    said = capsys.readouterr().out
    chosen = words(found(harbour(), 23, "ow as in grow", number=8, apart=True))
    assert said.startswith("Harbour Lane order of teaching, step 23: 8 words of ") and said.endswith(
        f"{target}: written.\n"
    )
    html = target.read_text(encoding="utf-8")
    assert re.findall(r'<td class="word">(.*?)</td>', html) == chosen
    assert "<h1>Tilda&#39;s week: words to dictate</h1>" in html and html.count("<h1") == 3


@pytest.mark.parametrize("part", PARTS)
def test_one_part_alone(part: str, tmp_path: Path) -> None:
    target = tmp_path / "week.html"
    assert run(["words", *LESSON, "--sheet", str(target), "--part", part, "--paper", "letter"]) == 0
    html = target.read_text(encoding="utf-8")
    held = {"dictation": '<table class="dictation">', "frames": '<div class="frames">', "cards": '<table class="cards"'}
    assert [name for name, mark in held.items() if mark in html] == [part]
    assert "size: letter;" in html and html.count("<h1") == 1


def test_a_list_for_a_program_stays_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "week.docx"
    assert run(["words", *LESSON, "--format", "json", "--sheet", str(target)]) == 0
    captured = capsys.readouterr()
    assert len(json.loads(captured.out)["words"]) == 8 and captured.err == f"{target}: written.\n"
    assert docx.Document(BytesIO(target.read_bytes())).tables
    out = tmp_path / "week.csv"
    assert run(["words", *LESSON, "--output", str(out), "--sheet", str(target)]) == 0
    assert capsys.readouterr().out == f"{out}: written.\n{target}: written.\n"


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--part", "cards"], ["--part: This is for a sheet, and none is asked for.", "Add --sheet FILE.html."]),
        (["--paper", "letter"], ["--paper: This is for a sheet"]),
        (["--title", "Week 3"], ["--title: This is for a sheet"]),
        (["--sheet", "week.pdf"], ["--sheet: The name week.pdf does not say", "End it in .txt, .docx, .html, .htm"]),
        (["--sheet", "week.html", "--output", "./week.html", "--format", "text"], ["--sheet: The list goes into the same file."]),
        (["--sheet", "nowhere/week.html"], ["nowhere/week.html: There is no folder nowhere"]),
        (["--sheet", "week.html", "--part", "stickers"], ["'stickers' is not one of"]),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_writes_nothing(
    arguments: list[str], told: list[str], week: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["words", *LESSON, *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and list(week.parent.iterdir()) == [week]
    for part in told:
        assert part in captured.err


def test_a_sheet_has_an_end(week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["words", *AT, "--all", "--sheet", "week.html"]) == 2
    assert re.search(rf"--all: These are [\d,]+ words; a sheet holds up to {MOST}\.", capsys.readouterr().err)
    week.write_text("grow\n" * 100_000, encoding="utf-8")
    assert run(["sheet", str(week), *AT]) == 2
    assert "These are 100,000 words" in capsys.readouterr().err


def test_a_sheet_does_not_take_the_place_of_what_was_read(week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = week.read_bytes()
    assert run(["words", *LESSON, "--not-in", "week.txt", "--sheet", "week.txt"]) == 2
    assert run(["sheet", "week.txt", *AT, "--output", "week.txt"]) == 2
    assert run(["sheet", "week.txt", *AT, "--format", "csv", "--output", "./week.txt"]) == 2
    captured = capsys.readouterr()
    assert captured.err.count("week.txt: This file is what the page is made of.") == 3 and captured.out == ""
    assert week.read_bytes() == before


@pytest.mark.parametrize("command", [["words", *LESSON, "--sheet"], ["sheet", "week.txt", *AT, "--output"]])
def test_a_file_that_may_only_be_read_stays_as_it_is(
    command: list[str], week: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = week.parent / "week.html"
    target.write_text("kept", encoding="utf-8")
    target.chmod(0o444)
    assert run([*command, "week.html"]) == 2
    captured = capsys.readouterr()
    assert "week.html: This file may only be read." in captured.err and captured.out == ""
    assert target.read_text(encoding="utf-8") == "kept" and len(list(week.parent.iterdir())) == 2


def test_what_the_command_does_without(tmp_path: Path) -> None:
    code = (
        "import sys; from decodecheck.cli.main import run; run(sys.argv[1:]); "
        "print(*sorted({'docx', 'lxml', 'spacy', 'wordfreq', 'rich', 'openpyxl', 'numpy.ma', 'decodecheck.judging.judge', "
        "'decodecheck.session'} & set(sys.modules)))"
    )
    command = [sys.executable, "-c", code, "words", *LESSON, "--sheet", str(tmp_path / "week.html")]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == ""


# -- a sheet of a list ----------------------------------------------------------------------------------------------------


def test_every_format_holds_the_words_of_the_list(week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wanted = ["grow", "meat", "didn’t", "Tilda"]
    assert run(["sheet", "week.txt", *AT, "--format", "json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert [w["word"] for w in document["words"]] == wanted
    assert (document["schema"], document["step"], document["title"]) == (1, 23, None)
    assert run(["sheet", "week.txt", *AT, "--format", "csv"]) == 0
    rows = list(csv.DictReader(StringIO(capsys.readouterr().out)))
    for row, word in zip(rows, document["words"], strict=True):
        assert row["word"] == word["word"] and row["watch"] == "; ".join(word["watch"])
        assert int(row["graphemes"]) == word["grapheme_count"] == len(word["segmentation"])
        assert int(row["sounds"]) == word["sound_count"] == sum(map(len, word["sounds"]))
    assert run(["sheet", "week.txt", *AT]) == 0
    text = capsys.readouterr().out
    assert all(f" {word} " in text for word in wanted)
    for name in ("week.json", "week.csv", "week.html", "week.docx", "sheet.txt"):
        assert run(["sheet", "week.txt", *AT, "--output", name]) == 0
        assert capsys.readouterr().out == f"{name}: written.\n"
    assert json.loads((week.parent / "week.json").read_text(encoding="utf-8")) == document
    assert (week.parent / "sheet.txt").read_text(encoding="utf-8") == text


def test_words_are_looked_up_as_explain_does(week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    school = week.parent / "school.progression"
    school.write_text(
        "step 1\n  teach a, b, d, e, g, i, l, m, n, o, p, r, s, t, u\nword Niamh = n + ia /iː/ + mh /v/\nword tub = t + u /ʌ/ + b /b/\n",
        encoding="utf-8",
    )
    week.write_text("Niamh\ntub\nsaddlebags\nstripblob\nbig-lipped\n", encoding="utf-8")
    assert run(["sheet", "week.txt", "--progression", "school.progression", "--format", "json"]) == 0
    captured = capsys.readouterr()
    told = {w["word"]: (w["segmentation"], w["origin"]) for w in json.loads(captured.out)["words"]}
    assert told["Niamh"] == (["n", "ia", "mh"], "yours") and told["tub"] == (["t", "u", "b"], "yours")
    assert told["stripblob"][1] == "predicted" and told["big-lipped"][0] == ["b", "i", "g", "l", "i", "pp", "ed"]
    assert "week.txt:4:1: note: stripblob is not in the lexicon; it was divided by its spelling alone." in captured.err
    assert run(["explain", "saddlebags", "--progression", "school.progression", "--format", "jsonl"]) == 0
    explained = json.loads(capsys.readouterr().out)
    assert told["saddlebags"] == ([g["grapheme"] for g in explained["readings"][0]["graphemes"]], explained["origin"])


def test_a_list_from_standard_input(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "decodecheck", "sheet", "-", *AT, "--part", "dictation"]
    done = subprocess.run(command, input="grow\nknee\n", capture_output=True, text=True, check=False)
    assert done.returncode == 0 and "☐g  ☐r  ☐ow" in done.stdout
    assert done.stderr.startswith("standard input:2:1: note: knee cannot be decoded at step 23.")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", ["week.txt: This list is empty.", "Put words in, one a line"]),
        ("\n \n\t\n", ["week.txt: This list is empty."]),
        ("grow, blow\nslow\nsee saw\n", ["week.txt:1:1: This is more than one word", "    grow, blow\n    ^", "week.txt:3:1: "]),
        ("grow\n  123\nzzzxq\n", ["week.txt:2:3: No reading of this is known.", "      123\n      ^^^", "week.txt:3:1: "]),
    ],
)  # fmt: skip
def test_a_list_that_is_none(text: str, told: list[str], week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    week.write_text(text, encoding="utf-8")
    assert run(["sheet", "week.txt", *AT, "--output", "week.html"]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and list(week.parent.iterdir()) == [week]
    for part in told:
        assert part in captured.err


def test_a_table_is_a_list(week: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (week.parent / "week.csv").write_text("no,word\n1,grow\n2,knee\n", encoding="utf-8")
    assert run(["sheet", "week.csv", *AT, "--part", "dictation"]) == 0
    told = capsys.readouterr()
    assert "☐g  ☐r  ☐ow" in told.out and told.err.startswith("week.csv:3:3: note: knee cannot")
    (week.parent / "decodecheck.toml").write_text(
        'progression = "h.progression"\n[[lists]]\nfiles = "*.csv"\nstep = 7\n', encoding="utf-8"
    )
    (week.parent / "h.progression").write_bytes(HARBOUR.read_bytes())
    # the step is that of the list, as for `check`
    assert run(["sheet", "week.csv", "--part", "dictation"]) == 0
    assert "Harbour Lane order of teaching, step 7 of 27" in capsys.readouterr().out
    assert run(["sheet", "nowhere.txt", *AT]) == 2
    assert "nowhere.txt: There is no such file." in capsys.readouterr().err
