"""Every kind of finding on lists: its page, a list that shows it, and one that does not."""

import re
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.lists.kinds import list_kinds
from tests.lists.asking import report, told
from tests.wordlists.asking import HARBOUR

HEAD = "word,target,segmentation,sounds\n"
# kind: rows that show it, the word that is told, and rows that do not show it
CASES = {
    "missing-target": ("mishap,sh,,\n", "mishap", "ship,sh,,\nwish,sh,,\ngrow,ow as in grow,,\nsinging,-ing,,\n"),
    "other-sound": ("town,ow as in grow,,\n", "town", "snow,ow as in grow,,\ntown,ow as in town,,\nrain,ow as in grow,,\n"),
    "wrong-segmentation": ("knit,,k/n/i/t,\n", "knit", "knit,,kn/i/t,\ncake,,c-a-e-k,\nsome,,s o me,\nit's,,i-t-s,\nbox,,b.o.x,\n"),
    "wrong-sound-count": ("box,,,3\n", "box", "box,,,4\nbird,,,3 sounds\nqueen,,,4.0\nday,,,2\n"),
    "several-words": ("good morning,sh,,8\n", "good morning", "good morning,,,\nsun,,,3\n"),
    "extra-cells": ("cat,,,3,a pet\n", "cat", "cat,,,3,\n"),
    "repeated-word": ("ship,,,\nShip,,,\n", "Ship", "ship,,,\nships,,,\n"),
    "sounds-alike": ("see,,,\nsea,,,\n", "sea", "see,,,\nsaw,,,\n"),
    "two-readings": ("wind,,,\n", "wind", "wing,,,\nhouse,,,\n"),
    "differs-by-accent": ("hurry,,,\n", "hurry", "jelly,,,\nsaid,,,\n"),
    "name-in-list": ("London,,,\n", "London", "lemon,,,\nTilda,,,\n"),
    "unfit-word": ("damn,,,\n", "damn", "dam,,,\n"),
    "uncommon-word": ("fen,,,\n", "fen", "hen,,,\nNettle,,,\n"),
    "other-country-spelling": ("color,,,\n", "color", "corner,,,\n"),
    "hard-before-easy": ("sprint,,,\nsun,,,\n", "sun", "sun,,,\nsprint,,,\n\nsit,,,\n"),
}  # fmt: skip


def found(folder: Path, rows: str) -> set[tuple[str, str]]:
    path = folder / "words.csv"
    path.write_text(HEAD + rows, encoding="utf-8")
    return told(path, ordered=True)


def test_each_kind_has_a_case() -> None:
    assert set(list_kinds()) == set(CASES)


@pytest.mark.parametrize("kind", sorted(CASES))
def test_case(kind: str, tmp_path: Path) -> None:
    shows, word, passes = CASES[kind]
    assert (kind, word) in found(tmp_path, shows)
    assert kind not in {k for k, _ in found(tmp_path, passes)}


@pytest.mark.parametrize("kind", sorted(CASES))
def test_page(kind: str) -> None:
    page = list_kinds()[kind].page
    headings = [m[0] for m in re.finditer(r"^(What it checks|Why it matters|Example|Instead):", page, re.MULTILINE)]
    assert headings == ["What it checks:", "Why it matters:", "Example:", "Instead:"]
    assert list_kinds()[kind].title.endswith(".") and list_kinds()[kind].severity in ("error", "warning")


def test_words_are_judged_as_those_of_texts_are(tmp_path: Path) -> None:
    assert ("untaught-correspondence", "bread") in found(tmp_path, "bread,,,\n")
    assert ("unlisted-word", "flumb") in found(tmp_path, "flumb,,,\n")
    assert ("untaught-correspondence", "noise") in found(tmp_path, "a noise,,,\n")


def test_a_row_has_a_step_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("word,step\nship,12\nrain,12\nrain,16\nbread,12\n", encoding="utf-8")
    result = report(path)
    assert {(f.kind, f.word, f.place.line) for f in result.findings} == {
        ("untaught-correspondence", "rain", 3),
        ("repeated-word", "rain", 4),
        ("untaught-correspondence", "bread", 5),
    }
    assert result.counts["blocked"] == 2 and result.counts["decodable"] == 2
    assert [f.start for f in result.findings] == sorted(f.start for f in result.findings)
    assert all(result.document.text[f.start : f.end] == f.word for f in result.findings)


