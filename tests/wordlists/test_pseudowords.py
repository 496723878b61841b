"""Invented words: a thousand of each section of the screening check, held against our own reading of the data.

What a word may be made of: Standards and Testing Agency, "Year 1 phonics screening check: structure and content", 2012; what is to be
accepted: its scoring guidance, June 2013 and 2014 (Crown copyright, Open Government Licence v3.0).
"""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from decodecheck.cli.main import run
from decodecheck.wordlists.pseudowords import meets_falsely

from ..insight.demo import DEMO, HARBOUR
from . import independent as own

VOWELS = "aeiou"


@cache
def made(*arguments: str) -> dict[str, Any]:
    """What the command prints as JSON."""
    import contextlib

    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert run(["pseudowords", *arguments, "--format", "json"]) == 0
    found: dict[str, Any] = json.loads(out.getvalue())
    return found


def section(number: int) -> list[dict[str, Any]]:
    words: list[dict[str, Any]] = made("--sections", str(number), "--number", "1000", "--seed", "7")["words"]
    return words


def graphemes(word: dict[str, Any]) -> list[str]:
    return [g["grapheme"] for g in word["graphemes"]]


def holds_vowel(sounds: list[str]) -> bool:
    return any(character in "aæɑeɛəɜiɪɒɔoʊuʌʉ" for sound in sounds for character in sound)


def shape(word: dict[str, Any]) -> str:
    """C and V by the sounds that are printed."""
    return "".join("V" if holds_vowel(g["sounds"]) else "C" for g in word["graphemes"])


@pytest.mark.parametrize("number", [1, 2])
class TestThousand:
    def test_there_are_a_thousand_different_ones(self, number: int) -> None:
        words = section(number)
        assert len({w["word"] for w in words}) == len(words) == 1000
        assert {w["section"] for w in words} == {number}

    def test_they_are_no_words(self, number: int) -> None:
        spelt = {w["word"] for w in section(number)}
        assert not spelt & own.spellings()
        assert not spelt & own.counted()

    def test_their_graphemes_spell_them_and_belong_to_the_section(self, number: int) -> None:
        for word in section(number):
            assert own.written(graphemes(word)) == word["word"]
            assert set(graphemes(word)) <= own.graphemes_of(number), word["word"]

    def test_their_structures_belong_to_the_section(self, number: int) -> None:
        listed = own.structures_of(number)
        for word in section(number):
            found = shape(word)
            assert found == word["structure"]
            if found.count("V") == 2:
                assert "two-syllable words" in listed
            elif number == 2 and found == "CVC":
                assert "CVC with split digraph, vowel digraph or trigraph" in listed
                (vowel,) = [g for g in word["graphemes"] if holds_vowel(g["sounds"])]
                assert len(vowel["grapheme"]) > 1
            else:
                assert found in listed, word["word"]

    def test_each_sound_is_one_of_its_grapheme(self, number: int) -> None:
        for word in section(number):
            assert own.plain(word["readings"][0]["ipa"]) == own.plain(
                "".join(s for g in word["graphemes"] for s in g["sounds"])
            )
            can_be = own.possible(graphemes(word), "southern-british")
            for reading in word["readings"]:
                assert own.plain(reading["ipa"]) in can_be, word["word"]

    def test_no_reading_sounds_like_a_word(self, number: int) -> None:
        words = own.said_by_words("british")
        for word in section(number):
            for reading in word["readings"]:
                assert own.plain(reading["ipa"]) not in words, (word["word"], words[own.plain(reading["ipa"])])

    def test_none_is_close_to_a_rude_word(self, number: int) -> None:
        sounds = own.rude_sounds("british")
        assert len(sounds) > 100
        for word in section(number):
            assert not [r for r in own.rude() if own.within_one(word["word"], r)], word["word"]
            for reading in word["readings"]:
                said = tuple(own.plain(sound) for g in reading["graphemes"] for sound in g["sounds"])
                assert not [r for r in sounds if own.within_one(said, r)], word["word"]

    def test_they_begin_and_end_like_words(self, number: int) -> None:
        begin, end = own.letters_that_begin_and_end()
        assert {"bv", "ck", "dl"}.isdisjoint(begin)
        for word in section(number):
            assert own.beginning(word["word"]) in begin, word["word"]
            assert own.ending(word["word"]) in end, word["word"]

    def test_no_short_vowel_before_a_last_c(self, number: int) -> None:
        # source: National curriculum in England, English Appendix 1 (2013), year 1: /k/ is usually spelt ck straight after a single vowel letter in
        # short words; *topic* and *magic* are longer
        short = [w["word"] for w in section(number) if shape(w).count("V") == 1]
        assert short and not [word for word in short if re.search(r"[aeiouy]c$", word)]

    def test_no_graphemes_meet_in_another(self, number: int) -> None:
        """The letters divide in one way only, where longer graphemes of the section are taken first."""
        longest = sorted(own.graphemes_of(2) - {g for g in own.graphemes_of(2) if "-" in g}, key=len, reverse=True)
        pattern = re.compile("|".join(longest))
        for word in section(number):
            if not any("-" in g for g in graphemes(word)):
                assert pattern.findall(word["word"]) == graphemes(word)


