"""A sound is named by a word: after `teach ew as in new`, new is not held back by its ew, in any accent."""

from __future__ import annotations

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.resolve import resolve
from tests.second_opinion.words import readings


@pytest.mark.parametrize("accent", ACCENTS)
def test_a_word_that_names_a_sound_has_it(accent: str) -> None:
    wrong = []
    for row in inventory().all:
        if row.place == "ending" or row.grapheme == "'":
            continue
        order, problems = resolve(f"accent {accent}\nstep 1\n  teach {row.grapheme} as in {row.key_word}\n", "x")
        every = [
            {s.key[1] for s in r.segments if s.key[0] == row.grapheme} for r in readings(accent, row.key_word.lower())
        ]
        # where the grapheme has two sounds in the word, or the word two readings, one of them is meant
        if [p for p in problems if not p.note] or len(set().union(*every)) != 1:
            continue
        if any(b.grapheme == row.grapheme for b in Judge(order, 1).judge(row.key_word).blockers):
            wrong.append(f"{row.grapheme} as in {row.key_word}")
    assert wrong == []


@pytest.mark.parametrize(
    ("accent", "lesson"),
    [
        # new has no /j/ in most of the United States (common practice in American dictionaries, from memory)
        ("general-american", "n; ew as in new"),
        ("general-american", "c, l, k; er as in clerk"),
        ("general-american", "c, a, p, t, n; ai as in captain"),
        ("southern-british", "v, n, l; i as in find, y as in vinyl"),
    ],
)
def test_a_lesson_makes_its_own_word_readable(accent: str, lesson: str) -> None:
    items = lesson.replace("; ", ", ")
    order, problems = resolve(f"accent {accent}\nstep 1\n  teach {items}\n", "x")
    assert not problems
    assert Judge(order, 1).judge(lesson.split()[-1]).status == "decodable"
