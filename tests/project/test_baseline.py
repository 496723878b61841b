"""A baseline: what it holds does not fail, what is new does, whatever lines move. The expectations are worked out by hand, or follow from
what was written into the files of each test."""

from __future__ import annotations

import json
import random
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck import api
from decodecheck.baselined import Held
from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.project.baseline import Baseline, Key, file_name, read_baseline
from decodecheck.reports import check as formats
from decodecheck.session import Session

SCHOOL = "step 1\n  teach a, b, d, e, h, m, n, p, r, s, t, th\n  tricky the, a\n"
CHECK = ["check", ".", "--baseline", "base.json"]
WRITE = ["baseline", "write", ".", "--baseline", "base.json"]
PRUNE = ["baseline", "prune", ".", "--baseline", "base.json"]


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (tmp_path / "decodecheck.toml").write_text('progression = "school.progression"\n', encoding="utf-8")
    (tmp_path / "story.txt").write_text("The boat. The map.\nA Boat and tin.\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def entries(folder: Path, name: str = "base.json") -> dict[tuple[str, str], int]:
    """Counts by file and word, read without the program."""
    data = json.loads((folder / name).read_text(encoding="utf-8"))
    assert data["baseline_schema"] == 1
    return {(f, w): n for f, kinds in data["files"].items() for words in kinds.values() for w, n in words.items()}


def words(capsys: pytest.CaptureFixture[str], *more: str) -> list[tuple[str, int]]:
    """The words of the findings that are told, with their lines."""
    capsys.readouterr()
    run([*CHECK, "--format", "json", *more])
    return [(f["word"], f["line"]) for file in json.loads(capsys.readouterr().out)["files"] for f in file["findings"]]


def test_what_it_holds_does_not_fail(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "."]) == 1
    assert run(WRITE) == 0
    assert entries(school) == {("story.txt", "boat"): 2, ("story.txt", "tin"): 1}
    capsys.readouterr()
    assert run(CHECK) == 0
    said = capsys.readouterr()
    assert said.err == "3 findings are in the baseline.\n"
    assert "3 findings are in the baseline and not told here." in said.out
    assert "[oa]" not in said.out
    # the words themselves are still what they are
    assert "story.txt: 3 of 8 words not yet decodable (2 different)" in said.out


def test_it_is_no_other_file(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(WRITE) == 0 and run(WRITE) == 0 and run([*CHECK]) == 0
    assert "not looked at" not in capsys.readouterr().err
    (school / "plan.json").write_text("{}", encoding="utf-8")
    assert run([*CHECK]) == 0
    assert "1 other file was not looked at: 1 .json." in capsys.readouterr().err


def test_the_last_ones_are_new(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(WRITE)
    text = (school / "story.txt").read_text(encoding="utf-8")
    (school / "story.txt").write_text(f"{text}The boat.\nA tin hat.\nA boat.\n", encoding="utf-8")
    assert words(capsys) == [("boat", 3), ("tin", 4), ("boat", 5)]
    assert run(CHECK) == 1


FINE, BAD = ["The map.", "A hat.", "Sam.", ""], ["The boat.", "A BOAT!", "A boat-\nhat.", "Tin.", "The tin and a pin."]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from(BAD), min_size=1, max_size=6), st.lists(st.sampled_from(FINE), max_size=8), st.randoms()
)
def test_lines_may_move(
    tmp_path_factory: pytest.TempPathFactory, bad: list[str], fine: list[str], at: random.Random
) -> None:
    folder = tmp_path_factory.mktemp("school")
    (folder / "school.progression").write_text(SCHOOL, encoding="utf-8")
    story = folder / "story.txt"
    story.write_text("\n".join(bad), encoding="utf-8")
    first = Held(Baseline(str(folder / "base.json"), {}))
    first.of(Session(str(folder / "school.progression")).run([str(story)])).whole()
    lines = [*bad, *fine]
    at.shuffle(lines)
    story.write_text("\n\n".join(lines), encoding="utf-8")
    second = Held(first.anew())
    after = second.of(Session(str(folder / "school.progression")).run([str(story)])).whole()
    assert [f.word for report in after.results for f in report.findings] == []
    assert after.exit_code(strict=True) == 0 and not second.idle()
    assert second.accepted == sum(first.anew().counts.values()) > 0


