"""The gallery of bad input: every folder of `cases` is one command with what it must say, to the letter.

`command` holds the arguments, `expected` the exit code and then everything said: standard error, then standard output.
All other files are the input; NAME.hex holds the bytes of NAME in hexadecimal, NAME.repeat a number and a text in
quotation marks that stands so many times in NAME, `stdin` is what the command reads from standard input.

DECODECHECK_REGENERATE=1 writes every `expected` anew: read each changed line as a teacher would before keeping it.
"""

from __future__ import annotations

import io
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.progression.mistake_examples import EXAMPLES
from decodecheck.progression.mistakes import KEYWORDS

CASES = Path(__file__).parent / "cases"
REGENERATE = os.environ.get("DECODECHECK_REGENERATE") == "1"
NOT_INPUT = ("command", "expected")
ABSOLUTE = re.compile(r"(?<![\w:/.])/[\w.-]+/[\w.-]+|\b[A-Z]:[\\/]")
"""An absolute path; /iː/ and https://toml.io are none."""


def names() -> list[str]:
    return sorted(case.name for case in CASES.iterdir())


def lay_out(case: Path, folder: Path) -> None:
    """Copy the input of a case, with the files that are only described made out."""
    folder.mkdir()
    for file in sorted(case.rglob("*")):
        target = folder / file.relative_to(case)
        if file.is_dir():
            target.mkdir(exist_ok=True)
        elif file.suffix == ".hex":
            target.with_suffix("").write_bytes(bytes.fromhex(file.read_text(encoding="ascii")))
        elif file.suffix == ".repeat":
            times, text = file.read_text(encoding="utf-8").splitlines()
            target.with_suffix("").write_text(json.loads(text) * int(times), encoding="utf-8")
        elif file.parent != case or file.name not in NOT_INPUT:
            shutil.copyfile(file, target)


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def arguments_of(case: Path) -> list[str]:
    return shlex.split((case / "command").read_text(encoding="utf-8"))


def input_of(folder: Path) -> bytes:
    given = folder / "stdin"
    return given.read_bytes() if given.exists() else b""


def told(code: int, output: bytes) -> str:
    """What a case says, in the form of `expected`."""
    said = output.decode("utf-8").replace("\r\n", "\n")
    # click quotes an unknown option since 8.5 only
    said = re.sub(r"No such option: (--\S+)", r"No such option '\1'.", said)
    said = re.sub(r"Did you mean (--\S+)\?", r"Did you mean '\1'?", said)
    return f"exit {code}\n{said}"


# The source of every `expected`: what the program printed, read line by line and put right by hand where it was wrong.
@pytest.mark.parametrize("name", names())
def test_case(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    case, folder = CASES / name, tmp_path / "school"
    lay_out(case, folder)
    before = contents(folder)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(input_of(folder)), encoding="utf-8"))
    code = run(arguments_of(case))
    output = capsysbinary.readouterr()
    said = told(code, output.err + output.out)
    if REGENERATE:
        (case / "expected").write_text(said, encoding="utf-8", newline="\n")
    assert "Traceback" not in said
    assert not ABSOLUTE.search(said)
    assert contents(folder) == before
    assert said == (case / "expected").read_text(encoding="utf-8")


# A process by itself says the same.
@pytest.mark.parametrize("name", names()[::30])
def test_case_in_a_process(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "school"
    lay_out(CASES / name, folder)
    done = subprocess.run(
        [sys.executable, "-m", "decodecheck", *arguments_of(CASES / name)],
        cwd=folder,
        env={**os.environ, "COLUMNS": "80"},
        input=input_of(folder),
        capture_output=True,
        check=False,
    )
    assert told(done.returncode, done.stderr + done.stdout) == (CASES / name / "expected").read_text(encoding="utf-8")


# The source: the table of mistakes that the program itself declares.
def test_every_mistake_of_form_has_a_case() -> None:
    said = "\n".join((CASES / name / "expected").read_text(encoding="utf-8") for name in names())
    assert [what for what, todo in EXAMPLES if what not in said or todo not in said] == []
    given = "\n".join(p.read_text(encoding="utf-8") for p in CASES.rglob("*.progression"))
    assert [word for word in KEYWORDS if not re.search(rf"^\s*{word}\b", given, re.MULTILINE)] == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("/home/tilda/tin.txt: There is", True),
        ("in C:\\tin.txt", True),
        ("n + ia /iː/ + mh /v/", False),
        ("years/autumn.progression:2:3", False),
        ("See https://toml.io for the form", False),
    ],
)
def test_what_counts_as_an_absolute_path(text: str, found: bool) -> None:
    assert (ABSOLUTE.search(text) is not None) == found
