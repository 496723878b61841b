"""Completion by a shell: the scripts are read by the shells themselves, and what they ask is answered without loading anything slow.

The source: click's documentation, "Shell Completion", for what a shell asks and how it is answered; the shells for their scripts.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from decodecheck.checking.kinds import Kind, kinds
from decodecheck.cli.main import run
from decodecheck.lists.kinds import ListKind, list_kinds
from decodecheck.project.kind_names import kind_names
from decodecheck.reports import check as formats
from tests.errors import school

SHELLS = ("bash", "zsh", "fish")
BIN = Path(sys.executable).parent


def asked(*line: str, shell: str = "bash", number: int | None = None) -> list[str]:
    """What a shell is answered at the end of a line, as a new process prints it."""
    environment = {
        **os.environ,
        "_DECODECHECK_COMPLETE": f"{shell}_complete",
        "COMP_WORDS": "\n".join(line) if shell == "zsh" else " ".join(line),
        "COMP_CWORD": line[-1] if shell == "fish" else str(len(line) - 1),
    }
    done = subprocess.run(school.command(), env=environment, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout.splitlines()


def test_values_of_options() -> None:
    assert asked("decodecheck", "check", "--format", "g") == ["plain,github", "plain,gitlab"]
    assert asked("decodecheck", "check", "--warn", "unlisted") == ["plain,unlisted-name", "plain,unlisted-word"]
    assert asked("decodecheck", "findings", "undecided") == ["plain,undecided-sense"]
    assert asked("decodecheck", "check", "--exit") == ["plain,--exit-zero"]
    assert asked("decodecheck", "check", "--format", "") == [f"plain,{name}" for name in formats.names()]


def test_commands() -> None:
    assert asked("decodecheck", "comp") == ["plain,completion"]
    assert "plain,brief" in asked("decodecheck", "progression", "b")


@pytest.mark.parametrize(
    "line",
    [
        ("check", "te"),
        ("check", "--progression", "ha"),
        ("check", "-o", "re"),
        ("accents", "te"),
        ("preview", "te"),
        ("progression", "check", "ha"),
        ("progression", "compare", "a.progression", "b"),
    ],
    ids=" ".join,
)
def test_names_of_files_are_left_to_the_shell(line: tuple[str, ...]) -> None:
    assert asked("decodecheck", *line) == [f"file,{line[-1]}"]


def test_the_other_shells_are_answered_in_their_own_way() -> None:
    assert asked("decodecheck", "findings", "undecided", shell="fish")[0].startswith("plain")
    assert asked("decodecheck", "findings", "undecided", shell="zsh")[:2] == ["plain", "undecided-sense"]


@pytest.mark.parametrize("shell", SHELLS)
def test_a_shell_reads_its_script(shell: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert f"_DECODECHECK_COMPLETE={shell}_complete" in script
    if shutil.which(shell) is None:
        pytest.skip(f"no {shell} here")
    path = tmp_path / "script"
    path.write_text(script, encoding="utf-8")
    subprocess.run([shell, "-n", str(path)], check=True, capture_output=True)


@pytest.mark.skipif(
    shutil.which("bash") is None or not (BIN / "decodecheck").exists(), reason="no bash, or not installed"
)
def test_bash_completes() -> None:
    script = (
        'eval "$(decodecheck completion bash)"\n'
        "COMP_WORDS=(decodecheck check --format sar); COMP_CWORD=3\n"
        '_decodecheck_completion decodecheck; echo "${COMPREPLY[@]}"\n'
    )
    environment = {**os.environ, "PATH": f"{BIN}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(["bash", "--norc", "-c", script], env=environment, capture_output=True, text=True, check=True)
    assert done.stdout == "sarif\n"


def test_an_unknown_shell_or_question(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["completion", "dash"]) == 2
    monkeypatch.setenv("_DECODECHECK_COMPLETE", "dash_complete")
    assert run(["--help"]) == 2
    assert "This is no question of a shell: 'dash_complete'." in capsys.readouterr().err


def test_nothing_slow_is_loaded() -> None:
    code = (
        "import sys; from decodecheck.cli.main import run; run([]); "
        "print(*sorted({'spacy', 'numpy', 'lark', 'wordfreq', 'jinja2', 'decodecheck.lexicon.store'} & set(sys.modules)))"
    )
    environment = {
        **os.environ,
        "_DECODECHECK_COMPLETE": "bash_complete",
        "COMP_WORDS": "decodecheck check --warn un",
        "COMP_CWORD": "3",
    }
    done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == ""


def test_the_names_are_those_of_the_kinds(capsys: pytest.CaptureFixture[str]) -> None:
    known: dict[str, Kind | ListKind] = {**kinds(), **list_kinds()}
    assert kind_names() == [*sorted(kinds()), *sorted(list_kinds())] and len(set(kind_names())) == len(known)
    assert run(["findings"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines if line.startswith("  ")] == kind_names()
    for name in kind_names():
        assert run(["findings", name]) == 0
        page = capsys.readouterr().out
        assert page.startswith(f"{name} ({known[name].severity})\n\n")
        for part in ("What it checks:", "Why it matters:", "Example:", "Instead:"):
            assert f"\n{part}" in page, (name, part)
