"""The action for GitHub: its steps run here as its runner would run them. That its file is one, an independent validator says
(`@action-validator/cli`, see DEVELOPERS.md); the rule that no input is part of a script is GitHub's ("Security hardening for GitHub
Actions", script injections; from memory)."""

from __future__ import annotations

import importlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from decodecheck.cli.main import run
from tests.project.repository import SCHOOL, commit, git, make, needs_git, write

ACTION = Path(__file__).parents[2] / ".github" / "actions" / "check"
pytestmark = [
    pytest.mark.skipif(shutil.which("bash") is None or os.name == "nt", reason="there is no bash here"),
    pytest.mark.skipif(not ACTION.exists(), reason="this is no checkout"),
]


@pytest.fixture
def school(tmp_path: Path) -> Path:
    folder = tmp_path / "our school"
    write(
        folder,
        {
            "school.progression": SCHOOL,
            "decodecheck.toml": 'progression = "school.progression"\n',
            "texts/the map.txt": "The map.\n",
            "texts/tin.txt": "A tin hat.\n",
        },
    )
    return folder


def check(folder: Path, **inputs: str) -> tuple[int, str, str]:
    """Exit code, log and job summary of the step that checks."""
    runner = folder.parent / "runner temp"
    runner.mkdir(exist_ok=True)
    summary = runner / "summary of the job.md"
    summary.write_text("# Before\n", encoding="utf-8")
    environment = {
        **os.environ,
        "RUNNER_TEMP": str(runner),
        "GITHUB_STEP_SUMMARY": str(summary),
        "DECODECHECK_PYTHON": sys.executable,
        **{f"INPUT_{name.upper()}": value for name, value in inputs.items()},
    }
    command = ["bash", str(ACTION / "run.sh"), "check"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False, env=environment)
    return done.returncode, done.stdout + done.stderr, summary.read_text(encoding="utf-8")


def test_what_it_says(school: Path) -> None:
    code, log, summary = check(school)
    assert code == 1
    assert "::error file=texts/tin.txt,line=1,endLine=1,col=3,endColumn=6," in log
    assert summary.startswith("# Before\n## 1 of 2 files with something to mend\n") and "t\\[i\\]n" in summary
    code, log, summary = check(school, paths="texts/the map.txt")
    assert code == 0 and "::error" not in log and "0 of 1 file with something to mend" in summary


def test_inputs(school: Path) -> None:
    assert check(school, paths="\ntexts/the map.txt\r\ntexts\n")[0] == 1
    write(school, {"more.progression": SCHOOL + "step 2\n  teach i\n"})
    assert check(school, progression="more.progression")[0] == 0
    assert check(school, progression="more.progression", step="1")[0] == 1
    assert check(school, arguments="--exit-zero\n--warn\nuntaught-correspondence\n")[0] == 0
    code, log, summary = check(school, paths="nothing.txt")
    assert code == 2 and "There is no such file or folder." in log and "### Not checked" in summary


