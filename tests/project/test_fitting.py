"""The tables of decodecheck.toml: a text has one step or none is guessed; what fits nothing is named.

The source: what is promised of a configuration - it never makes a text clean by not fitting it.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from tests.errors.school import make

SENSES = """progression "Harbour Lane order of teaching"
step 1
  teach p, e, n, t, a, h, s, i, m, d, r, ea as in leaf
  tricky the, we
"""


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "lane" / "school"
    folder.mkdir(parents=True)
    make(folder)
    for step in (1, 2):
        (folder / "texts" / f"step-{step}").mkdir(parents=True)
        (folder / "texts" / f"step-{step}" / "tin.txt").write_text("The tin hat.\n", encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


def configure(school: Path, text: str) -> None:
    (school / "decodecheck.toml").write_text(f'progression = "school.progression"\n{text}', encoding="utf-8")


def check(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, dict[str, int], dict[str, str]]:
    """Exit code, messages, the steps of texts by path, and what is said of failures by path."""
    code = run(["check", *arguments, "--format", "json"])
    said = capsys.readouterr()
    document = json.loads(said.out)
    steps = {file["path"]: file["step"] for file in document["files"]}
    return code, said.err, steps, {f["path"]: f["message"] for f in document["failures"]}


STEPS = '[[texts]]\nfiles = "texts/step-{step}/*.txt"\n'


def test_each_text_at_its_step(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    configure(school, STEPS)
    steps = {"texts/step-1/tin.txt": 1, "texts/step-2/tin.txt": 2}
    assert check(capsys, "texts") == (0, "", steps, {})


@pytest.mark.parametrize("pattern", ["texts/stp-{step}/*.txt", "texts/{step}/*.txt", "../texts/step-{step}/*.txt"])
def test_a_text_that_no_table_fits_is_not_checked_at_some_step(
    school: Path, capsys: pytest.CaptureFixture[str], pattern: str
) -> None:
    configure(school, f'[[texts]]\nfiles = "{pattern}"\n')
    code, said, steps, failures = check(capsys, "texts/step-1/tin.txt")
    assert (code, steps) == (2, {})
    assert said.startswith("texts/step-1/tin.txt: No step is given for this text")
    assert "decodecheck.toml" in failures["texts/step-1/tin.txt"]
    # with a step for all texts, or one that is named, it has one
    assert check(capsys, "texts/step-1/tin.txt", "--step", "1")[:3] == (0, "", {"texts/step-1/tin.txt": 1})
    configure(school, f'step = 2\n[[texts]]\nfiles = "{pattern}"\n')
    assert check(capsys, "texts/step-1/tin.txt")[2] == {"texts/step-1/tin.txt": 2}
    # a pattern that fits nothing is named where its folder, or one above it, is checked
    for folder in (".", "..", str(school)):
        code, said, steps, failures = check(capsys, folder)
        assert (code, len(steps)) == (2, 3)
        assert failures["decodecheck.toml"].endswith(f"No file fits the pattern {pattern!r}.")
        assert "decodecheck.toml:4:10: No file fits" in said
    assert check(capsys, "texts")[0] == 0


def test_the_other_commands_say_so_too(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    configure(school, '[[texts]]\nfiles = "texts/step-{step}/*.txt"\n')
    school = school / "texts"
    (school / "loose.txt").write_text("The tin hat.\n", encoding="utf-8")
    for arguments in (
        ["preview", "texts/loose.txt"],
        ["accents", "texts"],
        ["progression", "compare", "school.progression", "school.progression", "--texts", "texts"],
    ):
        assert run(arguments) == 2
        said = capsys.readouterr()
        assert said.err.startswith("texts/loose.txt: No step is given for this text")
    assert "2 texts compared" in said.out


def test_standard_input_has_no_step_of_its_own(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    configure(school, STEPS)
    with (school / "tin.txt").open(encoding="utf-8") as given:
        monkeypatch.setattr("sys.stdin", given)
        assert run(["check", "-"]) == 2
    assert capsys.readouterr().err.startswith("standard input: No step is given for this text")


def test_a_text_that_two_tables_fit(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    configure(school, f'{STEPS}[[texts]]\nfiles = "texts/step-1/*"\nstep = 2\n')
    code, said, steps, failures = check(capsys, "texts")
    assert (code, steps) == (2, {"texts/step-2/tin.txt": 2})
    assert list(failures) == ["texts/step-1/tin.txt"]
    assert "'texts/step-{step}/*.txt' (line 2) and 'texts/step-1/*' (line 4)" in said


@pytest.mark.parametrize("more", ["step = 1", 'group = "Terns"'])
def test_a_step_that_is_given_twice(school: Path, capsys: pytest.CaptureFixture[str], more: str) -> None:
    configure(school, f"[groups]\nTerns = 1\n{STEPS}{more}\n")
    assert run(["check", "texts"]) == 2
    assert "The step is given twice" in capsys.readouterr().err


@pytest.mark.parametrize("group", ["[]", "{}", "3", "[1]"])
def test_a_group_that_is_no_text(school: Path, capsys: pytest.CaptureFixture[str], group: str) -> None:
    configure(school, f'[[texts]]\nfiles = "texts/*"\ngroup = {group}\n')
    assert run(["check", "texts"]) == 2
    assert "There is no group called" in capsys.readouterr().err


SETTLED = '[[settled]]\nfiles = "{files}"\nword = "{word}"\nsense = "{sense}"\n'


@pytest.mark.parametrize(
    ("table", "line", "expected"),
    [
        ({}, 2, ""),
        ({}, 0, ""),
        ({"word": "READ"}, 2, ""),
        ({"files": "red.txt"}, 2, "There is no file 'red.txt', so this settles nothing."),
        ({"files": "t*.txt"}, 2, ""),
        ({"word": "wind", "sense": "air"}, 2, "The word `wind` is not in line 2 of tale.txt, so this settles nothing."),
        ({}, 1, "The word `read` is not in line 1 of tale.txt, so this settles nothing."),
        ({}, 9, "The word `read` is not in line 9 of tale.txt, so this settles nothing."),
        ({"files": "t*.txt"}, 1, "No text that fits 't*.txt' has the word `read` in line 1, so this settles nothing."),
        ({"sense": "pst"}, 2, "`pst` is no sense of `read`."),
        (
            {"word": "hat", "sense": "past"},
            0,
            "`hat` has no senses that sound differently, so there is nothing to settle.",
        ),
    ],
)
def test_a_settled_sense_that_settles_nothing(
    school: Path, capsys: pytest.CaptureFixture[str], table: dict[str, str], line: int, expected: str
) -> None:
    (school / "school.progression").write_text(SENSES, encoding="utf-8")
    (school / "tale.txt").write_text("The hat.\nWe read, we read.\n", encoding="utf-8")
    given = SETTLED.format(**{"files": "tale.txt", "word": "read", "sense": "past", **table})
    configure(school, given + (f"line = {line}\n" if line else ""))
    code, said, steps, failures = check(capsys, ".")
    assert "tale.txt" in steps
    assert (code == 2) == bool(expected)
    assert [m.partition(": ")[2] for m in failures.values()] == ([expected] if expected else [])
    assert expected in said
    if expected:
        assert f"decodecheck.toml:{3 if 'no file' in expected else 5 if 'pst' in expected else 4}:" in said
    # a single text tells what is wrong with its own tables only
    assert (check(capsys, "tale.txt")[0] == 2) == (
        expected != "" and "no file" not in expected and "t*" not in expected
    )


def test_the_remedy_for_an_open_sense_can_be_pasted(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "school.progression").write_text(SENSES, encoding="utf-8")
    configure(school, "")
    (school / "texts" / 'a "b".txt').write_text("The hat.\n\nWe read, we read.\n", encoding="utf-8")
    assert run(["check", 'texts/a "b".txt', "--details"]) == 0
    out = capsys.readouterr().out
    lines = [line.strip() for line in out.split("\n")]
    at = lines.index("[[settled]]")
    pasted = "\n".join(lines[at : at + 5])
    assert tomllib.loads(pasted) == {
        "settled": [
            {
                "files": 'texts/a "b".txt',
                "word": "read",
                "sense": tomllib.loads(pasted)["settled"][0]["sense"],
                "line": 3,
            }
        ]
    }
    configure(school, pasted.replace('"present"', '"past"'))
    assert run(["check", 'texts/a "b".txt']) == 1
    configure(school, pasted.replace('"past"', '"present"'))
    assert run(["check", 'texts/a "b".txt', "--strict"]) == 0
    # a text on standard input has no name to settle anything under
    capsys.readouterr()


@pytest.mark.parametrize(
    ("progression", "message"),
    [
        ("gone.progression", "decodecheck.toml:1:16: There is no such file: gone.progression."),
        ("/etc/passwd", "decodecheck.toml:1:16: This progression lies outside of the project."),
        ("../../other.progression", "decodecheck.toml:1:16: This progression lies outside of the project."),
        ("texts", "texts: This is a folder."),
    ],
)
def test_a_progression_that_cannot_be_read(
    school: Path, capsys: pytest.CaptureFixture[str], progression: str, message: str
) -> None:
    (school / "decodecheck.toml").write_text(f'progression = "{progression}"\n', encoding="utf-8")
    assert run(["check", "tin.txt"]) == 2
    assert capsys.readouterr().err.startswith(message)
    assert run(["check", "tin.txt", "--progression", "school.progression"]) == 0