def test_a_replacement_keeps_target_sounds_and_structure(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("word,target\ntown,ow as in grow\nsnow,ow as in grow\n", encoding="utf-8")
    (finding,) = report(path).findings
    word = re.search(r"Another word for its place: (\w+)\.", finding.remedy)
    assert word and word[1] != "snow"
    path.write_text(f"word,target,sounds\n{word[1]},ow as in grow,3\n", encoding="utf-8")
    assert not [f for f in report(path).findings if f.severity == "error"]


def test_what_words_writes_is_fine(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "week.csv"
    where = ["--progression", str(HARBOUR), "--step", "20"]
    assert run(["words", *where, "--number", "200", "-o", str(path)]) == 0
    assert run(["check", *where, "--order", "easy", str(path)]) == 0
    result = report(path, step=20, ordered=True)
    assert len(result.document.entries) == 200
    assert {f.kind for f in result.findings} <= {"sounds-alike", "differs-by-accent"}
    capsys.readouterr()


def test_the_spelling_of_this_country_is_named(tmp_path: Path) -> None:
    # common practice, no source: how the words are spelt in Britain
    path = tmp_path / "words.csv"
    here = {"color": "colour", "gray": "grey", "plow": "plough", "center": "centre", "pajamas": "pyjamas"}
    path.write_text("word\n" + "\n".join(here) + "\n", encoding="utf-8")
    remedies = {f.word: f.remedy for f in report(path).findings if f.kind == "other-country-spelling"}
    assert remedies == {there: f"Write {word}." for there, word in here.items()}


def test_findings_point_at_their_cell(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    text = 'notes,word,segmentation,sounds\n"a, ""b""",  "knit" ,"k/n/i/t", 4\n'
    path.write_text(text, encoding="utf-8")
    lines = text.split("\n")
    at = {f.kind: lines[f.place.line - 1][f.place.column - 1 : f.end_place.column - 1] for f in report(path).findings}
    assert at["wrong-segmentation"] == "k/n/i/t" and at["wrong-sound-count"] == "4"


def test_a_cell_that_cannot_be_used_leaves_the_rest_to_be_judged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "words.csv"
    path.write_text("word,target,sounds\nsnow,ow,3\nbox,,3\nship,sh,3\n", encoding="utf-8")
    assert run(["check", str(path), "--progression", str(HARBOUR), "--step", "23"]) == 2
    told = capsys.readouterr()
    assert f"{path}:2:6: `ow` alone does not say which sound is taught." in told.err
    assert "line 3, box: This word has 4 sounds, not 3" in told.out
    # and no row is moved while it stands
    assert run(["check", str(path), "--progression", str(HARBOUR), "--step", "23", "--fix", "--order", "easy"]) == 2
    assert path.read_text(encoding="utf-8") == "word,target,sounds\nsnow,ow,3\nbox,,4\nship,sh,3\n"
    capsys.readouterr()


def test_nobody_is_asked_to_teach_an_unfit_word(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("word\nmoronic\nbum bag\n", encoding="utf-8")
    found = report(path, step=12).findings
    assert {f.word for f in found if f.kind == "unfit-word"} == {"moronic", "bum bag"}
    assert all(f.remedy.startswith("Take it out.") for f in found if f.word == "moronic" and f.kind != "uncommon-word")


def test_a_word_with_two_readings_is_told_once(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_text("word\nwind\nread\n", encoding="utf-8")
    assert [f.kind for f in report(path).findings] == ["two-readings", "two-readings"]


def test_a_target_for_the_whole_list(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "words.txt"
    path.write_text("snow\ntown\n", encoding="utf-8")
    where = ["--progression", str(HARBOUR), "--step", "23", "--list"]
    assert run(["check", str(path), *where, "--target", "ow as in grow"]) == 1
    assert "town: ow say /aʊ/ here" in capsys.readouterr().out
    assert run(["check", str(path), *where, "--target", "ow as in zzz"]) == 2
    assert "--target" in capsys.readouterr().err
