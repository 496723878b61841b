"""Files that are no ordinary files, files that may not be read, output that cannot be written, processes that are killed.

The sources: POSIX on files and streams (FIFOs, devices, links, permissions, ENOSPC of Linux's /dev/full), and what is promised:
exit code 2 and one clear message for what cannot be checked, everything else checked all the same.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import time
from pathlib import Path

import pytest

from decodecheck.cli.main import run as in_process
from decodecheck.project.write import ENDING
from tests.errors.school import command, make, run, without_privilege

AT_SCHOOL = ("--progression", "school.progression")


@pytest.fixture
def school(tmp_path: Path) -> Path:
    return make(tmp_path)


def special(path: Path, kind: str) -> str:
    """Make a pipe or socket, or name the device that never ends."""
    if kind == "device":
        return "/dev/zero"
    if kind == "pipe":
        os.mkfifo(path)
    else:
        # the path of a socket may have 108 bytes only
        here = Path.cwd()
        os.chdir(path.parent)
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(path.name)
        os.chdir(here)
    return path.name


KINDS = ("pipe", "device", "socket")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "X", "tin.txt", *AT_SCHOOL),
        ("check", "tin.txt", "--progression", "X"),
        ("preview", "X", *AT_SCHOOL),
        ("accents", "X", *AT_SCHOOL),
        ("progression", "check", "X"),
        ("progression", "new", "new.progression", "--from", "X"),
        ("progression", "advise", "school.progression", "--texts", "X"),
        ("progression", "compare", "school.progression", "X"),
        ("progression", "format", "X"),
        ("progression", "show", "school.progression", "-o", "X"),
    ],
    ids=lambda arguments: " ".join(arguments),
)
def test_what_is_no_ordinary_file_is_refused_at_once(
    school: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    kind: str,
    arguments: tuple[str, ...],
) -> None:
    name = special(school / "odd.txt", kind)
    monkeypatch.chdir(school)
    # the alarm ends a command that waits
    signal.alarm(60)
    try:
        code = in_process([name if a == "X" else a for a in arguments])
    finally:
        signal.alarm(0)
    said = capsys.readouterr()
    assert code == 2
    assert "no ordinary file" in said.err
    if arguments[:2] == ("check", "X"):
        assert "Fine: tin.txt" in said.out


@pytest.mark.parametrize("kind", ["pipe", "socket"])
def test_it_is_refused_in_every_other_place(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    monkeypatch.chdir(school)
    special(school / "plan.xlsx", kind)
    special(school / "autumn.progression", kind)
    (school / "year.progression").write_text('include "autumn.progression"\nstep 3\n  teach o\n', encoding="utf-8")
    (school / "below").mkdir()
    special(school / "below" / "decodecheck.toml", kind)
    (school / "below" / "tin.txt").write_text("tin\n", encoding="utf-8")
    (school / "texts").mkdir()
    special(school / "texts" / "odd.txt", kind)
    (school / "texts" / "tin.txt").write_text("tin\n", encoding="utf-8")
    for arguments in (
        ["progression", "new", "new.progression", "--from", "plan.xlsx"],
        ["progression", "check", "year.progression"],
        ["check", "below/tin.txt", *AT_SCHOOL],
        ["check", "texts", *AT_SCHOOL],
    ):
        assert in_process(arguments) == 2, arguments
        said = capsys.readouterr()
        assert "no ordinary file" in said.err, arguments
    assert "Fine: texts/tin.txt" in said.out


def test_a_folder_of_the_name_of_the_configuration_is_not_passed_over(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(school)
    (school / "decodecheck.toml").mkdir()
    assert in_process(["check", "tin.txt", *AT_SCHOOL]) == 2
    assert capsys.readouterr().err == "decodecheck.toml: This is a folder.\n  Name a file.\n"


def test_a_file_of_more_than_the_largest_size_is_not_read(school: Path) -> None:
    with (school / "large.txt").open("wb") as file:
        file.truncate(10_000_000_000)
    done = run(school, "check", "large.txt", "tin.txt", *AT_SCHOOL)
    assert done.returncode == 2
    assert done.stderr.startswith(b"large.txt: This is too large to be read")
    assert b"Fine: tin.txt" in done.stdout


def test_standard_input_that_never_ends_is_given_up(school: Path) -> None:
    with Path("/dev/zero").open("rb") as zeros:
        done = subprocess.run(
            command("check", "-", *AT_SCHOOL), cwd=school, stdin=zeros, capture_output=True, check=False, timeout=120
        )
    assert done.returncode == 2
    assert done.stderr.startswith(b"standard input: This is too large to be read")


def test_links_and_long_names(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(school)
    (school / "texts").mkdir()
    (school / "texts" / "tin.txt").write_text("tin\n", encoding="utf-8")
    (school / "texts" / "gone.txt").symlink_to("nowhere.txt")
    (school / "texts" / "loop.txt").symlink_to("loop.txt")
    (school / "texts" / "up").symlink_to("..")
    long_name = "x" * 300 + ".txt"
    assert in_process(["check", "texts", "loop", long_name, "a\0b", "tin.txt/x", *AT_SCHOOL, "--format", "json"]) == 2
    document = json.loads(capsys.readouterr().out)
    assert [file["path"] for file in document["files"]] == ["texts/tin.txt"]
    assert {f["path"]: f["message"] for f in document["failures"]} == {
        "texts/gone.txt": "This link leads to a file that is not there.",
        "texts/loop.txt": "This link leads back to itself.",
        "loop": "There is no such file or folder.",
        long_name: "This name is too long for a file.",
        "a\0b": "There is no such file or folder.",
        "tin.txt/x": "There is no such file or folder.",
    }
    for place in ("loop.progression", "loop.xlsx", "decodecheck.toml"):
        (school / place).symlink_to(place)
        option = ["--progression", place] if place.endswith("progression") else AT_SCHOOL
        arguments = ["progression", "new", "n", "--from", place] if "xlsx" in place else ["check", "tin.txt", *option]
        assert in_process(arguments) == 2
        assert "leads back to itself" in capsys.readouterr().err


@pytest.mark.parametrize("unreadable", ["texts/sub", "decodecheck.toml", "texts/one.txt", "school.progression"])
def test_what_may_not_be_read_is_named_and_the_rest_is_checked(school: Path, unreadable: str) -> None:
    (school / "texts" / "sub").mkdir(parents=True)
    (school / "decodecheck.toml").write_text('progression = "school.progression"\n', encoding="utf-8")
    for name in ("texts/one.txt", "texts/two.txt", "texts/sub/three.txt"):
        (school / name).write_text("tin\n", encoding="utf-8")
    (school / unreadable).chmod(0)
    try:
        done = run(school, "check", "texts", "--format", "json", prepare=without_privilege)
    finally:
        (school / unreadable).chmod(0o755)
    assert done.returncode == 2
    assert b"may not be read" in done.stderr
    document = json.loads(done.stdout)
    failed = {Path(failure["path"]).name for failure in document["failures"]}
    read = {Path(file["path"]).name for file in document["files"]}
    everything = {"one.txt", "two.txt", "three.txt"}
    if unreadable == "texts/sub":
        assert (read, failed) == (everything - {"three.txt"}, {"sub"})
    elif unreadable == "texts/one.txt":
        assert (read, failed) == (everything - {"one.txt"}, {"one.txt"})
    else:
        assert (read, failed) == (set(), everything)


FULL = [
    ("check", "tin.txt", *AT_SCHOOL),
    ("check", "tin.txt", *AT_SCHOOL, "--format", "json"),
    ("explain", "tin"),
    ("progression", "show", "school.progression"),
    ("progression", "format", "-"),
    ("--help",),
    ("check", "--help"),
    ("--version",),
    (),
]


@pytest.mark.parametrize("arguments", FULL, ids=lambda arguments: " ".join(arguments) or "nothing")
def test_output_to_a_full_disk(school: Path, arguments: tuple[str, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            command(*arguments),
            cwd=school,
            stdout=full,
            stderr=subprocess.PIPE,
            input=b"step 1\nteach   p\n",
            check=False,
        )
    assert done.stderr == b"decodecheck: the output cannot be written: there is no room left.\n"
    assert done.returncode == 2


@pytest.mark.parametrize("arguments", FULL, ids=lambda arguments: " ".join(arguments) or "nothing")
def test_output_that_is_closed(school: Path, arguments: tuple[str, ...]) -> None:
    done = run(school, *arguments, given=b"step 1\nteach p\n", prepare=lambda: os.close(1))
    assert done.stderr == b"decodecheck: the output cannot be written: it is closed.\n"
    assert done.returncode == 2


def test_messages_that_cannot_be_told(school: Path) -> None:
    for prepare in (lambda: os.close(2), lambda: os.dup2(os.open("/dev/full", os.O_WRONLY), 2)):
        done = run(school, "check", "gone.txt", "tin.txt", *AT_SCHOOL, prepare=prepare)  # type: ignore[arg-type]
        assert done.returncode == 2
        assert done.stderr == b""


def test_what_python_makes_of_unknown_signs_does_not_matter(school: Path) -> None:
    done = run(school, "check", "tin.txt", *AT_SCHOOL, PYTHONIOENCODING="ascii:unheard-of")
    assert (done.returncode, done.stderr) == (0, b"")


def test_a_fault_of_the_program_is_one_line_and_one_text(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from decodecheck.checking.check import Checker

    check = Checker.check

    def faulty(self: Checker, source: object, **more: object) -> object:
        if "bad" in source.path:  # type: ignore[attr-defined]
            raise IndexError("tin\nhat")
        return check(self, source, **more)  # type: ignore[arg-type]

    monkeypatch.chdir(school)
    monkeypatch.setattr(Checker, "check", faulty)
    (school / "bad.txt").write_text("tin\n", encoding="utf-8")
    assert in_process(["check", "bad.txt", "tin.txt", *AT_SCHOOL, "--format", "json"]) == 2
    said = capsys.readouterr()
    assert said.err.splitlines()[0].startswith("bad.txt: decodecheck failed on this text (IndexError: tin hat)")
    assert len(said.err.splitlines()) == 2
    document = json.loads(said.out)
    assert [file["path"] for file in document["files"]] == ["tin.txt"]
    assert [failure["path"] for failure in document["failures"]] == ["bad.txt"]
    assert in_process(["preview", "bad.txt", *AT_SCHOOL]) == 2
    said = capsys.readouterr()
    assert said.err.startswith("decodecheck: internal error: IndexError: tin hat\n")
    assert "Traceback" not in said.err
    monkeypatch.setenv("DECODECHECK_TRACEBACK", "1")
    assert in_process(["preview", "bad.txt", *AT_SCHOOL]) == 2
    assert "Traceback" in capsys.readouterr().err


def test_killed_while_it_writes(school: Path) -> None:
    page = school / "page.html"
    page.write_text("old\n", encoding="utf-8")
    arguments = command("progression", "show", "school.progression", "-o", "page.html")
    took = 0.0
    for killed_after in (None, 0.5, 0.8, 0.9, 0.95, 1.0):
        start = time.monotonic()
        with subprocess.Popen(arguments, cwd=school, stdout=subprocess.DEVNULL) as process:
            if killed_after is None:
                process.wait()
                took = time.monotonic() - start
                whole = page.read_bytes()
                page.write_text("old\n", encoding="utf-8")
            else:
                time.sleep(took * killed_after)
                process.kill()
        assert page.read_bytes() in (b"old\n", whole)
    left = {p.name for p in school.iterdir()} - {"page.html", "school.progression", "tin.txt"}
    assert all(name.startswith(".page.html.") and name.endswith(ENDING) for name in left)


def test_of_several_new_ones_under_one_name_one_is_written(school: Path) -> None:
    titles = [f"Harbour Lane {n}" for n in range(5)]
    arguments = ["progression", "new", "n.progression", "--from", "england-national-curriculum", "--title"]
    started = [
        subprocess.Popen(command(*arguments, title), cwd=school, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for title in titles
    ]
    ended = [(process.communicate(), process.returncode) for process in started]
    assert sorted(code for _, code in ended) == [0, 2, 2, 2, 2]
    winner = titles[[code for _, code in ended].index(0)]
    assert f'progression "{winner}"' in (school / "n.progression").read_text(encoding="utf-8")
    assert all(b"is there already" in said[1] for said, code in ended if code)
    assert {p.name for p in school.iterdir()} == {"n.progression", "school.progression", "tin.txt"}
