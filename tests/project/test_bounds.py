"""What a stranger's files can make the program print: no line of a file outside of the project, whatever route they try.

The source: an own line planted outside, looked for in everything that is said.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from decodecheck.bounds import leads_out, outside
from decodecheck.cli.main import run
from tests.errors.school import PROGRESSION, make

SECRET = "Zorquist"


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project with a configuration; beside it a folder with secrets in files of several kinds."""
    folder = tmp_path / "project"
    folder.mkdir()
    make(folder)
    (folder / "decodecheck.toml").write_text('progression = "school.progression"\n', encoding="utf-8")
    away = tmp_path / "away"
    away.mkdir()
    (away / "secret.txt").write_text(f"{SECRET} bread\n", encoding="utf-8")
    (away / "secret.progression").write_text(f"{SECRET}\nstep 1\n  teach {SECRET}\n", encoding="utf-8")
    (away / "secret.toml").write_text(f"{SECRET} is no table\n", encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


ROUTES = {
    "an include upwards": ("a.progression", 'include "../away/secret.progression"\nstep 1\n  teach p\n'),
    "an include from the root": ("a.progression", 'include "{away}/secret.progression"\nstep 1\n  teach p\n'),
    "an include of a text": ("a.progression", 'include "../away/secret.txt"\nstep 1\n  teach p\n'),
    "an include of an included file": ("a.progression", 'include "b.progression"\nstep 1\n  teach p\n'),
    "an include of a link": ("a.progression", 'include "link.progression"\nstep 1\n  teach p\n'),
    "an include through a folder that is a link": (
        "a.progression",
        'include "away/secret.progression"\nstep 1\n  teach p\n',
    ),
    "a progression that is a link": ("", ""),
    "a progression upwards": ("decodecheck.toml", 'progression = "../away/secret.progression"\n'),
    "a progression from the root": ("decodecheck.toml", 'progression = "{away}/secret.progression"\n'),
    "a configuration that is a link": ("", ""),
    "a text that is a link": ("", ""),
    "a folder that is a link": ("", ""),
}


@pytest.mark.parametrize("route", ROUTES)
def test_no_route_leads_out(project: Path, capsys: pytest.CaptureFixture[str], route: str) -> None:
    away = project.parent / "away"
    name, text = ROUTES[route]
    if name:
        (project / name).write_text(text.replace("{away}", str(away)), encoding="utf-8")
    (project / "link.progression").symlink_to("../away/secret.progression")
    (project / "b.progression").write_text(
        'include "../away/secret.progression"\nstep 1\n  teach e\n', encoding="utf-8"
    )
    commands = [["check", "tin.txt", "--progression", "a.progression"], ["progression", "check", "a.progression"]]
    if name == "decodecheck.toml":
        commands = [["check", "tin.txt"], ["preview", "tin.txt"]]
    if "folder" in route:
        (project / "away").symlink_to("../away")
    if not name:
        commands = [["check", "."], ["check", "tin.txt", "secret.txt"], ["check", "away"], ["check", "away/secret.txt"]]
    if route == "a progression that is a link":
        commands = [
            ["check", "tin.txt", "--progression", "link.progression"],
            ["progression", "check", "link.progression"],
            ["progression", "show", "link.progression"],
            ["progression", "format", "link.progression"],
            ["explain", "tin", "--progression", "link.progression"],
        ]
    if route == "a configuration that is a link":
        (project / "decodecheck.toml").unlink()
        (project / "decodecheck.toml").symlink_to("../away/secret.toml")
        commands = [["check", "tin.txt"]]
    if route == "a text that is a link":
        (project / "secret.txt").symlink_to("../away/secret.txt")
        commands = [*commands[:2], ["preview", "secret.txt"], ["accents", "secret.txt"]]
    for arguments in commands:
        code = run(arguments)
        said = capsys.readouterr()
        assert SECRET not in said.out + said.err
        assert code == 2
        assert "outside of the project" in said.err or "link" in said.err or "There is no such" in said.err


def test_what_belongs_together_is_read(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An include beside, below or above, as long as it stays inside; a path that somebody types, wherever it leads."""
    (project / "years" / "two").mkdir(parents=True)
    (project / "years" / "one.progression").write_text(PROGRESSION, encoding="utf-8")
    two = project / "years" / "two" / "two.progression"
    two.write_text('include "../one.progression"\nstep 3\n  teach o\n', encoding="utf-8")
    assert run(["check", "tin.txt", "--progression", str(two)]) == 0
    (project / "years" / "two" / "decodecheck.toml").write_text('progression = "two.progression"\n', encoding="utf-8")
    (project / "years" / "two" / "tin.txt").write_text("tin\n", encoding="utf-8")
    assert run(["check", "years/two/tin.txt"]) == 0
    away = project.parent / "away"
    (away / "tin.txt").write_text("tin\n", encoding="utf-8")
    assert run(["check", "../away/tin.txt", str(away / "tin.txt"), "--progression", "school.progression"]) == 0
    (away / "own.progression").write_text(PROGRESSION, encoding="utf-8")
    assert run(["check", "tin.txt", "--progression", "../away/own.progression"]) == 0
    capsys.readouterr()


def test_an_include_of_what_is_no_progression_is_one_message(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "list.txt").write_text(f"{SECRET}\n" * 100, encoding="utf-8")
    (project / "a.progression").write_text('include "list.txt"\nstep 1\n  teach p\n', encoding="utf-8")
    assert run(["progression", "check", "a.progression"]) == 2
    said = capsys.readouterr().err
    assert said.startswith("a.progression:1:10: The included file cannot be used: It is no progression")
    assert len(said.splitlines()) == 5 and SECRET not in said


def test_the_folder_under_version_control_is_a_project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "school" / "texts").mkdir(parents=True)
    (tmp_path / "other").mkdir()
    monkeypatch.chdir(tmp_path / "school" / "texts")
    school, other = tmp_path / "school", tmp_path / "other"
    assert outside("../a.progression", ".")
    assert not leads_out("../../other/a.txt")
    (school / ".git").mkdir()
    assert not outside("../a.progression", ".")
    assert outside(other / "a.progression", ".")
    (school / "texts" / "link.txt").symlink_to(other / "a.txt")
    (school / "texts" / "near.txt").symlink_to(school / "a.txt")
    assert leads_out("link.txt") and leads_out(str(school / "texts" / "link.txt"))
    assert not leads_out("near.txt")


def test_a_home_without_a_project_may_link_wherever_it_likes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "home").mkdir()
    (tmp_path / "stick").mkdir()
    (tmp_path / "home" / "stories").symlink_to(tmp_path / "stick")
    monkeypatch.chdir(tmp_path / "home")
    assert not leads_out("stories/a.txt")