def test_both_sections_use_what_they_have() -> None:
    used = {g for number in (1, 2) for word in section(number) for g in graphemes(word)}
    # after no sound do three words of the lexicon have one of these where the structures of the check would need it
    assert own.graphemes_of(2) - used <= {"zz", "ph", "air", "ew"}
    assert {w["structure"] for w in section(1)} == own.structures_of(1)
    assert {"CCVCC", "CCCVC", "CCCVCC", "CVC"} <= {w["structure"] for w in section(2)}
    assert any(w["syllables"] == 2 for w in section(2))


def test_readings_that_are_accepted() -> None:
    """Every plausible reading of a grapheme counts (scoring guidance)."""
    by_grapheme: dict[str, set[tuple[str, ...]]] = {}
    for word in section(2):
        if word["syllables"] > 1:
            continue
        for reading in word["readings"]:
            for g in reading["graphemes"]:
                by_grapheme.setdefault(g["grapheme"], set()).add(tuple(g["sounds"]))
    assert {("aʊ",), ("əʊ",)} <= by_grapheme["ow"]
    assert {("iː",), ("e",)} <= by_grapheme["ea"]
    assert {("uː",), ("ʊ",)} == by_grapheme["oo"]
    assert {("θ",), ("ð",)} == by_grapheme["th"]
    assert by_grapheme["oi"] == {("ɔɪ",)}
    assert by_grapheme["oa"] == {("əʊ",)}
    assert by_grapheme["ai"] == {("eɪ",)}
    assert by_grapheme["m"] == {("m",)}


def test_one_reading() -> None:
    words = made("--sections", "both", "--number", "60", "--one-reading")["words"]
    assert len(words) == 120
    assert all(len(w["readings"]) == 1 for w in words)
    assert any(len(w["readings"]) > 1 for w in section(2))


def test_american_accent() -> None:
    document = made("--sections", "both", "--number", "150", "--accent", "general-american")
    assert document["accents"] == ["general-american"]
    words = own.said_by_words("american")
    for word in document["words"]:
        for reading in word["readings"]:
            assert own.plain(reading["ipa"]) not in words, word["word"]


@pytest.mark.parametrize("step", [9, 14, 20, 27])
def test_made_of_what_is_taught(step: int) -> None:
    taught: set[str] = set()
    text = HARBOUR.read_text(encoding="utf-8")
    for number, block in re.findall(r"^step (\d+)(.*?)(?=^step|^allow)", text, flags=re.MULTILINE | re.DOTALL):
        if int(number) <= step:
            for line in re.findall(r"^  teach (.*)", block, flags=re.MULTILINE):
                taught |= {re.match(r"\S+", part)[0] for part in re.split(r", ", line)}  # type: ignore[index]
    words = made("--progression", str(HARBOUR), "--step", str(step), "--number", "15")["words"]
    assert len(words) == 15
    for word in words:
        assert set(graphemes(word)) <= taught, word["word"]
        assert step >= 12 or shape(word) in ("CVC", "VCC")
        assert step >= 15 or not shape(word).startswith("CCC")


def test_two_syllables() -> None:
    words = made("--progression", str(HARBOUR), "--syllables", "2", "--number", "40")["words"]
    assert {shape(w).count("V") for w in words} == {2}
    spelt = {w["word"] for w in words}
    assert not spelt & own.spellings() | spelt & own.counted()
    assert all(w["may_be_weakened"] for w in words)


def test_same_seed_same_words() -> None:
    one = made("--sections", "both", "--number", "20", "--seed", "5")
    made.cache_clear()
    assert made("--sections", "both", "--number", "20", "--seed", "5") == one
    assert made("--sections", "both", "--number", "20", "--seed", "6")["words"] != one["words"]


