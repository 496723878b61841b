"""Standard input, a reader that goes away, and Ctrl-C. The guide promises exit codes 0, 1 and 2 and no other: what was not done to its end is 2."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

NOT_DONE = 2
SCHOOL = """progression "Harbour Lane order of teaching"
step 1
  teach p, e, n, t, a, h
step 2
  teach m, s, d, i
allow names Tilda, Nettle
"""
TEXT = "Tilda sat.\n"
LONG = "Nettle ran up the quay.\n" * 3000
"""A text whose report does not fit into a pipe."""


@pytest.fixture
def school(tmp_path: Path) -> Path:
    (tmp_path / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (tmp_path / "short.txt").write_text(TEXT, encoding="utf-8")
    (tmp_path / "long.txt").write_text(LONG, encoding="utf-8")
    return tmp_path


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "decodecheck", *arguments]


CHECK_SHORT = ("check", "short.txt", "--progression", "school.progression")
CHECK_LONG = ("check", "long.txt", "--progression", "school.progression")


# The source: the table of exit codes in the guide, and that `| head` prints nothing besides.
@pytest.mark.parametrize(
    "arguments",
    [
        CHECK_SHORT,
        CHECK_LONG,
        (*CHECK_LONG, "--format", "json"),
        ("explain", "tin"),
        ("findings",),
        ("progression", "check", "school.progression"),
        ("progression", "format", "-"),
        ("--help",),
    ],
    ids=lambda arguments: " ".join(arguments),
)
def test_a_reader_that_has_gone_before_the_first_line(school: Path, arguments: tuple[str, ...]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        command(*arguments), cwd=school, stdout=writer, stderr=subprocess.PIPE, input=SCHOOL.encode(), check=False
    )
    os.close(writer)
    assert done.stderr == b""
    assert done.returncode == NOT_DONE


def test_a_reader_that_takes_one_line(school: Path) -> None:
    with subprocess.Popen(
        command(*CHECK_LONG, "--every-place"), cwd=school, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout and process.stderr
        assert process.stdout.readline().startswith(b"long.txt: ")
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == NOT_DONE


@contextmanager
def keyboard() -> Iterator[None]:
    """Commands started in here can be stopped from the keyboard, even where this process was started to ignore that."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


# The source: the table of exit codes in the guide, and the line that the program promises.
def test_stopped_while_it_reads_standard_input(school: Path) -> None:
    arguments = command("check", "long.txt", "-", "--progression", "school.progression")
    with (
        keyboard(),
        subprocess.Popen(
            arguments, cwd=school, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        ) as process,
    ):
        assert process.stdout and process.stderr
        # the report on the first text is out: what follows is reading standard input, which stays open
        while not process.stdout.readline().startswith(b"Places and what to do"):
            assert process.poll() is None
        # Python drops an interrupt that comes while an object is being cleared away; then the key is pressed once more
        while process.poll() is None:
            process.send_signal(signal.SIGINT)
            with suppress(subprocess.TimeoutExpired):
                process.wait(timeout=10)
        said = process.stderr.read()
    assert said.decode() == "decodecheck: stopped.\n"
    assert process.returncode == NOT_DONE


def run(school: Path, *arguments: str, given: bytes) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(command(*arguments), cwd=school, input=given, capture_output=True, check=False)


# The source: the report on the same text in a file, with `standard input` where that names the file.
@pytest.mark.parametrize("text", [TEXT, LONG[:240], "\ufeff" + TEXT, TEXT.replace("\n", "\r\n")])
def test_standard_input_is_checked_as_a_file_is(school: Path, text: str) -> None:
    (school / "tin.txt").write_bytes(text.encode())
    of_file = run(school, "check", "tin.txt", "--progression", "school.progression", given=b"")
    of_input = run(school, "check", "-", "--progression", "school.progression", given=text.encode())
    assert of_file.stdout.startswith(b"tin.txt: ") and b"  Checked at step 2 of 2" in of_file.stdout
    assert of_input.stdout == of_file.stdout.replace(b"tin.txt", b"standard input")
    assert of_input.stderr == b""
    assert of_input.returncode == of_file.returncode == (1 if "quay" in text else 0)


def test_standard_input_is_found_once(school: Path) -> None:
    done = run(school, "check", "-", "-", "--progression", "school.progression", given=TEXT.encode())
    assert done.stdout.count(b"standard input: ") == 1
    assert done.returncode == 0


def test_standard_input_follows_the_configuration_of_the_folder(school: Path) -> None:
    (school / "decodecheck.toml").write_text('progression = "school.progression"\nstep = 1\n', encoding="utf-8")
    done = run(school, "check", "-", given=b"A man sat.\n")
    assert done.stdout.startswith(b"standard input: ") and b"  Checked at step 1 of 2" in done.stdout
    assert done.returncode == 1


def test_words_come_from_standard_input(school: Path) -> None:
    done = run(school, "explain", "-", given=b"tin\n pan\n")
    assert [line.split(b":")[0] for line in done.stdout.splitlines() if line and line[:1] != b" "] == [b"tin", b"pan"]
    assert done.returncode == 0
