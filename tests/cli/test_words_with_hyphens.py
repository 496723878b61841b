"""Words that the lexicon lists with a hyphen go through every command that takes words; none of them is an everyday case elsewhere."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.lexicon.store import lexicon

from ..insight.demo import HARBOUR

WORDS = [word for word in lexicon("british").tables.words() if "-" in word]
AT = ["--progression", str(HARBOUR)]


def test_there_are_some() -> None:
    assert {"yo-yo", "felt-tip"} <= set(WORDS)


@pytest.mark.parametrize("word", WORDS)
def test_it_is_taken(
    word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["explain", word, *AT, "--format", "jsonl"]) == 0
    explained = json.loads(capsys.readouterr().out)
    assert explained["origin"] == "listed"
    letters = [at for grapheme in explained["readings"][0]["graphemes"] for at in grapheme["letters"]]
    assert sorted(letters) == [at for at, letter in enumerate(word) if letter != "-"]

    Path("text.txt").write_text(f"{word.capitalize()}! {word}, {word}'s.\n", encoding="utf-8")
    assert run(["check", "text.txt", *AT, "--every-word", "--format", "json"]) in (0, 1)
    [file] = json.loads(capsys.readouterr().out)["files"]
    assert [w["word"].lower() for w in file["words"]] == [word, word, f"{word}'s"]
    for command in ("fit", "coverage", "replace"):
        assert run([command, "text.txt", *AT, "--format", "json"]) in (0, 1)
    assert run(["accents", "text.txt", *AT]) == 0
    for name in ("week.html", "week.docx", "week.txt", "week.csv"):
        Path("week-list.txt").write_text(f"{word}\n", encoding="utf-8")
        assert run(["sheet", "week-list.txt", *AT, "--output", name]) == 0
        assert Path(name).stat().st_size
    assert run(["check", "--list", "week-list.txt", *AT]) in (0, 1)
    capsys.readouterr()
    # a chain goes from sound to sound, and a word of two parts is none of its words
    for arguments in ([word, "cat"], ["cat", word], [word, "--length", "3"]):
        assert run(["chain", *arguments, *AT]) == 2
        assert f"chain: {word} does not consist of letters only." in capsys.readouterr().err