def test_caution_and_no_threshold(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pseudowords", "--progression", str(HARBOUR), "--number", "3"]) == 0
    text = capsys.readouterr().out
    assert "For an occasional look at how a child decodes; not for teaching, and not for homework." in text
    assert "There is no number that a child has to reach." in text
    assert not re.search(r"\b(threshold|pass|32)\b", text)


def test_text_and_csv_say_what_json_says(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    command = ["pseudowords", "--sections", "both", "--number", "6", "--seed", "3"]
    words = made(*command[1:])["words"]
    out = tmp_path / "words.csv"
    assert run([*command, "--output", str(out)]) == 0
    capsys.readouterr()
    table = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8"))))
    assert [row["word"] for row in table] == [w["word"] for w in words]
    assert [row["readings"].count("/") // 2 for row in table] == [len(w["readings"]) for w in words]
    assert run(command) == 0
    text = capsys.readouterr().out
    for word in words:
        line = next(x for x in text.splitlines() if f" {word['word']} " in x)
        assert all(f"/{reading['ipa']}/" in line for reading in word["readings"])
    assert "Section 1" in text
    assert "Section 2" in text


def test_letters_that_make_a_grapheme_together_do_not_meet() -> None:
    t, h, a = ("t", ("t",)), ("h", ("h",)), ("a", ("TRAP",))
    assert meets_falsely((a, t, h, a))
    assert not meets_falsely((a, ("th", ("th",)), a))
    # the e of a split digraph makes no grapheme with what it goes around
    assert not meets_falsely((("r", ("r",)), ("a-e", ("FACE",)), ("c", ("s",))))


SHORTAGE = re.compile(
    r"pseudowords: note: Only (\d+) invented words?.* can be made of what is taught by step (\d+) of .*\. "
    r"Ways to put it together like English words: ([\d,]+)\. Of these, words somewhere, like one in sound, or near a rude one: ([\d,]+)\."
)


@pytest.mark.parametrize("step", [5, 7, 9, 11])
def test_where_there_are_few_all_are_made_and_the_rest_is_accounted_for(
    step: int, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["pseudowords", "--progression", str(HARBOUR), "--step", str(step), "--format", "csv"]
    listed = []
    for seed in ("1", "2"):
        assert run([*command, "--number", "900", "--seed", seed]) == 0
        shown = capsys.readouterr()
        listed.append({row["word"] for row in csv.DictReader(io.StringIO(shown.out))})
        match = SHORTAGE.match(shown.err)
        assert match, shown.err
        words, told_step, ways, unfit = (int(x.replace(",", "")) for x in match.groups())
        assert (words, told_step, words + unfit) == (len(listed[-1]), step, ways)
        assert len(shown.err.splitlines()) == 2
    assert listed[0] == listed[1]
    # asked for no more than there are, they are made without a word
    assert run([*command, "--number", str(words)]) == 0
    assert capsys.readouterr().err == ""


def test_early_steps_have_few_because_nearly_all_is_a_word() -> None:
    """What hinders is English, not the drawing: of what three letters of the first steps can spell, wordfreq's list and the rule files
    leave next to nothing (the source: wordfreq's list)."""
    consonants, vowels = (
        "pntmshdrgclbfwk",
        "aeiou",
    )  # steps 1 to 5 of the demo; no word ends in h, w or r, or in c as a sound
    strings = {c + v + d for c in consonants for v in vowels for d in consonants if d not in "hwrc"}
    assert len(strings) == 825
    assert len(strings - own.spellings() - own.counted()) <= 5


def test_a_section_without_words_leaves_the_other(capsys: pytest.CaptureFixture[str]) -> None:
    command = ["pseudowords", "--sections", "both", "--progression", str(HARBOUR), "--step", "2", "--number", "3"]
    assert run([*command, "--format", "json"]) == 0
    shown = capsys.readouterr()
    assert {w["section"] for w in json.loads(shown.out)["words"]} == {2}
    assert "No invented word of section 1 can be made" in shown.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--number", "3"], "No progression is given."),
        (["--number", "0", "--sections", "1"], "1 to 1000 words can be made."),
        (["--sections", "1", "--syllables", "2"], "A section of the screening check has its own structures."),
        (["--sections", "1", "--accent", "scotish"], "There is no accent called 'scotish'."),
        (["--progression", str(HARBOUR), "--step", "1"], "No invented word can be made of what is taught by step 1"),
        (["--sections", "1", "--step", "9"], "No progression is given that has this step."),
    ],
)
def test_bad_input_is_one_clear_message(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["pseudowords", *arguments]) == 2
    shown = capsys.readouterr()
    assert said in shown.err
    assert shown.out == ""
    assert len(shown.err.splitlines()) == 2, "one message, and what to do"


def test_configuration_is_found(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    for name in ("decodecheck.toml", "harbour-lane.progression"):
        shutil.copy(DEMO / name, tmp_path)
    monkeypatch.chdir(tmp_path)
    assert run(["pseudowords", "--group", "Limpets", "--number", "2"]) == 0
    assert "step 20 of Harbour Lane order of teaching" in capsys.readouterr().out