def test_a_baseline(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(school)
    assert run(["baseline", "write", ".", "--baseline", "base.json"]) == 0
    code, log, _ = check(school, baseline="base.json")
    assert code == 0 and "1 finding is in the baseline." in log


@needs_git
def test_changes(tmp_path: Path) -> None:
    folder = make(tmp_path / "our school")
    code, log, _ = check(folder, changed_since="HEAD")
    assert code == 0 and "0 of 4 files looked at" in log
    assert check(folder, changed_since="autumn")[0] == 2


HOSTILE = ("$(touch pwned)", "`touch pwned`", "'; touch pwned; '", '"; touch pwned; "', "x\n; touch pwned", "${IFS}|touch pwned", "--output=json=pwned", "-h")  # fmt: skip


@pytest.mark.parametrize(
    ("name", "text"),
    [*zip(cycle(["paths", "progression", "step", "baseline", "changed_since"]), HOSTILE), ("paths", HOSTILE[4])],
)
def test_no_input_is_a_command(school: Path, name: str, text: str) -> None:
    code, _, _ = check(school, **{name: text})
    assert code == 2
    assert not [path for path in school.rglob("*") if path.name == "pwned"]


@pytest.mark.skipif(importlib.util.find_spec("yaml") is None, reason="no reader of YAML is installed here")
def test_inputs_come_as_variables() -> None:
    yaml: Any = importlib.import_module("yaml")
    action = yaml.safe_load((ACTION / "action.yml").read_text(encoding="utf-8"))
    steps = action["runs"]["steps"]
    script = (ACTION / "run.sh").read_text(encoding="utf-8")
    for step in steps:
        assert "${{" not in step.get("run", "")
        assert step.keys() & {"uses", "shell"}
        for variable, value in step.get("env", {}).items():
            assert re.fullmatch(r"\$\{\{ [\w.-]+ \}\}", value)
            assert f"${{{variable}:-" in script or f'"${variable}"' in script
    used = {value[11:-3] for step in steps for value in step.get("env", {}).values() if value.startswith("${{ inputs.")}
    assert used | {"python-version"} == set(action["inputs"])
    assert "${{" not in script


def run_step(script: str, folder: Path, **variables: str) -> subprocess.CompletedProcess[str]:
    """A `run` of a step with the shell `bash`, as GitHub's documentation says that it is run (from memory)."""
    file = Path(variables["RUNNER_TEMP"]) / "step.sh"
    file.parent.mkdir(exist_ok=True)
    file.write_text(script, encoding="utf-8")
    command = ["bash", "--noprofile", "--norc", "-eo", "pipefail", str(file)]
    return subprocess.run(
        command, cwd=folder, capture_output=True, text=True, check=False, env={**os.environ, **variables}
    )


@needs_git
@pytest.mark.skipif(importlib.util.find_spec("yaml") is None, reason="no reader of YAML is installed here")
@pytest.mark.parametrize(("change", "code"), [("A pan.\n", 0), ("A tin, a pot, a pan.\n", 1)])
def test_a_pull_request(tmp_path: Path, change: str, code: int) -> None:
    """The last step of action.yml with the inputs and variables of a pull request, in a clone of the repository."""
    yaml: Any = importlib.import_module("yaml")
    action = yaml.safe_load((ACTION / "action.yml").read_text(encoding="utf-8"))
    make(tmp_path / "upstream")
    git(tmp_path, "clone", "-q", "upstream", "our school")
    folder = tmp_path / "our school"
    git(folder, "checkout", "-q", "-b", "a-new-story")
    write(folder, {"year-1/new.txt": change})
    commit(folder, "A new story")
    runner = {"GITHUB_BASE_REF": "main", "GITHUB_HEAD_REF": "a-new-story", "GITHUB_EVENT_NAME": "pull_request"}
    given = {
        **{name: str(declared["default"]) for name, declared in action["inputs"].items()},
        "changed-since": f"origin/{runner['GITHUB_BASE_REF']}",
        "arguments": "--no-cache\n",
    }
    step = action["runs"]["steps"][-1]
    variables = {
        name: given[value.removeprefix("${{ inputs.").removesuffix(" }}")] for name, value in step["env"].items()
    }
    summary = tmp_path / "summary.md"
    done = run_step(
        step["run"],
        folder,
        **runner,
        **variables,
        CI="true",
        GITHUB_ACTIONS="true",
        GITHUB_ACTION_PATH=str(ACTION),
        GITHUB_STEP_SUMMARY=str(summary),
        GITHUB_WORKSPACE=str(folder),
        RUNNER_TEMP=str(tmp_path / "runner temp"),
        DECODECHECK_PYTHON=sys.executable,
    )
    assert done.returncode == code, done.stderr
    # of five texts, the one that the branch adds
    assert "year-2/tin.txt" not in done.stdout and "1 of 5 files looked at" in done.stdout + done.stderr
    assert ("::error file=year-1/new.txt,line=1," in done.stdout) == bool(code)
    assert f"{code} of 1 file with something to mend" in summary.read_text(encoding="utf-8")
    assert git(folder, "status", "--porcelain") == ""


def test_what_decides_on_the_wheel(tmp_path: Path) -> None:
    """The first step of the script: a digest of all that the wheel is made of, and of nothing else."""
    copy, output = tmp_path / "a copy", tmp_path / "output"
    place = copy / ".github" / "actions" / "check"
    place.mkdir(parents=True)
    shutil.copy(ACTION / "run.sh", place)
    files = {"pyproject.toml": "1", "README.md": "2", "LICENSE": "3", "decodecheck/run.py": "4", "rules/a.tsv": "5"}
    write(copy, files)

    def digest() -> str:
        output.write_text("before=1\n", encoding="utf-8")
        done = run_step(
            f'bash "{place}/run.sh" source',
            tmp_path,
            PYTHON=sys.executable,
            GITHUB_OUTPUT=str(output),
            RUNNER_TEMP=str(tmp_path),
        )
        assert done.returncode == 0, done.stderr
        before, line = output.read_text(encoding="utf-8").splitlines()
        assert before == "before=1"
        return line

    first = digest()
    assert re.fullmatch("hash=[0-9a-f]{64}", first)
    write(copy, {"tests/a.py": "x", "decodecheck/__pycache__/run.pyc": "x", "rules/compiled/b": "x"})
    assert digest() == first
    for name in files:
        write(copy, {name: "another"})
        assert digest() != first
        write(copy, {name: files[name]})
    assert digest() == first


INTERPRETER = """#!/usr/bin/env bash
# stands in for Python: says what it was asked, makes the environment and the wheel
echo "$*" >> "$LOG"
case "$*" in
"-m venv "*) mkdir -p "$3/bin" && cp "$0" "$3/bin/python" ;;
*" wheel "*) touch "$RUNNER_TEMP/decodecheck/wheel/decodecheck-1-py3-none-any.whl" ;;
esac
"""


def test_a_kept_wheel_is_not_built_again(tmp_path: Path) -> None:
    python, log = tmp_path / "a python", tmp_path / "log"
    python.write_text(INTERPRETER, encoding="utf-8")
    python.chmod(0o755)
    for built in (1, 0):
        log.write_text("", encoding="utf-8")
        done = run_step(
            f'bash "{ACTION}/run.sh" install', tmp_path, PYTHON=str(python), RUNNER_TEMP=str(tmp_path), LOG=str(log)
        )
        assert done.returncode == 0, done.stderr
        asked = log.read_text(encoding="utf-8").splitlines()
        assert sum(" wheel " in line for line in asked) == built
        assert asked[-1].endswith("decodecheck-1-py3-none-any.whl") and " install " in asked[-1]


@pytest.mark.parametrize("step", ["nonsense", ""])
def test_an_unknown_step_is_said(tmp_path: Path, step: str) -> None:
    done = run_step(f'bash "{ACTION}/run.sh" "{step}"', tmp_path, RUNNER_TEMP=str(tmp_path))
    assert done.returncode == 2 and f"there is no step '{step}'" in done.stderr
