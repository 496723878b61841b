"""The hooks for pre-commit, run by pre-commit itself in a scratch repository: local ones that start this checkout, so that nothing is
fetched. What has to be found follows from the files that each test commits."""

from __future__ import annotations

import importlib
import importlib.util
import os
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from decodecheck.cli.main import run
from tests.project.repository import commit, git, make, needs_git, write

MANIFEST = Path(__file__).parents[2] / ".pre-commit-hooks.yaml"
pytestmark = [
    needs_git,
    pytest.mark.skipif(importlib.util.find_spec("pre_commit") is None, reason="pre-commit is not installed here"),
    pytest.mark.skipif(not MANIFEST.exists(), reason="this is no checkout"),
]


def pre_commit(folder: Path, *arguments: str, home: Path | None = None) -> tuple[int, str]:
    """Exit code and output of pre-commit, which keeps things in `home`, else beside the folder."""
    environment = {
        **os.environ,
        "PRE_COMMIT_HOME": str(home or folder.parent / "cache"),
        "PYTHONPATH": str(MANIFEST.parent),
        "GIT_CONFIG_GLOBAL": os.devnull,
    }
    command = [sys.executable, "-m", "pre_commit", *arguments]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False, env=environment)
    return done.returncode, done.stdout + done.stderr


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """A school whose repository has all hooks."""
    folder = make(tmp_path / "our school")
    yaml: Any = importlib.import_module("yaml")
    hooks = yaml.safe_load(MANIFEST.read_text(encoding="utf-8"))
    here = f"{shlex.quote(sys.executable)} -m decodecheck"
    local = [{**hook, "language": "system", "entry": hook["entry"].replace("decodecheck", here, 1)} for hook in hooks]
    settings = {"repos": [{"repo": "local", "hooks": local}]}
    (folder / ".pre-commit-config.yaml").write_text(yaml.safe_dump(settings), encoding="utf-8")
    for path in folder.rglob("*.progression"):
        assert run(["progression", "format", str(path)]) == 0
    write(folder, {"year-1/é.txt": "A hat.\n"})
    commit(folder)
    return folder


def staged(folder: Path, hook: str, files: dict[str, str]) -> tuple[int, str]:
    """What a hook says of a change."""
    write(folder, files)
    git(folder, "add", "-A")
    return pre_commit(folder, "run", hook, "--verbose")


# The source: pre-commit's own check of the manifest.
def test_the_manifest_is_one(tmp_path: Path) -> None:
    assert pre_commit(MANIFEST.parent, "validate-manifest", MANIFEST.name, home=tmp_path)[0] == 0


def test_all_files(school: Path) -> None:
    code, said = pre_commit(school, "run", "--all-files")
    assert code == 0, said
    assert said.count("Passed") == 4


def test_a_text(school: Path) -> None:
    code, said = staged(school, "decodecheck", {"year-2/--strict.txt": "A tin.\n"})
    assert code == 0, said
    code, said = staged(school, "decodecheck", {"year-1/new.txt": "A tin.\n", "README.md": "# Our school\n"})
    assert code == 1 and "year-1/new.txt: 1 of 2 words not yet decodable" in said
    # what was not changed is not looked at
    assert "the map.txt" not in said


@pytest.mark.parametrize(
    ("change", "broken"),
    [
        ({"orders/year-2.progression": 'include "year-1.progression"\n\nstep 2\n  teach i\n'}, ["year-2/pot.txt"]),
        ({"orders/year-1.progression": "step 1\n  teach a, h, m, p, s, t, th, b, d, e, r\n  tricky the, a\n"}, ["year-2/tin.txt"]),
        ({"year-2/decodecheck.toml": 'progression = "../orders/year-1.progression"\n'}, ["year-2/pot.txt", "year-2/tin.txt"]),
    ],
)  # fmt: skip
def test_a_change_of_the_order_checks_what_it_governs(school: Path, change: dict[str, str], broken: list[str]) -> None:
    # what it does not govern is not looked at, and does not fail
    write(school, {"notes/minutes.txt": "Zzyx spoke.\n", "notes/damaged.txt": "\0"})
    commit(school)
    code, said = staged(school, "decodecheck-progression", change)
    assert code == 1
    found = {
        path
        for path in ("year-1/é.txt", "year-1/the map.txt", "year-2/tin.txt", "year-2/pot.txt")
        if f"\n{path}: " in said
    }
    assert found == set(broken), said
    assert "notes/" not in said


