"""Several reports of one run: each text is checked once, files are whole or not there, and nothing that was read is written over.

The source: what the command promises in its help, and POSIX on files (rename).
"""

from __future__ import annotations

import gc
import json
import subprocess
import weakref
from collections.abc import Iterator
from pathlib import Path

import pytest

from decodecheck.cli._reports import side_by_side
from decodecheck.cli.main import run
from decodecheck.project.write import ENDING
from decodecheck.reports import check as formats
from decodecheck.reports.view import View
from decodecheck.run import Failure, Report, Run
from decodecheck.session import Session
from tests.errors import school as at_school
from tests.errors.school import make

FOUND = "The bread.\n"


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    make(tmp_path)
    (tmp_path / "texts").mkdir()
    for number in range(6):
        (tmp_path / "texts" / f"{number}.txt").write_text(FOUND if number % 2 else "The tin hat.\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def check(*arguments: str) -> int:
    return run(["check", "texts", "--progression", "school.progression", *arguments])


def test_each_text_is_checked_once(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    checked: list[str] = []
    once = Session.check

    def counted(self: Session, path: str, *, every_word: bool = False) -> Report:
        checked.append(path)
        return once(self, path, every_word=every_word)

    alone = {}
    for form in formats.names():
        assert check("--format", form) == 1
        alone[form] = capsys.readouterr().out
    monkeypatch.setattr(Session, "check", counted)
    outputs = [f"{form}=report.{form}" for form in alone if form != "text"]
    assert check(*[part for output in outputs for part in ("--output", output)]) == 1
    said = capsys.readouterr()
    assert len(checked) == 6
    assert said.out == alone["text"]
    for form in alone.keys() - {"text"}:
        assert (school / f"report.{form}").read_text(encoding="utf-8") == alone[form]
        assert f"report.{form}: written.\n" in said.err


def test_the_end_of_a_name_stands_for_a_format(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check("-o", "a.json", "-o", "b.SARIF", "-o", "c.jsonl", "--format", "github") == 1
    assert json.loads((school / "a.json").read_text(encoding="utf-8"))["schema"] == 1
    assert json.loads((school / "b.SARIF").read_text(encoding="utf-8"))["version"] == "2.1.0"
    assert json.loads((school / "c.jsonl").read_text(encoding="utf-8").splitlines()[-1])["line_is"] == "run"
    assert capsys.readouterr().out.startswith("::error file=texts/1.txt,")


@pytest.fixture
def frozen() -> Iterator[None]:
    """What is there already is passed over by the collector, which is then quick."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


@pytest.mark.usefixtures("frozen")
def test_no_report_is_kept(school: Path) -> None:
    living: list[weakref.ref[Report]] = []
    most = 0
    session = Session("school.progression")
    made = session.run(["texts"])

    def watched() -> Iterator[Report]:
        for report in made.results:
            living.append(weakref.ref(report))
            yield report
            del report

    names = formats.names()
    whole = Run(watched(), made.failures, texts=made.texts)
    renderings = [formats.named(name).render(shared, View()) for name, shared in zip(names, whole.shared(len(names)))]
    for _ in side_by_side(renderings):
        gc.collect()
        most = max(most, sum(report() is not None for report in living))
    assert len(living) == 6
    # the one that is rendered, and the next one for a format that is ahead
    assert most <= 3


def test_what_fails_in_several_formats_is_told_once() -> None:
    def wrong(report: object) -> str:
        raise ValueError("no")

    runs = Run((_Nothing(),), texts=1).shared(2)  # type: ignore[arg-type]
    assert [*runs[0].each(wrong), *runs[1].each(wrong)] == []
    assert len(runs[0].failures) == 1 and runs[0].failures is runs[1].failures
    assert isinstance(runs[0].failures[0], Failure)


class _Nothing:
    path, severity = "x.txt", ""


@pytest.mark.parametrize("target", ["texts/1.txt", "school.progression", "linked.json"])
def test_nothing_that_was_read_is_written_over(school: Path, capsys: pytest.CaptureFixture[str], target: str) -> None:
    (school / "linked.json").symlink_to("texts/1.txt")
    (school / "decodecheck.toml").write_text('progression = "school.progression"\n', encoding="utf-8")
    before = (school / target).read_bytes()
    assert run(["check", "texts", "--output", f"json={target}", "--output", "other.json"]) == 2
    assert f"{target}: This file is what the report is made of." in capsys.readouterr().err
    assert (school / target).read_bytes() == before
    # the other one is there all the same
    assert json.loads((school / "other.json").read_text(encoding="utf-8"))["schema"] == 1
    assert sorted(p.name for p in school.iterdir() if "tmp" in p.name) == []


def test_what_cannot_be_written_is_told_before_the_work(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check("--output", "nowhere/a.json") == 2
    said = capsys.readouterr()
    assert said.out == "" and "There is no folder nowhere to write it into." in said.err
    assert check("--output", "json=texts") == 2
    assert "This is a folder." in capsys.readouterr().err


def test_exit_zero(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check("--exit-zero") == 0
    assert "3 with words that cannot be read yet" in capsys.readouterr().out
    assert check("gone.txt", "--exit-zero") == 2


def test_a_kind_is_only_a_warning(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check("--warn", "untaught-structure", "--format", "json") == 1
    capsys.readouterr()
    assert check("--warn", "untaught-correspondence", "--format", "json") == 0
    files = json.loads(capsys.readouterr().out)["files"]
    (found,) = files[1]["findings"]
    assert (found["kind"], found["severity"], found["status"]) == ("untaught-correspondence", "warning", "blocked")
    assert files[1]["counts"]["blocked"] == 1
    assert check("--warn", "untaught-correspondence", "--strict") == 1
    # another kind in the same text still fails
    capsys.readouterr()
    (school / "texts" / "1.txt").write_text("The bread was the man.\n", encoding="utf-8")
    progression = school / "school.progression"
    progression.write_text(
        progression.read_text(encoding="utf-8").replace("step 2\n", "step 2\n  tricky was\n"), encoding="utf-8"
    )
    assert check("--warn", "untaught-correspondence", "--step", "1", "--format", "json") == 1
    kinds = {(f["kind"], f["severity"]) for f in json.loads(capsys.readouterr().out)["files"][1]["findings"]}
    assert kinds == {("untaught-correspondence", "warning"), ("later-tricky-word", "error")}


def test_a_killed_run_leaves_the_old_report_or_the_new_one(school: Path) -> None:
    (school / "texts" / "long.txt").write_text("The tin hat and the bread.\n" * 20_000, encoding="utf-8")
    target = school / "report.json"
    command = at_school.command(
        "check", "texts", "--progression", "school.progression", "--output", "report.json", "--format", "github"
    )
    caught = 0
    for _ in range(3):
        target.write_text("old", encoding="utf-8")
        child = subprocess.Popen(command, cwd=school, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        # killed in the middle of writing, or as close to it as can be told from outside
        while child.poll() is None:
            if any(school.glob(f".*{ENDING}")):
                child.kill()
                caught += 1
                break
        child.wait(timeout=60)
        text = target.read_text(encoding="utf-8")
        assert text == "old" or len(json.loads(text)["files"]) == 7
        for left in school.glob(f".*{ENDING}"):
            left.unlink()
    assert caught
