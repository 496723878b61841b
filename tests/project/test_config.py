"""The configuration file: how it is named, and that what is no TOML gets one message with its place."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.errors import UserError
from decodecheck.project.config import find_config
from decodecheck.project.toml_mistakes import explain_toml


# The source: how a shell names a file from the folder it is in.
@pytest.mark.parametrize(
    ("here", "text", "named"),
    [
        (".", "tin.txt", "decodecheck.toml"),
        ("texts", "tin.txt", "../decodecheck.toml"),
        ("texts/autumn", "tin.txt", "../../decodecheck.toml"),
        ("texts/autumn", "../tin.txt", "../../decodecheck.toml"),
        ("other", "../texts/tin.txt", "../decodecheck.toml"),
    ],
)
def test_a_configuration_above_is_named_from_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, here: str, text: str, named: str
) -> None:
    (tmp_path / "school" / here).mkdir(parents=True, exist_ok=True)
    (tmp_path / "school" / "texts").mkdir(exist_ok=True)
    (tmp_path / "school" / "decodecheck.toml").write_text("progresion = 3\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path / "school" / here)
    with pytest.raises(UserError) as caught:
        find_config(Path(text))
    assert [p.path for p in caught.value.problems] == [named]


def test_what_a_configuration_above_names_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "texts").mkdir()
    (tmp_path / "decodecheck.toml").write_text('progression = "a.progression"\n', encoding="utf-8")
    (tmp_path / "a.progression").write_text("step 1\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path / "texts")
    config = find_config(Path("tin.txt"))
    assert config is not None and config.progression == "../a.progression"
    assert Path(config.progression).is_file()


# The source: what is promised of messages - their place is in the file.
@settings(max_examples=500, deadline=None)
@given(st.text(alphabet="ab=[]{}\"'#.,\\0123456789 \n\r“”", max_size=40))
def test_any_faulty_text_has_a_message_with_a_place(text: str) -> None:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = explain_toml("decodecheck.toml", text, str(error))
        lines = text.replace("\r\n", "\n").split("\n")
        assert 1 <= problem.line <= len(lines)
        assert 1 <= problem.column <= max(1, len(lines[problem.line - 1]))
        assert problem.excerpt == lines[problem.line - 1]
        assert problem.what and problem.todo


# The source: Python's tomllib, which has no message of its own for these.
@pytest.mark.parametrize(
    ("body", "what"),
    [
        ("a." * 5000 + "b = 3\n", "This key has too many dots."),
        ("[" + "a." * 5000 + "b]\n", "This key has too many dots."),
        ("step = " + "[" * 5000 + "\n", "Brackets stand inside brackets too deep here."),
        ("step = " + "9" * 5000 + "\n", "This number is too long."),
        ("step = " + '\\"' * 5000 + "\n", "The quotation mark is not closed."),
        ("[[texts]]\nfiles = '" + "a" * 5000 + "'\nstep = 3\n", "This pattern is longer than any path."),
    ],
)
def test_what_no_configuration_holds(tmp_path: Path, body: str, what: str) -> None:
    (tmp_path / "decodecheck.toml").write_text(body, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        find_config(tmp_path)
    assert [p.what for p in caught.value.problems] == [what]


def test_a_text_with_dots_in_quotation_marks_is_no_key(tmp_path: Path) -> None:
    (tmp_path / "decodecheck.toml").write_text(f'progression = "{"../" * 40}a.progression"\n', encoding="utf-8")
    config = find_config(tmp_path)
    assert config is not None and config.progression is not None and config.progression.endswith("a.progression")
