"""A kind of finding, a reader, a format of a check, a format of a page: each is one file, found by folder.

Each trial writes that one file into a folder of its own, lets the package look there too, and uses it from the command line.
"""

import importlib
import json
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from decodecheck.checking import findings, kinds
from decodecheck.cli import check as check_command
from decodecheck.cli import preview as preview_command
from decodecheck.cli.main import run
from decodecheck.documents import readers, reading
from decodecheck.lists import findings as list_findings
from decodecheck.lists.kinds import list_kinds
from decodecheck.reports import check as formats
from decodecheck.reports import pages

TWICE = '''"""A word that stands twice in a row.

What it checks: the same word twice, with nothing but white space between.

Why it matters: it is nearly always a slip.

Example: the the donkey.

Instead: take one of them out.
"""

import re

from decodecheck.checking.kinds import WARNING, Spotted

SEVERITY = WARNING


def find(report):
    """Each second word."""
    for match in re.finditer(r"\\b(\\w+)\\s+(\\1)\\b", report.document.text, re.IGNORECASE):
        yield Spotted(match.start(2), match.end(2), f"“{match[2]}” stands twice.", "Take one of them out.")
'''
LONG = '''"""A long word in a list.

What it checks: words of more than five letters.

Why it matters: the board is small.

Example: donkey.

Instead: use a shorter word.
"""

from decodecheck.checking.kinds import ERROR
from decodecheck.lists.kinds import Told

SEVERITY = ERROR


def find(examined):
    """Each long word."""
    for fact in examined.words:
        if len(fact.word) > 5:
            yield Told(fact, "This word is long.", "Use a shorter one.")
'''
CELLS = '''"""Cells, one a line."""

from decodecheck.documents.document import Block, Document, Place

SUFFIXES = (".cells",)


def read(path, data):
    """A block a line, named A1, A2, ..."""
    text, blocks = "", []
    for number, line in enumerate(data.decode().splitlines(), 1):
        blocks.append(Block(len(text), Place(sheet="Words", cell=f"A{number}")))
        text += line + "\\n\\n"
    return Document(path, text, tuple(blocks))
'''
WORDS = '''"""The words alone, a line each."""

SUFFIX = ".words"
MACHINE = False


def render(run, view):
    """A line for each finding."""
    for report in run:
        for finding in report.findings:
            yield f"{finding.place.after(report.path)} {finding.word}\\n"
'''
TITLE = '''"""The title of a page."""

SUFFIXES = (".title",)


def render(page):
    """One line."""
    return page.title + "\\n"
'''
SCHOOL = "step 1\n  teach a, b, d, e, h, m, n, r, s, t, th\n  tricky the\n"


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (tmp_path / "story.txt").write_text("The hat.\nThe the bread.\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(autouse=True)
def forget() -> Iterator[None]:
    """What was found by folder is looked for anew, before and after."""
    before = set(sys.modules)
    kinds.kinds.cache_clear()
    list_kinds.cache_clear()
    reading._readers.cache_clear()
    reading.suffixes.cache_clear()
    yield
    kinds.kinds.cache_clear()
    list_kinds.cache_clear()
    reading._readers.cache_clear()
    reading.suffixes.cache_clear()
    for name in set(sys.modules) - before:
        if name.startswith("decodecheck."):
            del sys.modules[name]


def add(package: object, folder: Path, name: str, text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "own").mkdir()
    (folder / "own" / name).write_text(text, encoding="utf-8")
    monkeypatch.setattr(package, "__path__", [*package.__path__, str(folder / "own")])  # type: ignore[attr-defined]


def test_a_kind_of_finding(school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    add(findings, school, "word_twice.py", TWICE, monkeypatch)
    assert run(["check", "story.txt", "--progression", "school.progression", "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)["files"][0]["findings"]
    assert [(f["kind"], f["word"], f["line"], f["column"], f["status"]) for f in found] == [
        ("word-twice", "the", 2, 5, None),
        ("untaught-correspondence", "bread", 2, 9, "blocked"),
    ]
    assert run(["findings", "word-twice"]) == 0
    assert "Why it matters: it is nearly always a slip." in capsys.readouterr().out
    assert run(["check", "story.txt", "--progression", "school.progression", "--details"]) == 1
    out = capsys.readouterr().out
    assert "story.txt:2:5: the - word twice" in out and "Take one of them out." in out
    (school / "story.txt").write_text("The the hat.\n", encoding="utf-8")
    assert run(["check", "story.txt", "--progression", "school.progression"]) == 0
    assert "\nBeside single words:\n  “the” stands twice. (line 1)\n" in capsys.readouterr().out
    assert run(["check", "story.txt", "--progression", "school.progression", "--strict"]) == 1


def test_a_kind_of_finding_on_lists(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    add(list_findings, school, "long_word.py", LONG, monkeypatch)
    (school / "board.csv").write_text("word\nhat\nhandstand\n", encoding="utf-8")
    assert run(["check", "board.csv", "--progression", "school.progression", "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)["files"][0]["findings"]
    assert ("long-word", "error", "handstand", 3, 1) in [
        (f["kind"], f["severity"], f["word"], f["line"], f["column"]) for f in found
    ]
    assert run(["findings", "long-word"]) == 0
    assert "Why it matters: the board is small." in capsys.readouterr().out


def test_a_reader(school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    add(readers, school, "cells.py", CELLS, monkeypatch)
    (school / "lists").mkdir()
    (school / "lists" / "spring.cells").write_text("hat\nbread\nbeam\n", encoding="utf-8")
    assert run(["check", "lists", "--progression", "school.progression", "--format", "json"]) == 1
    (file,) = json.loads(capsys.readouterr().out)["files"]
    first = file["findings"][0]
    assert (first["word"], first["place"], first["column"]) == ("bread", {"sheet": "Words", "cell": "A2"}, 1)
    assert "line" not in first
    assert run(["check", "lists", "--progression", "school.progression", "--word", "beam"]) == 1
    assert "lists/spring.cells, sheet Words, cell A3, column 1: b[ea]m - not yet decodable" in capsys.readouterr().out


def test_a_format_of_a_check(school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    add(formats, school, "words.py", WORDS, monkeypatch)
    command = importlib.reload(check_command).command
    assert (
        command.main(["story.txt", "--progression", "school.progression", "--format", "words"], standalone_mode=False)
        == 1
    )
    assert capsys.readouterr().out == "story.txt:2:9 bread\n"


def test_a_format_of_a_page(school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    add(pages, school, "title.py", TITLE, monkeypatch)
    importlib.reload(importlib.import_module("decodecheck.cli._options"))
    command = importlib.reload(preview_command).command
    for arguments in (["--format", "title"], ["-o", "page.title"]):
        command.main(["story.txt", "--progression", "school.progression", *arguments], standalone_mode=False)
    assert capsys.readouterr().out.split("\n")[0] == (school / "page.title").read_text(encoding="utf-8").strip()