def test_a_change_that_breaks_nothing(school: Path) -> None:
    order = (school / "orders/year-2.progression").read_text(encoding="utf-8")
    code, said = staged(school, "decodecheck-progression", {"orders/year-2.progression": f"{order}  teach u\n"})
    assert code == 0, said
    assert "2 texts: 2 fine" in said
    # an order that governs no text
    code, said = staged(school, "decodecheck-progression", {"orders/year-3.progression": "step 1\n  teach a\n"})
    assert code == 0, said


def test_mistakes_of_a_progression(school: Path) -> None:
    files = {
        "orders/year-1.progression": "stepp 1\n  teach a\n",
        "orders/year-3.progression": "step 1\n  teach   zzz\n",
    }
    code, said = staged(school, "decodecheck-progression-check", files)
    assert code == 1
    assert "orders/year-1.progression:1:1: " in said and "orders/year-3.progression:2:" in said
    code, said = staged(school, "decodecheck-progression", files)
    assert code == 1 and "orders/year-1.progression:1:1: " in said
    files = {"orders/year-1.progression": "step 1\n    teach   a\n"}
    code, said = staged(school, "decodecheck-progression-format", files)
    assert code == 1 and "orders/year-1.progression: would change." in said
    assert (school / "orders/year-1.progression").read_text(encoding="utf-8") == files["orders/year-1.progression"]


def test_a_commit_is_stopped(school: Path) -> None:
    assert pre_commit(school, "install")[0] == 0
    write(school, {"year-1/new.txt": "A tin.\n"})
    git(school, "add", "-A")
    done = subprocess.run(
        ["git", "-c", "user.name=Omar", "-c", "user.email=omar@harbour-lane.example.org", "commit", "-m", "New"],
        cwd=school,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PRE_COMMIT_HOME": str(school.parent / "cache"), "PYTHONPATH": str(MANIFEST.parent)},
    )
    assert done.returncode == 1
    assert "t[i]n" in done.stdout + done.stderr
    assert git(school, "log", "--oneline").count("\n") == 2


def test_what_is_left_out_on_purpose_is_passed_over(school: Path) -> None:
    config = 'progression = "../orders/year-1.progression"\nexclude = ["old/**"]\n'
    code, said = staged(
        school, "decodecheck", {"year-1/decodecheck.toml": config, "year-1/old/dragon.txt": "A dragon.\n"}
    )
    assert code == 0, said


def test_a_change_of_a_pyproject_checks_what_it_governs(school: Path) -> None:
    (school / "year-1/decodecheck.toml").unlink()
    table = '[tool.decodecheck]\nprogression = "../orders/year-1.progression"\n'
    files = {"year-1/pyproject.toml": table, "year-1/tin.txt": "A tin.\n"}
    code, said = staged(school, "decodecheck-progression", files)
    assert code == 1 and "t[i]n" in said
    code, said = staged(school, "decodecheck-progression", {"year-1/pyproject.toml": "[tool.other]\nx = 1\n"})
    assert code == 0, said


def test_wrong_use_of_governed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "--governed", str(tmp_path / "none.progression")]) == 2
    assert "There is no such file." in capsys.readouterr().err
    assert run(["check", "--governed", "--changed-since", "HEAD", str(tmp_path)]) == 2
    assert "each say which texts to check" in capsys.readouterr().err
