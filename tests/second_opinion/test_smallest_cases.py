"""Smallest cases of what the comparison of random words has found, each with what rules/SWITCHES.md says."""

from __future__ import annotations

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import resolve

LETTERS = (
    "a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z, s as in is, ck, sh, th, ch, ng"
)


def first(text: str, word: str) -> int:
    """The first step of a word; statements are divided by semicolons."""
    order, problems = resolve("\n".join(text.split("; ")) + "\n", "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return Judge(order, order.last).judge(word).first_step


@pytest.mark.parametrize(
    ("word", "base"),
    [("unrelated", "related"), ("unused", "used"), ("unnamed", "named"), ("unlined", "lined"), ("unpaved", "paved")],
)
@pytest.mark.parametrize("vowels", ["a-e, i-e, u-e", "a as in baby, i as in find, u as in music"])
def test_words_with_un_follow_their_words(word: str, base: str, vowels: str) -> None:
    # "words with un-, -ful and the like follow their words in the same way"
    text = f"step 1; teach {LETTERS}, -ed; teach {vowels}"
    assert first(text, word) == first(text, base)


@pytest.mark.parametrize(("word", "base"), [("untapped", "tapped"), ("unplanned", "planned"), ("unzipped", "zipped")])
def test_a_double_before_an_ending_stays_with_the_ending(word: str, base: str) -> None:
    # "Doubling, a dropped e and y to i belong to the ending"
    text = f"step 1; teach {LETTERS}, -ed; step 2; teach pp, nn"
    assert first(text, word) == first(text, base) == 1


@pytest.mark.parametrize("accent", ["southern-british", "general-american"])
@pytest.mark.parametrize(
    ("word", "base", "letters"),
    [
        ("menus", "menu", "m, e, n, u as in music, s"),
        ("bureaus", "bureau", "b, ur as in fury, eau as in plateau, s"),
        ("upped", "up", "u, p, -ed"),
        ("upping", "up", "u, p, i, ng"),
    ],
)
def test_a_form_follows_its_base(accent: str, word: str, base: str, letters: str) -> None:
    # "A form can be read exactly when its base can be read and its ending is known"; the voicing of -s is excused
    text = f"accent {accent}; step 1; teach {letters}; step 2; teach pp"
    assert first(text, word) == first(text, base) == 1


@pytest.mark.parametrize("word", ["hunted", "bashes"])
@pytest.mark.parametrize("exact", ["", "; weakened vowels exact"])
def test_the_e_of_an_ending_is_its_sound_or_its_short_one(word: str, exact: str) -> None:
    # "One that never stands is read by its letters": the e of hunted and bashes says /ɪ/, as that of rocket does
    assert first(f"step 1; teach h, u, n, t, d, s, b, a, sh; step 2; teach e as in rocket{exact}", word) == 2


@pytest.mark.parametrize("accent", ["southern-british", "general-american", "scottish"])
@pytest.mark.parametrize(
    ("word", "letters"), [("solely", "s, o-e, l"), ("wholly", "wh as in who, o-e, l"), ("sadly", "s, a, d, l")]
)
def test_ly_is_an_ending_after_l_too(accent: str, word: str, letters: str) -> None:
    # "A form can be read exactly when its base can be read and its ending is known"
    assert first(f"accent {accent}; step 1; teach {letters}; step 2; teach -ly", word) == 2


def test_worldly_is_world_and_ly() -> None:
    text = "accent general-american; step 1; teach w, or as in word, l, l as in settled, d; step 2; teach -ly"
    assert first(text, "world") == 1
    assert first(text, "worldly") == 2


@pytest.mark.parametrize("ending", ["er", "ed", "ing"])
def test_prowl_and_its_forms_are_one_judgement(ending: str) -> None:
    text = f"accent general-american; step 1; teach p, r, ow as in town, l; teach -{ending}"
    assert first(text, f"prowl{ending}") == first(text, "prowl") == 1


def test_manifest_is_one_word() -> None:
    # its i is not the last vowel of a word; nobody reads it as two
    assert first("step 1; teach m, a, n, i, f, e, s, t", "manifest") == 1
