"""What .gitignore and `exclude` leave out of a folder. The reference for .gitignore is git itself."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.project.discover import find_texts

needs_git = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")
FILES = ["a.txt", "b.txt", "tin/a.txt", "tin/b.txt", "tin/pan/a.txt", "tin/pan/b.txt", "hat/a.txt", "hat/pan/c.txt"]
PATTERNS = st.lists(
    st.sampled_from(
        ["a.txt", "/a.txt", "*.txt", "!a.txt", "!b.txt", "tin", "tin/", "/tin/", "pan/", "tin/*", "!tin/pan", "!tin/pan/", "**/pan",
         "tin/**", "tin/**/b.txt", "**/b.txt", "!tin/", "*", "!*/", "[ab].txt", "?.txt", "# tin", "", "  ", "\\!a.txt", "pan/a.txt", "a.txt  ",
         "hat/pan", "!hat/pan/c.txt"]
    ),
    max_size=4,
)  # fmt: skip


def lay_out(folder: Path, *, git: bool = True) -> Path:
    for name in FILES:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text("A tin.", encoding="utf-8")
    if git:
        subprocess.run(["git", "init", "-q", folder], check=True)
    return folder


def names(folder: Path, where: str = ".") -> set[str]:
    found = find_texts([str(folder / where)])
    return {Path(path).relative_to(folder).as_posix() for path in found.texts}


@needs_git
@settings(max_examples=150, deadline=None)
@given(PATTERNS, PATTERNS, PATTERNS)
def test_git_leaves_out_the_same(outer: list[str], inner: list[str], own: list[str]) -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = lay_out(Path(place).resolve())
        (folder / ".gitignore").write_text("\n".join(outer), encoding="utf-8")
        (folder / "tin/.gitignore").write_text("\r\n".join(inner), encoding="utf-8")
        (folder / ".git/info/exclude").write_text("\n".join(own), encoding="utf-8")
        command = ["git", "-c", "core.excludesFile=", "ls-files", "--others", "--exclude-standard"]
        listed = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=True).stdout.split("\n")
        assert names(folder) == {name for name in listed if name.endswith(".txt")}


@needs_git
def test_a_folder_inside_of_a_repository_and_a_working_tree_beside(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "main")
    (folder / ".gitignore").write_text("tin/pan/\nhat/\n", encoding="utf-8")
    (folder / ".git/info/exclude").write_text("b.txt\n", encoding="utf-8")
    assert names(folder) == {"a.txt", "tin/a.txt"}
    assert names(folder, "tin") == {"tin/a.txt"}
    # a folder that was named is looked through, whatever leaves it out
    assert names(folder, "hat") == {"hat/a.txt", "hat/pan/c.txt"}
    git = ["git", "-c", "user.name=Tilda", "-c", "user.email=tilda@harbour-lane.example.org"]
    subprocess.run([*git, "commit", "-q", "--allow-empty", "-m", "Begin"], cwd=folder, check=True)
    subprocess.run([*git, "worktree", "add", "-q", "../beside"], cwd=folder, check=True)
    assert names(lay_out(tmp_path / "beside", git=False)) == set(FILES) - {"b.txt", "tin/b.txt", "tin/pan/b.txt"}


def test_without_a_repository_the_files_of_the_folder_count(tmp_path: Path) -> None:
    folder = lay_out(tmp_path, git=False)
    (folder / "tin/.gitignore").write_text("*\n!a.txt\n", encoding="utf-8")
    assert names(folder) == set(FILES) - {"tin/b.txt", "tin/pan/a.txt", "tin/pan/b.txt"}
    found = find_texts([str(folder)])
    assert found.left_on_purpose() == "Left out: 1 folder and 1 file by .gitignore."


def test_what_is_named_is_checked_unless_it_is_to_be_left_out(tmp_path: Path) -> None:
    folder = lay_out(tmp_path)
    (folder / ".gitignore").write_text("tin/\n", encoding="utf-8")
    (folder / "decodecheck.toml").write_text('exclude = ["hat/pan", "b.txt"]\n', encoding="utf-8")
    assert names(folder) == {"a.txt", "hat/a.txt"}
    named = [str(folder / name) for name in ("tin/pan/a.txt", "hat/pan/c.txt", "b.txt", "a.txt")]
    assert [*find_texts(named).texts] == named
    found = find_texts(named, respect_exclude=True)
    assert [*found.texts] == named[-1:]
    assert (found.problems, found.left_on_purpose()) == ([], "Left out: 1 file by .gitignore; 2 files by `exclude`.")
    found = find_texts([str(folder / "tin"), str(folder / "hat/pan")], respect_exclude=True)
    assert (found.texts, found.problems) == ({}, [])


@pytest.mark.parametrize("way", ["{}", "./{}", ".//{}", "../{here}/{}", "hat/../{}", "{whole}/{}"])
def test_however_a_path_is_written(way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = lay_out(tmp_path)
    monkeypatch.chdir(folder)
    (folder / ".gitignore").write_text("/tin/\n", encoding="utf-8")
    (folder / "decodecheck.toml").write_text('exclude = ["hat/pan", "b.txt"]\n', encoding="utf-8")
    named = [
        way.format(name, here=folder.name, whole=folder)
        for name in ("tin/pan/a.txt", "hat/pan/c.txt", "b.txt", "a.txt")
    ]
    assert [*find_texts(named).texts] == named
    assert [*find_texts(named, respect_exclude=True).texts] == named[-1:]


def test_a_folder_of_which_all_is_left_out_is_no_clean_one(tmp_path: Path) -> None:
    folder = lay_out(tmp_path, git=False)
    (folder / ".gitignore").write_text("*.txt\n", encoding="utf-8")
    [(_, problem)] = find_texts([str(folder)]).problems
    assert problem.what == "All texts in this folder are left out, by .gitignore or `exclude`."


def test_the_nearest_configuration_excludes_and_a_faulty_one_nothing(tmp_path: Path) -> None:
    folder = lay_out(tmp_path, git=False)
    (folder / "decodecheck.toml").write_text('exclude = ["**/a.txt"]\n', encoding="utf-8")
    (folder / "hat/pyproject.toml").write_text('[tool.decodecheck]\nexclude = ["pan/*"]\n', encoding="utf-8")
    (folder / "tin/pan/decodecheck.toml").write_text("exclude = 3\n", encoding="utf-8")
    assert names(folder) == {"b.txt", "tin/b.txt", "tin/pan/a.txt", "tin/pan/b.txt", "hat/a.txt"}


@pytest.mark.parametrize("pattern", ["a*" * 40 + "b", "**/" * 40 + "b", "*a*a*a*b"])
def test_a_pattern_that_would_take_for_ever(pattern: str, tmp_path: Path) -> None:
    (tmp_path / ("a" * 200 + ".txt")).write_text("A tin.", encoding="utf-8")
    (tmp_path / ".gitignore").write_text(f"tin\n{pattern}\n", encoding="utf-8")
    found = find_texts([str(tmp_path)])
    assert [(p.what, p.line) for _, p in found.leaving_out.problems] == [("This pattern has too many stars.", 2)]
    assert len(found.texts) == 1


def test_what_cannot_be_read_is_told_or_passed_over(tmp_path: Path) -> None:
    lay_out(tmp_path, git=False)
    (tmp_path / ".gitignore").mkdir()
    (tmp_path / "tin/.gitignore").symlink_to(tmp_path / "a.txt")
    (tmp_path / "hat/.gitignore").write_bytes(b"\xff\xfe\n" + b"x" * 1_000_001)
    found = find_texts([str(tmp_path)])
    assert [p.what for _, p in found.leaving_out.problems] == [
        "This file is too large for patterns: more than 1 megabyte."
    ]
    assert len(found.texts) == len(FILES)
