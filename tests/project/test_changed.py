"""Which texts have changed since a state in git, and which are governed by something that has.

The expectations follow from what each test commits; what counts as changed is git's own (git-diff, git-ls-files), read back with the
program itself.
"""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.project import git as asking
from tests.project.repository import commit, git, make, needs_git, write

pytestmark = needs_git
ALL = {"year-1/the map.txt", "year-1/é.txt", "year-2/tin.txt", "year-2/pot.txt"}


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = make(tmp_path / "our school")
    monkeypatch.chdir(folder)
    return folder


def checked(
    capsys: pytest.CaptureFixture[str], *arguments: str, ref: str = "HEAD", code: int | None = None
) -> set[str]:
    """The files that were checked."""
    capsys.readouterr()
    ended = run(["check", *(arguments or (".",)), "--changed-since", ref, "--format", "json"])
    said = capsys.readouterr()
    if code is not None:
        assert ended == code, said.err
    return {file["path"] for file in json.loads(said.out)["files"]}


def test_nothing_has_changed(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", ".", "--changed-since", "HEAD"]) == 0
    assert capsys.readouterr().err == (
        "0 of 4 files looked at: what has changed since HEAD, and what a changed order of teaching or configuration governs.\n"
    )


def test_every_way_to_change(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    git(school, "tag", "before")
    write(school, {"year-1/é.txt": "A hat.\n", ".gitignore": "year-1/own/\n"})
    commit(school)
    write(school, {"year-2/tin.txt": "A tin hat.\n"})
    git(school, "add", "year-2/tin.txt")
    write(
        school,
        {"year-1/new one.txt": "A hat.\n", "year-1/own/mine.txt": "A hat.\n", "year-1/\tnew\nline.txt": "A hat.\n"},
    )
    git(school, "mv", "year-2/pot.txt", "year-2/the pot.txt")
    found = {"year-1/é.txt", "year-2/tin.txt", "year-1/new one.txt", "year-2/the pot.txt", "year-1/\tnew\nline.txt"}
    assert checked(capsys, ref="before") == found
    # what is committed is none of what has changed since
    assert checked(capsys) == found - {"year-1/é.txt"}
    # the working tree counts, not what is staged
    write(school, {"year-1/the map.txt": "The mat.\n"})
    assert "year-1/the map.txt" in checked(capsys)
    assert checked(capsys, "year-2") == {"year-2/tin.txt", "year-2/the pot.txt"}


def test_what_another_branch_has_changed_is_not_ours(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    git(school, "checkout", "-q", "-b", "spring")
    write(school, {"year-1/é.txt": "A hat.\n"})
    commit(school)
    git(school, "checkout", "-q", "main")
    write(school, {"year-2/pot.txt": "A pot. A tin.\n"})
    commit(school)
    git(school, "checkout", "-q", "spring")
    assert checked(capsys, ref="main") == {"year-1/é.txt"}


def test_no_history_in_common(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    git(school, "checkout", "-q", "--orphan", "other")
    write(school, {"year-1/é.txt": "A hat.\n"})
    commit(school)
    assert checked(capsys, ref="main") == {"year-1/é.txt"}


def test_deleted_texts_are_not_missing(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "year-1/é.txt").unlink()
    git(school, "rm", "-q", "-r", "year-2")
    assert checked(capsys, "year-1/é.txt", "year-2", "year-2/pot.txt", "year-1", code=0) == set()
    # one that never was is
    assert run(["check", "year-1/hat.txt", "--changed-since", "HEAD"]) == 2
    (school / "year-3").mkdir()
    assert run(["check", "year-3", "--changed-since", "HEAD"]) == 2


@pytest.mark.parametrize(
    ("changed", "governed"),
    [
        ({"orders/year-2.progression": 'include "year-1.progression"\nstep 2\n  teach i, o, u\n'}, "year-2"),
        ({"orders/year-1.progression": "step 1\n  teach a, t\n"}, ""),
        ({"year-2/decodecheck.toml": 'progression = "../orders/year-1.progression"\n'}, "year-2"),
        ({"year-2/decodecheck.toml": "progression = 1\n"}, "year-2"),
        (
            {"other/decodecheck.toml": "step = 1\n", "decodecheck.toml": 'progression = "orders/year-1.progression"\n'},
            None,
        ),
    ],
)
def test_what_a_change_governs(
    school: Path, capsys: pytest.CaptureFixture[str], changed: dict[str, str], governed: str | None
) -> None:
    write(school, changed)
    capsys.readouterr()
    run(["check", "year-1", "year-2", "--changed-since", "HEAD", "--format", "json"])
    data = json.loads(capsys.readouterr().out)
    found = {each["path"] for each in (*data["files"], *data["failures"]) if each["path"].endswith(".txt")}
    assert found == {path for path in ALL if governed is not None and path.startswith(governed)}


def test_what_nothing_governs_is_looked_at_when_it_changes(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = 'progression = "../orders/year-1.progression"\n[[texts]]\nfiles = "*.txt"\nstep = 1\n'
    write(
        school,
        {
            "notes/minutes.txt": "A hat.\n",
            "year-3/decodecheck.toml": own,
            "year-3/plan.csv": "step,item\n1,a\n",
            "year-3/one.txt": "A hat.\n",
        },
    )
    commit(school)
    assert checked(capsys, code=0) == set()
    write(school, {"notes/minutes.txt": "A map.\n"})
    assert run(["check", ".", "--changed-since", "HEAD"]) == 2


def test_a_file_of_the_order_is_deleted(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "orders/year-1.progression").unlink()
    assert run(["check", "year-2", "--changed-since", "HEAD"]) == 2
    assert "The included file cannot be used" in capsys.readouterr().err
    assert run(["check", "year-1", "--changed-since", "HEAD"]) == 2


def test_a_deleted_configuration(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"decodecheck.toml": 'progression = "orders/year-1.progression"\n'})
    commit(school)
    (school / "year-2/decodecheck.toml").unlink()
    assert checked(capsys) == {"year-2/tin.txt", "year-2/pot.txt"}


TABLE = '[tool.decodecheck]\nprogression = "../orders/year-2.progression"\n'


@pytest.mark.parametrize("left", [None, "[tool.other]\nx = 1\n"], ids=["deleted", "table taken out"])
def test_a_pyproject_that_is_no_configuration_any_more(
    school: Path, capsys: pytest.CaptureFixture[str], left: str | None
) -> None:
    (school / "year-2/decodecheck.toml").unlink()
    write(school, {"decodecheck.toml": 'progression = "orders/year-1.progression"\n', "year-2/pyproject.toml": TABLE})
    commit(school)
    assert checked(capsys) == set()
    if left is None:
        (school / "year-2/pyproject.toml").unlink()
    else:
        write(school, {"year-2/pyproject.toml": left})
    assert checked(capsys) == {"year-2/tin.txt", "year-2/pot.txt"}
    commit(school)
    write(school, {"year-2/pyproject.toml": "[tool.other]\nx = 2\n"})
    assert checked(capsys) == set()


def test_a_progression_or_a_baseline_for_all(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {"own.progression": "step 1\n  teach a, t\n"})
    assert checked(capsys, ".", "--progression", "own.progression") == ALL
    commit(school)
    assert checked(capsys, ".", "--progression", "own.progression") == set()
    assert run(["baseline", "write", "year-1", "--baseline", "base.json"]) == 0
    assert checked(capsys, ".", "--baseline", "base.json") == ALL


def test_from_a_folder_within(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    write(school, {"year-1/é.txt": "A hat.\n", "year-2/tin.txt": "A tin hat.\n"})
    monkeypatch.chdir(school / "year-1")
    assert checked(capsys, ".", str(school / "year-2"), "../year-2") == {
        "é.txt", str(school / "year-2" / "tin.txt"), "../year-2/tin.txt",
    }  # fmt: skip
    git(school, "config", "diff.relative", "true")
    assert checked(capsys, "../year-2") == {"../year-2/tin.txt"}


def test_a_hook_says_where_its_repository_is(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    write(school, {"year-1/é.txt": "A hat.\n"})
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_INDEX_FILE", ".git/index")
    monkeypatch.setenv("GIT_PREFIX", "year-2/")
    assert checked(capsys) == {"year-1/é.txt"}


def test_another_working_tree(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    git(school, "worktree", "add", "-q", "../spring", "-b", "spring")
    spring = school.parent / "spring"
    write(spring, {"year-1/é.txt": "A hat.\n"})
    monkeypatch.chdir(spring)
    assert checked(capsys, ref="main") == {"year-1/é.txt"}
    monkeypatch.chdir(school)
    assert checked(capsys, ref="main") == set()


def test_a_submodule(school: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shared = make(tmp_path / "shared")
    git(school, "submodule", "add", "-q", str(shared), "more texts")
    inside = school / "more texts"
    # all of it is new
    assert checked(capsys, "more texts") == {f"more texts/{path}" for path in ALL}
    commit(school)
    assert checked(capsys, "more texts") == set()
    git(school, "tag", "before")
    write(inside, {"year-1/é.txt": "A hat.\n"})
    commit(inside)
    commit(school)
    write(inside, {"year-2/new.txt": "A tin.\n"})
    assert checked(capsys, ref="before") == {"more texts/year-1/é.txt", "more texts/year-2/new.txt"}
    assert checked(capsys) == {"more texts/year-2/new.txt"}


def test_a_link_to_a_text(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "year-1/link.txt").symlink_to("é.txt")
    commit(school)
    assert checked(capsys) == set()
    write(school, {"year-1/é.txt": "A hat.\n"})
    assert checked(capsys) == {"year-1/é.txt", "year-1/link.txt"}


def test_a_file_that_git_does_not_know(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(school, {".gitignore": "own.txt\n", "year-1/own.txt": "A hat.\n"})
    assert checked(capsys, "year-1", code=0) == set()
    assert run(["check", "year-1/own.txt", "--changed-since", "HEAD"]) == 2
    assert (
        "year-1/own.txt: git does not know this file, so it cannot be told whether it has changed."
        in capsys.readouterr().err
    )


@pytest.mark.parametrize("ref", ["autumn", "", "-h", "--output=x", "HEAD:year-1", "a b", "HEAD\n"])
def test_no_such_state(school: Path, capsys: pytest.CaptureFixture[str], ref: str) -> None:
    assert run(["check", ".", f"--changed-since={ref}"]) == 2
    said = capsys.readouterr().err
    assert said.count("--changed-since: git knows no state ") == 1
    assert said.splitlines()[1] == "  Check the name; in a CI job, fetch the history, too."
    assert not (school / "x").exists()


def test_no_repository(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, {"a/one.txt": "A hat.\n", "a/two.txt": "A hat.\n"})
    monkeypatch.chdir(tmp_path)
    assert run(["check", "a", "--changed-since", "HEAD"]) == 2
    said = capsys.readouterr().err
    assert said.count("a/one.txt: This is in no git repository, so it cannot be told what has changed.\n") == 1
    # what is true of every text is told once
    assert "a/two.txt" not in said


def test_a_damaged_repository(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / ".git/HEAD").write_text("nothing\n", encoding="utf-8")
    assert run(["check", ".", "--changed-since", "HEAD"]) == 2
    assert capsys.readouterr().err.startswith("git: git cannot tell what has changed: ")


def test_git_is_not_installed(
    school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (school.parent / "empty").mkdir()
    monkeypatch.setenv("PATH", str(school.parent / "empty"))
    assert run(["check", ".", "--changed-since", "HEAD"]) == 2
    assert capsys.readouterr().err.startswith("git: git is not installed, or not on the path.\n")


@pytest.mark.skipif(os.name == "nt", reason="a program of the shell stands in for git")
def test_git_does_not_answer(school: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    slow = school.parent / "slow"
    write(slow, {"git": "#!/bin/sh\nexec /bin/sleep 30\n"})
    (slow / "git").chmod(stat.S_IRWXU)
    monkeypatch.setenv("PATH", str(slow))
    monkeypatch.setattr(asking, "PATIENCE", 0.2)
    assert run(["check", "year-1/é.txt", "--changed-since", "HEAD"]) == 2
    assert capsys.readouterr().err.startswith("git: git has not answered for 0.2 seconds.\n")


def test_standard_input_has_no_state(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "-", "--changed-since", "HEAD"]) == 2
    assert "--changed-since looks at files. Take - out." in capsys.readouterr().err


def test_settled_words_of_texts_that_are_not_looked_at(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settled = (
        'progression = "../orders/year-1.progression"\n[[settled]]\nfiles = "*.txt"\nword = "read"\nsense = "past"\n'
    )
    write(school, {"year-1/decodecheck.toml": settled, "year-1/read.txt": "Sam read the map.\n"})
    commit(school)
    assert run(["check", "year-1"]) in (0, 1)
    write(school, {"year-1/é.txt": "A hat.\n"})
    assert checked(capsys, "year-1") == {"year-1/é.txt"}
    assert run(["check", "year-1", "--changed-since", "HEAD"]) == 0
