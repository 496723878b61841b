"""What a folder holds: texts in order of name; everything else is counted, nothing is passed over that could be a text."""

from __future__ import annotations

from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.project.discover import find_texts
from tests.errors.school import make


@pytest.fixture
def school(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    make(tmp_path)
    for name in ("b.txt", "a/z.TXT", "a/b.txt", "a/c.pptx", "d.csv", "e.pptx", "LICENCE", ".hidden/x.txt", "a/.y.txt"):
        place = tmp_path / "texts" / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text("tin\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_texts_are_found_in_order_each_once(school: Path) -> None:
    found = find_texts(["texts", "texts/b.txt", "texts/d.csv", "-", "-"])
    assert list(found.texts) == ["texts/a/b.txt", "texts/a/z.TXT", "texts/b.txt", "texts/d.csv", "-"]
    assert found.problems == []
    assert found.others == {".pptx": 2, "": 1}
    assert found.left_out() == "3 other files were not looked at: 2 .pptx, 1 without an ending."


def test_what_was_not_looked_at_is_said_after_the_report(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "texts", "--progression", "school.progression"]) == 0
    said = capsys.readouterr()
    assert said.err == (
        "3 other files were not looked at: 2 .pptx, 1 without an ending.\n"
        "1 table without a column of words was passed over: texts/d.csv.\n"
    )
    assert run(["check", "texts/b.txt", "--progression", "school.progression"]) == 0
    assert capsys.readouterr().err == ""


def test_links_inside_a_folder(school: Path) -> None:
    (school / "texts" / "again").symlink_to("a")
    (school / "texts" / "up").symlink_to("..")
    (school / "texts" / "twin.txt").symlink_to("b.txt")
    (school / "away").mkdir()
    (school / "texts" / "away").symlink_to("../away")
    found = find_texts(["texts"])
    assert list(found.texts) == ["texts/a/b.txt", "texts/a/z.TXT", "texts/b.txt", "texts/d.csv", "texts/twin.txt"]
    assert [(path, problem.what) for path, problem in found.problems] == [
        ("texts/away", "This is a link to a folder elsewhere; it was not looked into.")
    ]


@pytest.mark.parametrize("others", [["gone"], ["gone", "empty"], ["empty"], [""]])
@pytest.mark.parametrize("command", ["check", "accents"])
def test_one_missing_path_does_not_hide_the_rest(
    school: Path, capsys: pytest.CaptureFixture[str], command: str, others: list[str]
) -> None:
    (school / "empty").mkdir()
    assert run([command, *others, "tin.txt", "--progression", "school.progression"]) == 2
    said = capsys.readouterr()
    assert "tin.txt" in said.out
    for path in others:
        assert f"{path or repr('')}: This folder holds" in said.err or f"{path or repr('')}: There is no" in said.err


def test_a_file_that_is_named_like_an_option(school: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (school / "--progression=texts").write_text("tin\n", encoding="utf-8")
    (school / "--strict").write_text("bread\n", encoding="utf-8")
    for name in ("--progression=texts", "--strict"):
        assert run(["check", name, "tin.txt"]) == 2
        assert capsys.readouterr().err.startswith(f"{name}: This is an option, and the name of a file in this folder.")
        code = run(["check", "--progression", "school.progression", "--", name, "tin.txt"])
        out = capsys.readouterr().out
        assert name in out and (code == 0 or "  Checked at step 2 of " in out)
        assert code == (1 if name == "--strict" else 0)


def test_the_hook_passes_names_as_names() -> None:
    hook = (Path(__file__).parents[2] / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
    assert "  entry: decodecheck check --strict --respect-exclude\n" in hook and '  args: ["--"]\n' in hook


def test_pages_that_decodecheck_wrote_are_no_stories_of_a_folder(
    school: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(school)
    for name in ("wall.html", "wall.docx"):
        assert run(["progression", "show", "school.progression", "-o", f"texts/{name}"]) == 0
    (school / "texts" / "own.html").write_text("<p>The tin hat.", encoding="utf-8")
    (school / "texts" / "broken.docx").write_bytes((school / "texts" / "wall.docx").read_bytes()[:500])
    found = find_texts(["texts"])
    assert {name for name in found.texts if name.endswith(("html", "docx"))} == {"texts/own.html", "texts/broken.docx"}
    assert found.others[".html that decodecheck wrote"] == found.others[".docx that decodecheck wrote"] == 1
    assert "1 .docx that decodecheck wrote" in found.left_out()
    # one that is named is checked
    assert list(find_texts(["texts/wall.html"]).texts) == ["texts/wall.html"]
