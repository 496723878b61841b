"""Writing: whole or not at all, never over what was read, with the permissions that belong to a file.

The source: POSIX (open, umask, link, rename), and what is promised: a bad run loses nothing.
"""

from __future__ import annotations

import os
import resource
import stat
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.project.write import ENDING, write_safely
from tests.errors import school as at_school
from tests.errors.school import make, without_privilege


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    make(tmp_path)
    (tmp_path / "autumn.progression").write_text("step 1\n  teach p\n", encoding="utf-8")
    (tmp_path / "year.progression").write_text('include "autumn.progression"\nstep 2\n  teach e\n', encoding="utf-8")
    (tmp_path / "decodecheck.toml").write_text('progression = "school.progression"\n', encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


READ = [
    (["progression", "show", "year.progression"], ["year.progression", "autumn.progression"]),
    (["progression", "brief", "year.progression"], ["year.progression", "autumn.progression"]),
    (
        ["preview", "tin.txt"],
        ["tin.txt", "school.progression", "decodecheck.toml", "./tin.txt", "linked.txt", "hard.txt"],
    ),
    (
        ["progression", "compare", "school.progression", "year.progression", "--texts", "."],
        ["school.progression", "year.progression", "autumn.progression", "decodecheck.toml", "tin.txt"],
    ),
]


@pytest.mark.parametrize(
    ("arguments", "target"), [(arguments, target) for arguments, targets in READ for target in targets]
)
def test_no_page_replaces_what_was_read(
    school: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], target: str
) -> None:
    if target == "linked.txt":
        (school / target).symlink_to("tin.txt")
    if target == "hard.txt":
        os.link("tin.txt", target)
    before = contents(school)
    assert run([*arguments, "--format", "text", "-o", target]) == 2
    assert "is what the page is made of" in capsys.readouterr().err
    assert contents(school) == before


def test_only_ordinary_files_that_may_be_written_are_replaced(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.mkfifo("pipe.txt")
    Path("null.txt").symlink_to("/dev/null")
    Path("still.txt").write_text("old\n", encoding="utf-8")
    Path("still.txt").chmod(0o444)
    Path("loop.txt").symlink_to("loop.txt")
    for target, said in (
        ("pipe.txt", "no ordinary file"),
        ("null.txt", "no ordinary file"),
        ("still.txt", "may only be read"),
        ("loop.txt", "leads back to itself"),
        ("a" * 300 + ".txt", "too long"),
        (".", "This is a folder"),
        ("gone/page.txt", "There is no folder gone"),
    ):
        assert run(["preview", "tin.txt", "--format", "text", "-o", target]) == 2, target
        assert said in capsys.readouterr().err, target
    assert Path("still.txt").read_text(encoding="utf-8") == "old\n"
    assert stat.S_ISFIFO(Path("pipe.txt").stat().st_mode)
    assert not [p for p in school.iterdir() if p.name.endswith(ENDING)]


def test_a_progression_that_may_only_be_read_is_not_rewritten(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    messy = b"step 1\n teach   p\n"
    Path("messy.progression").write_bytes(messy)
    Path("messy.progression").chmod(0o444)
    assert run(["progression", "format", "messy.progression"]) == 2
    assert "may only be read" in capsys.readouterr().err
    assert Path("messy.progression").read_bytes() == messy


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_end_as_they_did(school: Path, capsys: pytest.CaptureFixture[str], end: str) -> None:
    path = Path("messy.progression")
    path.write_bytes(f"step 1{end} teach   p, e{end}".encode())
    assert run(["progression", "format", "messy.progression"]) == 0
    assert path.read_bytes() == f"step 1{end}  teach p, e{end}".encode()
    assert run(["progression", "format", "--check", "messy.progression"]) == 0
    assert capsys.readouterr().out.endswith("unchanged.\n")


@pytest.mark.parametrize(("umask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
def test_a_new_file_has_the_permissions_of_new_files(tmp_path: Path, umask: int, mode: int) -> None:
    before = os.umask(umask)
    try:
        write_safely(tmp_path / "a.txt", "a\n")
        write_safely(tmp_path / "b.txt", "b\n", new=True)
        (tmp_path / "c.txt").write_bytes(b"")
        (tmp_path / "c.txt").chmod(0o640)
        write_safely(tmp_path / "c.txt", "c\n")
    finally:
        os.umask(before)
    modes = {p.name: stat.S_IMODE(p.stat().st_mode) for p in tmp_path.iterdir()}
    assert modes == {"a.txt": mode, "b.txt": mode, "c.txt": 0o640}


def test_a_new_file_never_replaces_another(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("old", encoding="utf-8")
    (tmp_path / "b.txt").symlink_to("gone.txt")
    for name in ("a.txt", "b.txt"):
        with pytest.raises(UserError, match="is there already"):
            write_safely(tmp_path / name, "new", new=True)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.txt", "b.txt"]


def test_a_disk_without_second_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    write_safely(tmp_path / "a.txt", "new", new=True)
    with pytest.raises(UserError, match="is there already"):
        write_safely(tmp_path / "a.txt", "newer", new=True)
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("a.txt", b"new")]


def test_a_full_disk_is_told_as_one(school: Path) -> None:
    """A limit on the size of files (setrlimit, RLIMIT_FSIZE) stands in for a full disk; both are told alike."""
    Path("page.html").write_text("old\n", encoding="utf-8")

    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

    done = at_school.run(
        school,
        "progression",
        "show",
        "school.progression",
        "-o",
        "page.html",
        prepare=little_room,
        PYTHONDONTWRITEBYTECODE="1",
    )
    assert done.returncode == 2
    assert done.stderr.startswith(b"page.html: This file cannot be written: there is no room left.\n")
    assert Path("page.html").read_text(encoding="utf-8") == "old\n"
    assert not [p for p in school.iterdir() if p.name.endswith(ENDING)]


def test_a_folder_that_may_not_be_written_to(school: Path) -> None:
    (school / "shut").mkdir()
    (school / "shut").chmod(0o555)
    done = at_school.run(school, "preview", "tin.txt", "-o", "shut/page.html", prepare=without_privilege)
    assert done.returncode == 2
    assert done.stderr.startswith(b"shut/page.html: This file cannot be written (Permission denied).\n")
