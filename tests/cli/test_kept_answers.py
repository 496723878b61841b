"""Answers that are kept: the same to the byte, only where nothing they depend on has changed, and quick."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.cli import _kept
from decodecheck.cli.check import command
from decodecheck.cli.main import run
from decodecheck.project import looked_at
from decodecheck.project.kept import NAME
from decodecheck.reports import check as formats
from decodecheck.session import Session

DEMO = Path(__file__).parents[2] / "corpora_demo"
SCHOOL = """progression "Harbour Lane order of teaching"
include "first.progression"
step 2
  teach m, s, d, i
step 3
  teach o, r
allow names Tilda, Nettle
"""
FIRST = "step 1\n  teach p, e, n, t, a, h\n"
CONFIG = """progression = "school.progression"
[[texts]]
files = "step-{step}/*.txt"
[groups]
Limpets = "1"
"""
SETTLE = _kept.TICK / 1e9 * 2


class Said(tuple[int, str, str]):
    """Exit code, standard output, standard error."""


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "school"
    (folder / "step-2").mkdir(parents=True)
    (folder / "first.progression").write_text(FIRST, encoding="utf-8")
    (folder / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (folder / "decodecheck.toml").write_text(CONFIG, encoding="utf-8")
    (folder / "step-2" / "one.txt").write_text("Tilda sat in the mist. Nettle read.\n", encoding="utf-8")
    (folder / "step-2" / "two.txt").write_text("Nettle had a red hat.\n", encoding="utf-8")
    monkeypatch.setenv("DECODECHECK_CACHE", str(tmp_path / "kept"))
    monkeypatch.chdir(folder)
    time.sleep(SETTLE)
    return folder


@pytest.fixture
def checks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each check that was really made."""
    made: list[int] = []
    real = Session.run

    def counted(self: Session, *arguments: Any, **named: Any) -> Any:
        made.append(1)
        return real(self, *arguments, **named)

    monkeypatch.setattr(Session, "run", counted)
    return made


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    def say(*arguments: str) -> Said:
        code = run(["check", *arguments])
        said = capsys.readouterr()
        return Said((code, said.out, said.err))

    return say


OPTIONS = [
    [], ["--step", "16"], ["--step", "20 lag 2"], ["--group", "Limpets"], ["--details"], ["--every-place"], ["--quiet"], ["--word", "bread"],
    ["--strict"], ["--exit-zero"], ["--warn", "untaught-ending"], ["--progression", "next-year.progression"], ["--list"], ["--order", "easy"],
]  # fmt: skip


@pytest.mark.parametrize("form", formats.names())
def test_warm_is_cold(
    form: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, say: Callable[..., Said], checks: list[int]
) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    monkeypatch.chdir(tmp_path / "demo")
    monkeypatch.setenv("DECODECHECK_CACHE", str(tmp_path / "kept"))
    time.sleep(SETTLE)
    draw = random.Random(form)
    options = [
        o for o in OPTIONS if form == "text" or not o or o[0] not in ("--details", "--every-place", "--quiet", "--word")
    ]
    asked = []
    for _ in range(6):
        more = [option for chosen in draw.sample(options, 2) for option in chosen]
        if {"--step", "--group"} <= set(more) or more.count("--step") > 1:
            more = more[:2] if "--step" in more[:2] else []
        paths = draw.choice([["."], ["texts"], ["wordlists", "texts/step-22"], ["texts/step-22/bake-day.txt"]])
        outputs = draw.choice(
            [[], ["--output", f"{form}=../report"], ["--output", "json=../a", "--output", "junit=../b"]]
        )
        asked.append([*paths, "--format", form, *more, *outputs])

    def everything(arguments: list[str]) -> tuple[Said, dict[str, bytes]]:
        files = [tmp_path / name for name in ("report", "a", "b")]
        for file in files:
            file.unlink(missing_ok=True)
        said = say(*arguments)
        return said, {file.name: file.read_bytes() for file in files if file.exists()}

    plain = [everything([*arguments, "--no-cache"]) for arguments in asked]
    cold = [everything(arguments) for arguments in asked]
    checks.clear()
    warm = [everything(arguments) for arguments in asked]
    assert plain == cold == warm
    assert all(said[0] in (0, 1) for said, _ in cold), cold
    unkept = [a for a in asked if form == "html"]
    assert len(checks) == len(unkept)


