"""`decodecheck words` as it is typed: its formats, its files, and what it says of what cannot be meant."""

from __future__ import annotations

import csv
import json
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.cli.words import KINDS as SWITCHES
from decodecheck.printing import columns
from decodecheck.wordlists.left_out import ALWAYS, KINDS
from tests.wordlists.asking import HARBOUR

AT = ["words", "--progression", str(HARBOUR)]


def said(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> str:
    assert run([*AT, *arguments]) == code
    captured = capsys.readouterr()
    assert "Traceback" not in captured.err
    return captured.err if code else captured.out


def test_the_table(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--step", "20", "--with", "ow as in town", "--number", "8", "--apart")
    lines = text.splitlines()
    assert lines[0].startswith("Harbour Lane order of teaching, step 20: 8 words of ")
    assert lines[0].endswith(" that fit, from easy to hard to spell")
    rows = [line.split()[0] for line in lines[3:11]]
    assert "town" in rows and len(set(rows)) == 8
    assert "Left out: " in text and "(--also names)" in text
    assert all(columns(line) <= 100 for line in lines)


def test_a_word_that_sounds_like_another_is_told_with_it(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--step", "14", "--with", "ee", "--common", "5", "--all")
    assert "sounds like meat" in text and "needs a sentence" in text


def test_json_and_csv_say_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("--step", "20", "--with", "sh", "--number", "12")
    document = json.loads(said(capsys, *asked, "--format", "json"))
    assert (document["schema"], document["step"], document["order"]) == (1, 20, "easy")
    rows = list(csv.DictReader(StringIO(said(capsys, *asked, "--format", "csv"))))
    assert [r["word"] for r in rows] == [w["word"] for w in document["words"]]
    for row, word in zip(rows, document["words"]):
        assert row["segmentation"] == " ".join(word["segmentation"])
        assert int(row["sounds"]) == word["sound_count"] == sum(map(len, word["sounds"]))
        assert int(row["graphemes"]) == word["grapheme_count"] == len(word["segmentation"])
        parts = [value for name, value in word["effort"].items() if name != "total"]
        assert sum(parts) == pytest.approx(word["effort"]["total"], abs=0.01)
        assert len(word["choices"]) <= word["grapheme_count"]
    assert document["left_out"]["names"] > 0


@pytest.mark.parametrize(
    ("name", "start"), [("list.csv", "word,segm"), ("list.json", '{"schema": 1'), ("list.txt", "Harbour")]
)
def test_the_name_of_the_output_says_the_format(
    name: str, start: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / name
    assert said(capsys, "--step", "9", "--output", str(out)) == f"{out}: written.\n"
    assert out.read_text(encoding="utf-8").startswith(start)


def test_a_list_does_not_take_the_place_of_what_was_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    used = tmp_path / "last-week.txt"
    used.write_text("ship, shop", encoding="utf-8")
    text = said(capsys, "--step", "9", "--not-in", str(used), "--output", str(used), code=2)
    assert "This file is what the page is made of." in text and used.read_text(encoding="utf-8") == "ship, shop"
    words = said(capsys, "--step", "9", "--with", "sh", "--not-in", str(used), "--all", "--format", "csv")
    assert "\nfish," in words and "\nship," not in words and "\nshop," not in words


@pytest.mark.parametrize("text", ["\ufeffship\r\nshop\r\n", "ship\rshop", "\ufeffship\nshop", "Ship. SHOP!\r\n\r\n"])
def test_line_ends_and_marks_of_another_system_do_not_matter(
    text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    used = tmp_path / "last-week.txt"
    used.write_bytes(text.encode())
    words = said(capsys, "--step", "9", "--with", "sh", "--not-in", str(used), "--all", "--format", "csv")
    assert "\nfish," in words and "\nship," not in words and "\nshop," not in words


def test_every_kind_but_those_that_are_always_left_out_has_a_switch() -> None:
    assert set(SWITCHES) == set(KINDS) - ALWAYS


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--with", "oo"], ["--with: `oo` alone does not say which sound is taught.", "`oo as in moon`", "`oo as in spoon and good`"]),
        (["--with", "sh, zq"], ["--with: decodecheck does not know `zq`", "    sh, zq\n        ^^"]),
        (["--with", "ow as"], ["--with: This cannot be read from here on.", "    ow as\n"]),
        (["--with", ""], ["--with: Nothing is named here."]),
        (["--without", "ow as in cat"], ["--without: "]),
        (["--step", "99"], ["--step: There is no step '99'", "Its steps are: 1 to 27."]),
        (["--sounds", "few"], ["--sounds: 'few' is no number.", "Write 3, or 3-4"]),
        (["--sounds", "5-3"], ["--sounds: '5-3' holds no number", "Write 3-5."]),
        (["--structure", "CC"], ["--structure: 'CC' is no structure.", "for instance CVC"]),
        (["--place", "end"], ["--place: Nothing is named that could stand there."]),
        (["--all", "--number", "3"], ["--all: All words leave nothing to choose."]),
        (["--not-in", "nowhere.txt"], ["nowhere.txt: There is no such file."]),
        (["--group", "Limpets", "--step", "3"], ["--group: A group has a step of its own."]),
        (["--step", "14", "--with", "ow as in grow"], ['--with "ow as in grow": `ow as in grow` is taught at step 23']),
        (["--step", "9", "--syllables", "4", "--sounds", "2"], ["--syllables 4: This leaves no word.", "--sounds 2: "]),
        (["--output", "list.pdf"], ["--output: The name list.pdf does not say which format you want."]),
        (["--also", "nouns"], ["'nouns' is not one of"]),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_told_with_its_place(
    arguments: list[str], told: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    text = said(capsys, *arguments, code=2)
    for part in told:
        assert part in text


def test_a_file_without_a_word_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty.txt").write_text("1, 2;\n", encoding="utf-8")
    text = said(capsys, "--not-in", str(tmp_path / "empty.txt"), code=2)
    assert "empty.txt: There is no word in this file." in text and "leave --not-in out" in text


def test_without_a_progression(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["words"]) == 2
    assert "--progression: No progression is given" in capsys.readouterr().err
    (tmp_path / "decodecheck.toml").write_text(
        'progression = "p.progression"\n[groups]\nLimpets = "2"\nMussels = "1"\n', encoding="utf-8"
    )
    (tmp_path / "p.progression").write_text("step 1\n  teach a, t, n, p, s\nstep 2\n  teach i\n", encoding="utf-8")
    for group, step in (("Limpets", 2), ("Mussels", 1)):
        assert run(["words", "--group", group]) == 0
        assert f", step {step}: " in capsys.readouterr().out
    assert run(["words", "--group", "Whelks"]) == 2
    assert "Whelks" in capsys.readouterr().err


def test_a_clause_that_changes_nothing_is_noted(capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*AT, "--step", "14 also ee", "--number", "1"]) == 0
    assert "makes no difference" in capsys.readouterr().err


def test_what_the_command_does_without() -> None:
    code = (
        "import sys; from decodecheck.cli.main import run; run(sys.argv[1:]); "
        "print(*sorted({'spacy', 'wordfreq', 'rich', 'jinja2', 'openpyxl', 'numpy.ma'} & set(sys.modules)))"
    )
    command = [sys.executable, "-c", code, *AT, "--step", "20", "--with", "sh", "--apart", "--sounds", "3"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == ""
