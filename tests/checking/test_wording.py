"""What a finding offers: names and sound-words are never to be replaced, rare spellings never to be taught."""

from __future__ import annotations

from pathlib import Path

import pytest

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.cli.main import run
from decodecheck.judging.judge import Judge
from decodecheck.lexicon.lookup import Lookup
from decodecheck.phonics.shape_names import EXAMPLES, in_words
from decodecheck.progression.resolve import load
from decodecheck.reports.check.text import render
from decodecheck.reports.view import View
from decodecheck.reports.words import Explainer, lines
from decodecheck.run import Run
from decodecheck.source import SourceText
from decodecheck.wordlists.shown import structure

ORDER = load(str(Path(__file__).parents[2] / "corpora_demo" / "harbour-lane.progression"))


def check(text: str, step: int = 10) -> TextReport:
    return Checker(Judge(ORDER, step)).check(SourceText("x.txt", text))


def remedies(text: str, step: int = 10) -> dict[str, str]:
    return {f.word: f.remedy for f in check(text, step).findings}


@pytest.mark.parametrize("text", ["Niamh ran.", "Then Zayn ran.", "Zog ran.", "Then Zofka's hat fell.", "NIAMH ran."])
def test_a_name_is_offered_to_be_allowed_first_and_never_to_be_replaced(text: str) -> None:
    (remedy,) = remedies(text).values()
    name = next(n for n in ("Niamh", "Zayn", "Zog", "Zofka") if n.lower() in text.lower())
    assert remedy.partition(" to the progression")[0].endswith(f"dd `allow names {name}`")
    assert "another word" not in remedy


@pytest.mark.parametrize("word", ["Shhh", "grrr", "Hmmm", "aaargh", "sploooosh", "vvvst"])
def test_a_sound_word_is_offered_to_be_allowed_first(word: str) -> None:
    assert remedies(word, 2)[word].startswith(
        f"If this is a sound-word, add `allow sounds {word.lower()}` to the progression."
    )


def test_a_listed_word_without_a_vowel_letter_is_no_sound_word() -> None:
    assert remedies("Mrs")["Mrs"] == "Use another word, or add `tricky Mrs` to a step of the progression."


def test_a_rare_spelling_is_taught_whole() -> None:
    assert remedies("a yacht")["yacht"] == "Use another word, or add `tricky yacht` to a step of the progression."
    assert remedies("some bread", 25)["bread"].endswith("or `teach ea as in head`.")


@pytest.mark.parametrize(
    ("word", "step", "remedy"),
    [
        ("it's", 12, "Write the short form in full (it is, did not), or save this text for step 25."),
        ("dog's", 12, "Use the word without 's, or save this text for step 25."),
        ("bigger", 12, "Use another word, or save this text for step 17."),
        ("jumped", 14, "Use the word without -ed, or save this text for step 19."),
        ("farmer's", 16, "Use another word, or save this text for step 25."),
    ],
)
def test_what_to_do_about_an_ending(word: str, step: int, remedy: str) -> None:
    assert remedies(word, step)[word] == remedy


def test_summaries_give_names_their_capital() -> None:
    text = "Then Niamh met McGregor on Monday. NIAMH ran."
    summary = "".join(render(Run((check(text),)), View()))
    assert all(name in summary for name in ("Niamh", "McGregor", "Monday"))
    assert not any(name in summary for name in ("niamh", "mcgregor", "monday"))


@pytest.mark.parametrize(("word", "divided"), [("it's", "i t 's"), ("didn't", "d i d n 't"), ("I'll", "i 'll")])
def test_explain_keeps_the_apostrophe(word: str, divided: str) -> None:
    explainer = Explainer("southern-british", None)
    assert next(line for line in lines(explainer.explain(word), None) if "/" in line).split("   ")[0].strip() == divided


@pytest.mark.parametrize("shape", EXAMPLES)
def test_the_example_of_a_structure_has_it(shape: str) -> None:
    assert shape in {structure(r) for r in Lookup("southern-british").readings(EXAMPLES[shape])}


def test_structures_in_words() -> None:
    assert in_words("CCVC") == "two consonants at the start (CCVC, as in stop)"
    assert in_words("CCVCC") == "two consonants at the start and at the end (CCVCC, as in stamp)"
    assert in_words("CCCVCC") == "three consonants at the start and two consonants at the end (CCCVCC, as in sprint)"
    assert in_words("CVC") == "the pattern CVC, as in cat"
    assert in_words("2 syllables") == "2 syllables"
    assert in_words("st") == "st side by side"


@pytest.mark.parametrize(
    ("word", "step", "said"),
    [
        # the letters are those that stand in the word, not those of the word that the ending was added to
        ("cried", 20, "The letters ie say /aɪ/ here, as y does in “my”; that comes at step 24."),
        ("baked", 20, "The letter a says /eɪ/ here, as a-e does in “cake”; that comes at step 21."),
        ("cry", 20, "The letter y says /aɪ/ here, as in “my”; that comes at step 24."),
        ("cake", 20, "The letters a-e say /eɪ/ here, as in “cake”; that comes at step 21."),
        # shown as f and ire, and read by the i-e of time
        ("fire", 20, "The letters i-e say /aɪ/ here, as in “time”; that comes at step 21."),
    ],
)
def test_the_letters_that_are_named_stand_in_the_word(word: str, step: int, said: str) -> None:
    assert [f.message for f in check(f"The {word}.", step).findings] == [said]


def test_each_sense_has_its_step(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    progression = tmp_path / "p.progression"
    progression.write_text("step 1\n  teach w, i as in sit, n, d\nstep 2\n  teach c, ir as in bird\n", encoding="utf-8")
    assert run(["explain", "wind", "T-shirt", "--progression", str(progression)]) == 0
    said = capsys.readouterr().out
    assert "/wɪnd/ (air): decodable from step 1 on" in said and "/waɪnd/ (turn): never readable" in said
    assert "said /" not in said and "V-CVC" in said


def test_short_for_a_longer_word() -> None:
    (finding,) = [f for f in check("Then Dr Hill sat.", 27).findings if f.word == "Dr"]
    assert finding.message == "This is short for a longer word, and is not sounded out."
    assert finding.remedy == "Use another word, or add `tricky Dr` to a step of the progression."