def test_nothing_is_looked_up_without_it(school: Path, say: Callable[..., Said], checks: list[int]) -> None:
    say("step-2")
    say("step-2", "--no-cache")
    assert len(checks) == 2
    say("step-2")
    assert len(checks) == 2


def changed(path: str, old: str, new: str) -> Callable[[], None]:
    def change() -> None:
        text = Path(path).read_text(encoding="utf-8")
        assert old in text
        Path(path).write_text(text.replace(old, new), encoding="utf-8")

    return change


def written(path: str, text: str) -> Callable[[], None]:
    def write() -> None:
        Path(path).parent.mkdir(exist_ok=True)
        Path(path).write_text(text, encoding="utf-8")

    return write


def of_the_same_size_and_time() -> None:
    path = Path("step-2/two.txt")
    before = path.stat()
    path.write_text(path.read_text(encoding="utf-8").replace("red", "hen"), encoding="utf-8")
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert path.stat().st_size == before.st_size


CHANGES: dict[str, Callable[[], object]] = {
    "a text": changed("step-2/two.txt", "red", "blue"),
    "a text, of the same size and time": of_the_same_size_and_time,
    "a text more": written("step-2/three.txt", "The fog.\n"),
    "a text less": lambda: Path("step-2/two.txt").unlink(),
    "a text by another name": lambda: Path("step-2/two.txt").rename("step-2/too.txt"),
    "the progression": changed("school.progression", "teach m, s", "teach m"),
    "what it includes": changed("first.progression", ", h", ", g"),
    "the configuration": changed("decodecheck.toml", "step-{step}/*.txt", "step-2/*.txt\"\nstep = \"1"),
    "a configuration nearer by": written("step-2/decodecheck.toml", 'progression = "../first.progression"\n'),
    "another file in the folder": written("step-2/picture.png", "no picture"),
}  # fmt: skip


@pytest.mark.parametrize("form", ["text", "json"])
@pytest.mark.parametrize("change", CHANGES)
def test_a_change_is_seen(change: str, form: str, school: Path, say: Callable[..., Said], checks: list[int]) -> None:
    first = say("step-2", "--format", form)
    assert say("step-2", "--format", form) == first and len(checks) == 1
    CHANGES[change]()
    time.sleep(SETTLE)
    checks.clear()
    second = say("step-2", "--format", form)
    assert len(checks) == 1
    assert second == say("step-2", "--format", form, "--no-cache")
    # programs are not told of files that were not looked at
    assert (second == first) == (change == "another file in the folder" and form == "json")
    assert say("step-2", "--format", form) == second
    assert len(checks) == 2


@pytest.mark.parametrize(
    "change",
    [
        changed("step-2/two.txt", "red", "blue"),
        changed("held.json", '"red": 1', '"red": 2'),
        lambda: Path("held.json").unlink(),
        lambda: Path("other/three.txt").unlink(),
    ],
    ids=["a text", "the baseline", "no baseline", "a text that only the baseline names"],
)
def test_a_baseline_is_part_of_the_question(
    change: Callable[[], None],
    school: Path,
    say: Callable[..., Said],
    checks: list[int],
    capsys: pytest.CaptureFixture[str],
) -> None:
    written("other/three.txt", "Fog.\n")()
    written("other/decodecheck.toml", 'progression = "../school.progression"\nstep = "2"\n')()
    assert run(["baseline", "write", "step-2", "other", "--baseline", "held.json"]) == 0
    capsys.readouterr()
    time.sleep(SETTLE)
    checks.clear()
    first = say("step-2", "--baseline", "held.json")
    assert say("step-2", "--baseline", "held.json") == first and len(checks) == 1
    assert first[0] == 0 and "in the baseline" in first[2]
    change()
    time.sleep(SETTLE)
    second = say("step-2", "--baseline", "held.json")
    assert second != first and second == say("step-2", "--baseline", "held.json", "--no-cache")


@pytest.mark.parametrize(
    "more",
    [
        ["--step", "1"], ["--step", "3 lag 1"], ["--group", "Limpets"], ["--progression", "first.progression", "--step", "1"],
        ["--warn", "untaught-correspondence"], ["--strict"], ["--exit-zero"], ["--quiet"], ["--details"], ["--list"], ["--format", "json"],
    ],
    ids=" ".join,
)  # fmt: skip
def test_another_question_has_an_answer_of_its_own(
    more: list[str], school: Path, say: Callable[..., Said], checks: list[int]
) -> None:
    say("step-2")
    answer = say("step-2", *more)
    assert len(checks) == 2
    assert answer == say("step-2", *more) == say("step-2", *more, "--no-cache")
    assert len(checks) == 3