def test_every_format_tells_the_new_ones_alone(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(WRITE)
    (school / "story.txt").write_text("The boat. A hit.\nA Boat and tin.\n", encoding="utf-8")
    for form in formats.names():
        capsys.readouterr()
        assert run([*CHECK, "--format", form]) == 1, form
        out = capsys.readouterr().out.replace("<b>", "").replace("</b>", "")
        assert "hit" in out or "h[i]t" in out, form
        assert "b[oa]t" not in out and "t[i]n" not in out and "oa as in" not in out, form
    for form in ("markdown", "html"):
        capsys.readouterr()
        run([*CHECK, "--format", form])
        assert "3 findings are in the baseline." in capsys.readouterr().out
    capsys.readouterr()
    run([*CHECK, "--format", "json", "--every-word"])
    listed = [(w["word"], w["status"]) for w in json.loads(capsys.readouterr().out)["files"][0]["words"]]
    assert ("boat", "blocked") in listed and ("tin", "blocked") in listed


def test_word_lists(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "story.txt").unlink()
    (school / "week.csv").write_text("word,sounds\nhat,4\nboat,3\nhat,3\n", encoding="utf-8")
    assert run(WRITE) == 0
    assert entries(school) == {("week.csv", "hat"): 1, ("week.csv", "boat"): 1}
    data = json.loads((school / "base.json").read_text(encoding="utf-8"))["files"]["week.csv"]
    assert sorted(data) == ["repeated-word", "untaught-correspondence", "wrong-sound-count"]
    capsys.readouterr()
    assert run([*CHECK, "--strict"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("week.csv: 3 entries, nothing new\n") and "3 findings are in the baseline" in out
    (school / "week.csv").write_text("word,sounds\nmap,3\nhat,4\nboat,3\nhat,3\nhat,5\n", encoding="utf-8")
    capsys.readouterr()
    assert run([*CHECK, "--format", "json"]) == 1
    (file,) = json.loads(capsys.readouterr().out)["files"]
    assert [(f["kind"], f["line"]) for f in file["findings"]] == [("wrong-sound-count", 6), ("repeated-word", 6)]


def test_warnings_are_held_too(school: Path) -> None:
    (school / "story.txt").write_text("Zzyx had a map.\n", encoding="utf-8")
    assert run(["check", ".", "--strict"]) == 1
    run(WRITE)
    assert run([*CHECK, "--strict"]) == 0


def test_what_is_not_there_any_more(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "other.txt").write_text("A pin.\n", encoding="utf-8")
    (school / "gone.txt").write_text("A bin.\n", encoding="utf-8")
    run(WRITE)
    (school / "gone.txt").unlink()
    (school / "story.txt").write_text("The boat. A map.\n", encoding="utf-8")
    capsys.readouterr()
    # of a file that is not checked nothing is said
    assert run(["check", "story.txt", "--baseline", "base.json"]) == 0
    assert capsys.readouterr().err == (
        "1 finding is in the baseline.\n"
        "3 findings of the baseline are not there any more: bin (gone.txt), boat (story.txt), tin (story.txt). "
        "`decodecheck baseline prune` takes them out.\n"
    )
    assert run(["baseline", "prune", "story.txt", "--baseline", "base.json"]) == 0
    assert capsys.readouterr().out == "base.json: 3 findings taken out; it holds 2 findings in 2 files.\n"
    assert entries(school) == {("story.txt", "boat"): 1, ("other.txt", "pin"): 1}
    before = (school / "base.json").read_bytes()
    assert run(PRUNE) == 0
    assert capsys.readouterr().out == "base.json: unchanged.\n"
    assert (school / "base.json").read_bytes() == before
    # a new fault is none that pruning takes in
    (school / "story.txt").write_text("The boat. A boat.\n", encoding="utf-8")
    run(PRUNE)
    assert run(CHECK) == 1


def test_nothing_is_written_where_something_cannot_be_checked(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(WRITE)
    before = (school / "base.json").read_bytes()
    (school / "story.txt").write_text("A map.\n", encoding="utf-8")
    (school / "bad.txt").write_bytes(b"\x00\x01\x02 a map \x00")
    for command in (WRITE, PRUNE):
        capsys.readouterr()
        assert run(command) == 2
        assert "base.json: not written, since something could not be checked.\n" in capsys.readouterr().err
    assert (school / "base.json").read_bytes() == before


def test_no_other_file_is_written_over(school: Path) -> None:
    before = (school / "story.txt").read_bytes()
    assert run(["baseline", "write", ".", "--baseline", "story.txt"]) == 2
    assert (school / "story.txt").read_bytes() == before
    assert run(["baseline", "write", ".", "--baseline", "."]) == 2
    assert run(["check", ".", "--baseline", "base.json", "--output", "json=base.json"]) == 2


def test_files_are_named_from_its_folder(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("texts/step-1", "lists", "ci"):
        (school / name).mkdir(parents=True)
    story = school / "texts" / "step-1" / "a boat, é.txt"
    (school / "story.txt").rename(story)
    assert run(["baseline", "write", "texts", "--baseline", "ci/base.json"]) == 0
    assert {file for file, _ in entries(school, "ci/base.json")} == {"../texts/step-1/a boat, é.txt"}
    monkeypatch.chdir(school / "texts")
    assert run(["check", "step-1", "--baseline", "../ci/base.json"]) == 0
    assert run(["check", str(story), "--baseline", str(school / "ci" / "base.json")]) == 0
    # Unicode, NFD and NFC: one system gives a name back in other characters than another
    assert file_name("base.json", "e\u0301.txt") == file_name("base.json", "\u00e9.txt")


def test_standard_input_has_a_place_by_its_name_alone(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import io
    import sys

    run(WRITE)
    for arguments, code in ((["check", "-"], 1), (["check", "-", "--stdin-name", "story.txt"], 0)):
        given = io.TextIOWrapper(io.BytesIO((school / "story.txt").read_bytes()))
        monkeypatch.setattr(sys, "stdin", given)
        assert run([*arguments, "--baseline", "base.json"]) == code


NAME = st.text(st.characters(blacklist_characters="\0"), min_size=1, max_size=8)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.tuples(NAME, NAME, NAME), st.integers(1, 99), max_size=6))
def test_it_is_read_as_it_was_written(
    tmp_path_factory: pytest.TempPathFactory, counts: dict[tuple[str, str, str], int]
) -> None:
    from unicodedata import normalize

    path = tmp_path_factory.mktemp("base") / "base.json"
    keys = {Key(normalize("NFC", file), kind, word): n for (file, kind, word), n in counts.items()}
    path.write_text(Baseline(str(path), keys).text(), encoding="utf-8")
    assert read_baseline(str(path)).counts == keys
    # one word a line, in order, whatever order the findings came in
    assert Baseline(str(path), dict(reversed(keys.items()))).text() == path.read_text(encoding="utf-8")


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_a_damaged_one_is_told_and_never_passed_over(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    path = tmp_path_factory.mktemp("base") / "base.json"
    text = Baseline(str(path), {Key("a.txt", "untaught-ending", "jumped"): 2, Key("b.txt", "x", "bread"): 1}).text()
    start = data.draw(st.integers(0, len(text) - 2))
    end = data.draw(st.integers(start, len(text)))
    changed = (
        text[:start] + data.draw(st.sampled_from(["", "{", "]", '"', "\n<<<<<<< HEAD\n", "-1", "x", "\0"])) + text[end:]
    )
    path.write_text(changed, encoding="utf-8")
    try:
        read = read_baseline(str(path))
    except UserError as error:
        assert error.problems[0].path == str(path) and error.problems[0].what and error.problems[0].todo
    else:
        # what is still a baseline says what its text says
        assert all(json.dumps(key.word) in changed for key in read.counts)


def test_two_at_once(school: Path) -> None:
    run(WRITE)
    whole = (school / "base.json").read_bytes()
    with ThreadPoolExecutor(4) as pool:
        held = Held(Baseline("base.json", {}))
        held.of(Session().run(["."])).whole()
        from decodecheck.project.write import write_safely

        work = [pool.submit(write_safely, Path("base.json"), held.anew().text()) for _ in range(20)]
        for each in work:
            each.result()
            assert (school / "base.json").read_bytes() == whole
    assert [p.name for p in school.iterdir() if p.name.startswith(".")] == []


def test_programs_have_it_too(school: Path) -> None:
    run(WRITE)
    found = api.check(["story.txt"], baseline="base.json")
    assert found.exit_code() == 0 and found.aside == ["3 findings are in the baseline."]
    assert [report.severity for report in found.results] == [""]


WRITER = """
import sys
from decodecheck.project.baseline import Baseline, Key
from decodecheck.project.write import write_safely
from pathlib import Path
print("ready", flush=True)
while True:
    for number in (1, 2):
        counts = {Key(f"texts/{at}.txt", "untaught-ending", "jumped"): number for at in range(2000)}
        write_safely(Path("base.json"), Baseline("base.json", counts).text())
"""


# The source: a baseline that is read at all holds one count throughout; a torn one would hold two, or none that can be read.
def test_a_writer_that_is_killed_leaves_a_whole_file(school: Path) -> None:
    import subprocess
    import sys
    import time

    read = 0
    for delay in (0.15, 0.2, 0.23, 0.29, 0.31, 0.37):
        with subprocess.Popen([sys.executable, "-c", WRITER], cwd=school, stdout=subprocess.PIPE) as process:
            assert process.stdout and process.stdout.readline() == b"ready\n"
            time.sleep(delay)
            process.kill()
        if (school / "base.json").exists():
            read += 1
            counts = read_baseline(str(school / "base.json")).counts
            assert len(counts) == 2000 and len(set(counts.values())) == 1
    assert read
