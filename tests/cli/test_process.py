"""The command as a process: what it says depends on its files alone, and its exit code is 0, 1 or 2, however much is found.

The sources: POSIX on exit statuses (eight bits of them are told), Python's on PYTHONHASHSEED and on audit events.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from ..errors.school import make, run

DEMO = Path(__file__).parents[2] / "corpora_demo"
ORDER = str(DEMO / "harbour-lane.progression")
TEXTS = str(DEMO / "texts")
# an audit hook sees every socket that is made, whoever makes it
NO_NETWORK = """import sys
def hook(event, arguments):
    if event.startswith(("socket.", "urllib.", "http.client.", "ftplib.")):
        print("network:", event, file=sys.__stderr__, flush=True)
        raise SystemExit(99)
sys.addaudithook(hook)
from decodecheck.cli.main import run
raise SystemExit(run(sys.argv[1:]))
"""


@pytest.mark.parametrize(("number", "code"), [(0, 0), (1, 1), (255, 1), (256, 1), (512, 1)])
def test_however_many_are_found(tmp_path: Path, number: int, code: int) -> None:
    make(tmp_path)
    (tmp_path / "many.txt").write_text("The tin. " + "Ned. " * number, encoding="utf-8")
    done = run(tmp_path, "check", "many.txt", "--progression", "school.progression", "--step", "1", "--format", "jsonl")
    told = [json.loads(line) for line in done.stdout.splitlines()]
    assert (done.returncode, told[-1]["findings"]) == (code, number)


def test_however_many_cannot_be_checked(tmp_path: Path) -> None:
    make(tmp_path)
    missing = [f"missing-{n}.txt" for n in range(256)]
    done = run(tmp_path, "check", "tin.txt", *missing, "--progression", "school.progression", "--quiet")
    assert done.returncode == 2


@pytest.mark.parametrize(
    "command",
    [
        ("check", TEXTS, "--format", "json", "--every-word", "--no-cache"),
        ("check", TEXTS, "--no-cache"),
        ("fit", TEXTS, "--format", "json"),
        ("words", "--progression", ORDER, "--step", "20", "--with", "sh", "--seed", "3", "--format", "json"),
        ("pseudowords", "--progression", ORDER, "--number", "6", "--seed", "3"),
        ("replace", TEXTS),
        ("progression", "advise", ORDER, "--texts", TEXTS),
    ],
)
def test_neither_the_locale_nor_the_order_of_sets_counts(tmp_path: Path, command: tuple[str, ...]) -> None:
    ways = [
        {"PYTHONHASHSEED": "0", "LC_ALL": "C.UTF-8"},
        {"PYTHONHASHSEED": "1", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "TZ": "Asia/Kathmandu"},
        {"PYTHONHASHSEED": "77", "LC_ALL": "tr_TR.UTF-8", "LANGUAGE": "tr", "PYTHONOPTIMIZE": "1"},
    ]
    told = [run(tmp_path, *command, given=b"", prepare=None, **way) for way in ways]
    assert {done.returncode for done in told} <= {0, 1}
    assert len({(done.returncode, done.stdout, done.stderr) for done in told}) == 1


@pytest.mark.parametrize(
    "command",
    [
        ("check", TEXTS, str(DEMO / "wordlists"), "--no-cache"),
        ("check", str(Path(__file__).parents[1] / "data/converted/bake-day.libreoffice.pdf"), "--progression", ORDER),
        ("words", "--progression", ORDER, "--step", "20", "--with", "sh", "--sheet", "week.docx"),
        ("pseudowords", "--number", "3", "--progression", ORDER),
        ("chain", "sit", "shop", "--progression", ORDER),
        ("explain", "cake", "zloop"),
        ("coverage", TEXTS),
        ("replace", TEXTS),
        ("preview", str(DEMO / "texts/step-22/bake-day.txt"), "--output", "preview.html"),
        ("progression", "brief", ORDER, "--step", "9"),
        ("catalogue", TEXTS, "--format", "html", "--output", "catalogue.html"),
    ],
)
def test_no_network(tmp_path: Path, command: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", NO_NETWORK, *command],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "DECODECHECK_CACHE": ""},
    )
    assert done.returncode in (0, 1), done.stderr
    assert "network:" not in done.stderr


@pytest.mark.parametrize("option", ["--format=json", "--step=1", "--strict", "--quiet"])
def test_an_option_before_its_command_is_never_passed_over(tmp_path: Path, option: str) -> None:
    make(tmp_path)
    done = run(tmp_path, option, "check", "tin.txt", "--progression", "school.progression")
    assert (done.returncode, done.stdout) == (2, b"")
    assert f"No such option '{option.split('=')[0]}'" in done.stderr.decode()
