"""The progress bar: for somebody who looks on, and never in the way of what is printed."""

from __future__ import annotations

import io
import os
import pty
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.cli import _progress
from decodecheck.cli._progress import ERASE, line

AT_ONCE = (
    "import sys; from decodecheck.cli import _progress; _progress.AFTER = _progress.EVERY = float(sys.argv[1]); "
    "from decodecheck.cli.main import run; sys.exit(run(sys.argv[2:]))"
)
NUMBER = 30


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "school.progression").write_text("step 1\n  teach p, e, n, t, a\n", encoding="utf-8")
    (tmp_path / "texts").mkdir()
    for number in range(NUMBER):
        (tmp_path / "texts" / f"{number:02}.txt").write_text("A pen. A tap.\n" if number else "A bad hen.\n", "utf-8")
    (tmp_path / "texts" / "bad.txt").write_bytes(b"caf\xe9")
    monkeypatch.chdir(tmp_path)
    for name in ("CI", "TERM"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path


def checked(
    *options: str, after: float = 0, both: bool = False, environment: Mapping[str, str] = {}
) -> tuple[str, str]:
    """What a terminal is sent, and what goes to standard output; `both` where this is the same terminal."""
    command = [
        sys.executable,
        "-c",
        AT_ONCE,
        str(after),
        "check",
        "texts",
        "--progression",
        "school.progression",
        *options,
    ]
    main, terminal = pty.openpty()
    process = subprocess.Popen(
        command, stderr=terminal, stdout=terminal if both else subprocess.PIPE, env=os.environ | environment
    )
    os.close(terminal)
    sent = b""
    try:
        while piece := os.read(main, 1 << 16):
            sent += piece
    except OSError:
        pass  # the terminal is closed
    out = process.stdout.read() if process.stdout else b""
    if process.stdout:
        process.stdout.close()
    assert process.wait() == 2
    os.close(main)
    return sent.decode(), out.decode()


def screen(sent: str) -> list[str]:
    """What a terminal shows after all this: a line that is erased is gone."""
    return [text.split(ERASE)[-1] for text in sent.replace("\r\n", "\n").split("\n")]


@pytest.mark.parametrize("form", ["text", "json", "github"])
def test_a_bar_is_drawn_and_goes_away(form: str, school: Path) -> None:
    sent, out = checked("--format", form)
    assert f"{NUMBER} of {NUMBER + 1} texts" in sent and "Checking [" in sent
    without, same = checked("--format", form, after=60)
    assert "Checking" not in without
    assert out == same
    assert screen(sent) == screen(without)


def test_it_is_not_mixed_with_the_report(school: Path) -> None:
    sent, _ = checked("--details", both=True)
    without, _ = checked("--details", after=60, both=True)
    assert "Checking [" in sent
    assert screen(sent) == screen(without)


@pytest.mark.parametrize("environment", [{"CI": "true"}, {"TERM": "dumb"}])
def test_not_where_nobody_looks_on(environment: dict[str, str], school: Path) -> None:
    assert "Checking" not in checked(environment=environment)[0]


def test_not_if_it_is_to_be_quiet(school: Path) -> None:
    assert "Checking" not in checked("--quiet")[0]


def test_not_into_a_file(school: Path) -> None:
    command = [sys.executable, "-c", AT_ONCE, "0", "check", "texts", "--progression", "school.progression"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert "Checking" not in done.stderr + done.stdout


def test_short_work_is_done_without(school: Path) -> None:
    assert "Checking" not in checked(after=_progress.AFTER * 60)[0]


@given(st.integers(0, 2000), st.integers(1, 2000), st.integers(0, 300))
def test_the_line_fits(done: int, of: int, columns: int) -> None:
    done = min(done, of)
    made = line(done, of, columns)
    assert len(made) < max(columns, 1)
    assert made.isprintable()
    if "[" in made:
        assert made.endswith(f"{done} of {of} texts")
        full = made.count("#") / (made.count("#") + made.count("-"))
        assert done / of - 0.2 < full <= done / of


def test_no_stream_no_bar(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    assert not _progress.is_wanted(quiet=False)