def test_an_accent_that_is_changed(school: Path, say: Callable[..., Said], checks: list[int]) -> None:
    say("step-2")
    changed("school.progression", "step 2", "accent general-american\nstep 2")()
    say("step-2")
    assert len(checks) == 2


def test_the_folder_that_it_runs_in_counts(
    school: Path, say: Callable[..., Said], checks: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "step-2/one.txt" in say(".")[1]
    monkeypatch.chdir(school / "step-2")
    assert "step-2/one.txt" not in say(".")[1]
    assert len(checks) == 2


def test_a_link_that_leads_elsewhere(school: Path, say: Callable[..., Said], checks: list[int]) -> None:
    (school / "other.progression").write_text(SCHOOL, encoding="utf-8")
    (school / "linked.progression").symlink_to("other.progression")
    time.sleep(SETTLE)
    say("step-2", "--progression", "linked.progression")
    (school / "linked.progression").unlink()
    (school / "linked.progression").symlink_to("first.progression")
    say("step-2", "--progression", "linked.progression")
    assert len(checks) == 2


@pytest.mark.parametrize(
    "change", ["a module", "a module, of the same size and time", "data", "a library", "a module more"]
)
def test_another_program_serves_nothing_of_this_one(
    change: str,
    school: Path,
    tmp_path: Path,
    say: Callable[..., Said],
    checks: list[int],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    package, rules, site = tmp_path / "package", tmp_path / "rules", tmp_path / "site"
    for folder in (package / "checking", rules, site / "lark-1.2.dist-info"):
        folder.mkdir(parents=True)
    (package / "checking" / "check.py").write_text("one = 1\n", encoding="utf-8")
    (rules / "inventory.tsv").write_text("a\n", encoding="utf-8")
    monkeypatch.setattr(looked_at, "PACKAGE", package)
    monkeypatch.setattr(looked_at, "rules_folder", lambda: rules)
    monkeypatch.setattr(sys, "path", [*sys.path, str(site)])
    say("step-2")
    say("step-2")
    assert len(checks) == 1
    if change.startswith("a module,"):
        module = package / "checking" / "check.py"
        before = module.stat()
        module.write_text("one = 2\n", encoding="utf-8")
        os.utime(module, ns=(before.st_atime_ns, before.st_mtime_ns))
    elif change == "a module":
        (package / "checking" / "check.py").write_text("one = 10\n", encoding="utf-8")
    elif change == "data":
        (rules / "inventory.tsv").write_text("b\n", encoding="utf-8")
    elif change == "a library":
        (site / "lark-1.2.dist-info").rename(site / "lark-1.3.dist-info")
    else:
        (package / "checking" / "more.py").touch()
    say("step-2")
    assert len(checks) == 2


def test_the_same_program_somewhere_else_is_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = []
    for place in ("one", "two"):
        package = tmp_path / place / "decodecheck"
        package.mkdir(parents=True)
        (package / "check.py").write_text("one = 1\n", encoding="utf-8")
        monkeypatch.setattr(looked_at, "PACKAGE", package)
        monkeypatch.setattr(looked_at, "rules_folder", lambda package=package: package / "rules")
        found.append((looked_at.program(), looked_at.state_of_program()))
    assert found[0][0] == found[1][0]
    assert found[0][1] != found[1][1]


def test_what_failed_is_tried_again(school: Path, say: Callable[..., Said], checks: list[int]) -> None:
    (school / "step-2" / "bad.txt").write_bytes(b"caf\xe9")
    time.sleep(SETTLE)
    assert say("step-2")[0] == say("step-2")[0] == 2
    assert len(checks) == 2
    checks.clear()
    assert say("nowhere")[0] == say("nowhere")[0] == 2
    assert len(checks) == 2


def test_a_file_that_changes_while_it_is_checked(
    school: Path, say: Callable[..., Said], checks: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Session.check

    def check(self: Session, path: str, **named: Any) -> Any:
        report = real(self, path, **named)
        if path.endswith("two.txt"):
            changed("step-2/two.txt", "red", "blue")()
        return report

    with monkeypatch.context() as context:
        context.setattr(Session, "check", check)
        before = say("step-2")
    time.sleep(SETTLE)
    assert say("step-2") != before
    assert len(checks) == 2


def test_a_report_is_never_written_over_what_was_read(
    school: Path, say: Callable[..., Said], checks: list[int]
) -> None:
    (school / "out.json").touch()
    arguments = ("step-2", "--output", "out.json")
    (school / "school.json").symlink_to("first.progression")
    say(*arguments)
    assert say(*arguments)[0] in (0, 1)
    over = say("step-2", "--output", "school.json")
    assert (over[0], FIRST) == (2, (school / "first.progression").read_text(encoding="utf-8"))
    again = say("step-2", "--output", "school.json")
    assert again == over
    assert (school / "first.progression").read_text(encoding="utf-8") == FIRST


SECRET = "Tilda hid under the upturned boat and wept, for Omar had gone."


def test_no_story_is_kept(school: Path, tmp_path: Path, say: Callable[..., Said]) -> None:
    (school / "step-2" / "three.txt").write_text(SECRET, encoding="utf-8")
    time.sleep(SETTLE)
    for form in formats.names():
        say("step-2", "--format", form)
    say("step-2", "--format", "json", "--every-word")
    rows = sqlite3.connect(tmp_path / "kept" / NAME).execute("SELECT value FROM kept").fetchall()
    assert len(rows) > len(formats.names())
    shown = []
    for (value,) in rows:
        # an answer is a line in the clear, and the packed report after it
        head, _, report = value[16:].partition(b"\n")
        try:
            shown.append(head + zlib.decompress(report))
        except zlib.error:
            shown.append(value)
    # a line of its text stands in one format, which is for programs that show a finding in its line
    whole = [text for text in shown if SECRET.encode() in text]
    assert all(b"sarif" in text for text in whole)
    assert any(b"upturned" in text for text in shown)


LOADED = (
    "import sys; from decodecheck.cli.main import run; run(sys.argv[1:]); "
    "print(*sorted({'spacy', 'numpy', 'lark', 'wordfreq', 'jinja2', 'lxml', 'rich', 'decodecheck.session', 'decodecheck.lexicon.store'}"
    " & set(sys.modules)))"
)


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "markdown"])
def test_what_an_answer_that_is_kept_loads(form: str, school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    said = []
    for _ in range(2):
        command = [sys.executable, "-c", LOADED, "check", "step-2", "--format", form]
        said.append(subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines())
    assert "numpy" in said[0][-1]
    assert said[1][-1] == ""
    assert said[0][:-1] == said[1][:-1]


KNOWN = frozenset(
    ("files", "progression", "step", "group", "form", "outputs", "details", "every_place", "word", "quiet", "every_word", "stdin_name",
     "lists", "order", "fix", "strict", "warn", "exit_zero", "watch", "no_cache",
     "target", "respect_exclude", "baseline", "changed_since", "governed")
)  # fmt: skip


def test_every_option_was_thought_of() -> None:
    """The value of every option is part of the question, and what a file holds that one names. One that asks for more (what git knows, another
    folder) must be in UNKEPT, or what it reads in Session.looked_at: then add it here."""
    assert {parameter.name for parameter in command.params} - KNOWN == set()
    assert all(isinstance(parameter, click.Parameter) for parameter in command.params)


def test_how_much_is_kept_and_away_with_it(
    school: Path, say: Callable[..., Said], capsys: pytest.CaptureFixture[str]
) -> None:
    say("step-2")
    assert run(["cache"]) == 0
    assert capsys.readouterr().out.endswith(" MB kept.\n")
    assert run(["cache", "--clear"]) == 0
    assert capsys.readouterr().out.endswith(" MB thrown away.\n")
    assert run(["cache"]) == 0
    assert capsys.readouterr().out.endswith(" 0.0 MB kept.\n")


@given(st.lists(st.text(st.characters(exclude_categories=()), max_size=20)), st.integers(1, 9))
def test_a_report_comes_back_as_it_was(pieces: list[str], chunk: int) -> None:
    """Whatever it holds, wherever it is divided: half of a character, half of a pair."""
    packing = _kept.Packing()
    for piece in pieces:
        packing.add(piece)
    answer = _kept.Answer((packing.whole(), b""), ("a note\n",), 1, ("é.txt",), True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(_kept, "CHUNK", chunk)
        again = _kept.read(_kept.written(answer))
        assert "".join(_kept.unpacked(again.reports[0])) == "".join(pieces)
    assert again == answer
