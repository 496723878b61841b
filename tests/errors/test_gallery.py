"""The gallery of bad input: every folder of `cases` is one command with what it must say, to the letter.

`command` holds the arguments, `expected` the exit code and then everything said: standard error, then standard output.
All other files are the input; NAME.hex holds the bytes of NAME in hexadecimal, NAME.repeat a number and a text in
quotation marks that stands so many times in NAME, `stdin` is what the command reads from standard input.

DECODECHECK_REGENERATE=1 writes every `expected` anew: read each changed line as a teacher would before keeping it.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

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


def run(case: Path, folder: Path) -> str:
    """What a case says, in the form of `expected`."""
    lay_out(case, folder)
    given = folder / "stdin"
    data = given.read_bytes() if given.exists() else b""
    arguments = shlex.split((case / "command").read_text(encoding="utf-8"))
    done = subprocess.run(
        [sys.executable, "-m", "decodecheck", *arguments], cwd=folder, input=data, capture_output=True
    )
    said = done.stderr.decode("utf-8") + done.stdout.decode("utf-8")
    return f"exit {done.returncode}\n" + said.replace("\r\n", "\n")


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


# The source of every `expected`: printed once by the program, then read line by line and judged by hand.
@pytest.mark.parametrize("name", names())
def test_case(name: str, tmp_path: Path) -> None:
    case = CASES / name
    said = run(case, tmp_path / "school")
    if REGENERATE:
        (case / "expected").write_text(said, encoding="utf-8", newline="\n")
    assert "Traceback" not in said
    assert not ABSOLUTE.search(said)
    assert said == (case / "expected").read_text(encoding="utf-8")
