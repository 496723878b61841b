"""Every example of the README and of the guide is run, in a copy of the demo; what they print is what they show."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.progression.resolve import resolve

ROOT = Path(__file__).parents[1]
PAGES = (ROOT / "README.md", ROOT / "rules" / "GUIDE.md")
FAILING = {"corpora_demo/texts/step-22", "corpora_demo/wordlists/step-23-ow.csv", "compare"}
"""Words of commands that end with exit code 1: the text and the list with planted faults, the change that breaks a text."""


def blocks(page: Path) -> list[str]:
    """The indented blocks of a page, without their indent."""
    found = re.findall(r"(?:^(?: {4}.*)?\n)+", page.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return [re.sub(r"^ {4}", "", block, flags=re.MULTILINE).strip("\n") for block in found if block.strip()]


def examples(page: Path) -> list[tuple[str, list[str]]]:
    """Each command of a page with the lines that are shown below it."""
    found: list[tuple[str, list[str]]] = []
    for block in blocks(page):
        if not block.startswith("$ "):
            continue
        for line in block.split("\n"):
            if line.startswith("$ "):
                found.append((line[2:], []))
            else:
                found[-1][1].append(line)
    return found


def assert_shows(shown: list[str], said: str) -> None:
    """Each run of lines between two `...` stands in what was said, one after the other; a line may end in `...`."""
    at = 0
    for part in re.split(r"^\.\.\.$", "\n".join(shown), flags=re.MULTILINE):
        text = part.strip("\n").removesuffix("...")
        if text:
            assert text in said[at:], f"not printed:\n{text}\nin:\n{said}"
            at = said.index(text, at) + len(text)


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_examples(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(ROOT / "corpora_demo", tmp_path / "corpora_demo")
    monkeypatch.chdir(tmp_path)
    found = examples(page)
    assert len(found) > 3
    for command, shown in found:
        program, *arguments = shlex.split(command)
        assert program == "decodecheck"
        code = run(arguments)
        said = capsys.readouterr()
        assert code == int(bool(FAILING & set(arguments))), f"{command}\n{said.err}"
        assert_shows(shown, said.out)


def test_the_progression_of_the_readme_is_a_whole_one() -> None:
    (text,) = [b for b in blocks(PAGES[0]) if b.startswith("progression ")]
    order, problems = resolve(text + "\n", "readme.progression")
    assert not problems, [p.text() for p in problems]
    assert [s.number for s in order.steps] == [1, 2, 3]
    assert set(order.pinned) == {"niamh"}


def test_the_demo_command_of_the_readme_finds_the_planted_faults(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    (command,) = [b for b in blocks(PAGES[0]) if b.startswith("python3 -m venv")]
    assert command.endswith("decodecheck check corpora_demo")
    assert run(["check", "corpora_demo"]) == 1
    assert (
        "8 fine, 2 with words that cannot be read yet, 0 with words to check by eye, 1 with something else to see to"
        in capsys.readouterr().out
    )


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_links_lead_to_files(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8"))
    assert links
    assert all((page.parent / link).is_file() for link in links)


def test_the_guide_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    guide = PAGES[1].read_text(encoding="utf-8")
    for group in ([], ["progression"], ["baseline"]):
        assert run([*group, "--help"]) == 0
        listed = capsys.readouterr().out.partition("Commands:")[2]
        for name in re.findall(r"^  (\w+) ", listed, flags=re.MULTILINE):
            if name not in ("progression", "baseline"):
                command = " ".join(["`decodecheck", *group, name])
                assert f"{command} " in guide or f"{command}`" in guide
