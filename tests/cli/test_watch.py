"""`check --watch`, as a real process with real saves."""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from decodecheck.cli import _watch
from decodecheck.cli.main import run

SCHOOL = 'progression "Harbour Lane"\ninclude "first.progression"\nstep 2\n  teach m, s, d, i\n'
FIRST = "step 1\n  teach p, e, n, t, a, h\nallow names Tilda\n"
PATIENCE = 30


class Watching:
    """The process, with what it prints, line by line."""

    def __init__(self, *arguments: str) -> None:
        command = [sys.executable, "-u", "-m", "decodecheck", "check", "--watch", *arguments]
        # a shell lets what it starts in the background pass over Ctrl-C
        before = signal.signal(signal.SIGINT, signal.SIG_DFL)
        try:
            self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        finally:
            signal.signal(signal.SIGINT, before)
        self._lines: queue.Queue[str] = queue.Queue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self._lines.put(line)

    def round(self) -> str:
        """What is printed until it waits again."""
        said = ""
        while "Ctrl-C ends it." not in said:
            said += self._lines.get(timeout=PATIENCE)
        return said

    def is_still(self, seconds: float) -> bool:
        time.sleep(seconds)
        return self._lines.empty()

    def close(self) -> None:
        self.process.kill()
        self.process.wait()
        self._reader.join()
        assert self.process.stdout
        self.process.stdout.close()

    def end(self) -> int:
        self.process.send_signal(signal.SIGINT)
        return self.process.wait(PATIENCE)


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "texts" / "deep").mkdir(parents=True)
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "first.progression").write_text(FIRST, encoding="utf-8")
    (tmp_path / "plans" / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (tmp_path / "decodecheck.toml").write_text('progression = "plans/school.progression"\n', encoding="utf-8")
    (tmp_path / "texts" / "story.txt").write_text("Tilda sat.\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def watching(school: Path) -> Iterator[Watching]:
    found = Watching("texts", "--quiet")
    yield found
    found.close()


def replaced(path: Path, text: str) -> None:
    """Saved as many editors do: the new file takes the name of the old one."""
    other = path.with_name("." + path.name + ".new")
    other.write_text(text, encoding="utf-8")
    other.replace(path)


def test_every_way_of_saving(school: Path, watching: Watching) -> None:
    story = school / "texts" / "story.txt"
    assert "Watching" in watching.round()
    story.write_text("Tilda had a hat on.\n", encoding="utf-8")
    said = watching.round()
    assert "Checked again after a change: texts/story.txt\n" in said and "on (" not in said and "[o]n" in said
    replaced(story, "Tilda sat in the mud.\n")
    assert "m[u]d" in watching.round()
    # and once more: the file that was watched first has long gone
    replaced(story, "Tilda sat in the bin.\n")
    assert "[b]in" in watching.round()
    (school / "texts" / "deep" / "more.txt").write_text("Tilda ran.\n", encoding="utf-8")
    assert "[r]an" in watching.round()
    (school / "texts" / "deep" / "more.txt").unlink()
    assert "[r]an" not in watching.round()
    (school / "texts" / "new").mkdir()
    (school / "texts" / "new" / "even.txt").write_text("Tilda ran.\n", encoding="utf-8")
    assert "[r]an" in watching.round()
    assert watching.end() == 0


def test_what_the_texts_depend_on(school: Path, watching: Watching) -> None:
    story, first = school / "texts" / "story.txt", school / "plans" / "first.progression"
    story.write_text("Tilda ran.\n", encoding="utf-8")
    said = watching.round()
    said = said if "[r]an" in said else watching.round()
    replaced(first, FIRST.replace("h\n", "h, r\n"))
    said = watching.round()
    assert "Checked again after a change: plans/first.progression" in said and "[r]an" not in said
    # half a file: it is told, and watching goes on
    first.write_text("step 1\n  teac", encoding="utf-8")
    said = watching.round()
    assert "first.progression:2" in said and "^" in said
    first.write_text(FIRST, encoding="utf-8")
    assert "[r]an" in watching.round()
    config = school / "decodecheck.toml"
    config.write_text('progression = "plans/school.progression"\nstep = "1', encoding="utf-8")
    assert "decodecheck.toml:2" in watching.round()
    config.write_text('progression = "plans/school.progression"\nstep = 1\n', encoding="utf-8")
    assert "step 1 of 2" in watching.round()
    # a configuration that was not there before
    (school / "texts" / "decodecheck.toml").write_text('progression = "../plans/first.progression"\n', encoding="utf-8")
    assert "step 1 of 1" in watching.round()
    assert watching.is_still(1)
    assert watching.end() == 0


def test_its_own_reports_are_no_change(school: Path) -> None:
    watching = Watching("texts", "--output", "texts/report.md", "--output", "texts/report.html")
    try:
        assert "written" in watching.round()
        assert watching.is_still(1.5)
        (school / "texts" / "story.txt").write_text("Tilda ran.\n", encoding="utf-8")
        assert "[r]an" in watching.round()
        assert watching.is_still(1.5)
        assert watching.end() == 0
        assert watching._lines.empty()
    finally:
        watching.close()


def test_what_cannot_be_watched(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "-", "--watch"]) == 2
    assert run(["check", "texts", "--watch", "--fix"]) == 2
    assert run(["check", "texts", "--watch", "--format", "json", "--details"]) == 2
    said = capsys.readouterr().err
    assert said.count("--watch waits for files to be saved by somebody.") == 2


def test_a_change_while_it_is_checked_is_not_lost(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_watch, "EVERY", 0.01)
    story = school / "texts" / "story.txt"
    seen: list[str] = []

    def check() -> None:
        seen.append(story.read_text(encoding="utf-8"))
        if len(seen) == 1:
            replaced(story, "Omar sat.\n")
        elif len(seen) == 2:
            raise KeyboardInterrupt

    assert _watch.again_and_again(check, lambda: {"texts/story.txt": None}, ["texts"], []) == 0
    assert seen == ["Tilda sat.\n", "Omar sat.\n"]


def test_what_was_read_is_as_it_was_then(school: Path) -> None:
    places = _watch.Places(["texts"], [])
    before = places.look()
    plan = school / "plans" / "first.progression"
    was = (1, 2, 3)
    learnt = places.learn({"plans/first.progression": was}, before)
    assert learnt[str(plan)] == was
    assert places.wait(learnt)[1] == [os.path.join("plans", "first.progression")]  # noqa: PTH118 (a string is compared)
