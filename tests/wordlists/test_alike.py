"""Words that sound alike, from their sounds alone."""

from __future__ import annotations

import numpy as np
import pytest

from decodecheck.lexicon.common_words import unfit_words
from decodecheck.phonics.sounds import project
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.alike import Alike
from decodecheck.wordlists.described import columns_of
from tests.checks.published import table
from tests.wordlists.asking import everything, found, harbour, words

NOT_FOUND: dict[str, str] = {}
"""Rows of homophones.tsv whose words are not found to sound alike, with the reason. There is none."""


def alike(order: TeachingOrder, *asked: str) -> dict[str, tuple[str, ...]]:
    columns = columns_of(order)
    known = columns.tables.words()
    numbers = np.array([columns.tables.numbers[word] for word in asked])
    return {known[n]: others for n, others in Alike(columns).words(numbers, known).items()}


# The source: England's national curriculum of 2013, Appendix 1, as the head of tests/data/published/homophones.tsv says.
def test_published_homophones_are_found() -> None:
    rows = [row for row in table("homophones.tsv") if row["type"] == "homophone"]
    missed = set()
    for row in rows:
        together = set(row["set"].replace("’", "'").split("/"))
        found_others = alike(harbour(), *together)
        if not all(together - {word} <= set(found_others.get(word, ())) for word in together):
            missed.add(row["set"])
    assert missed == set(NOT_FOUND)
    assert len(missed) <= 0.05 * len(rows) and len(rows) == 30


def test_near_homophones_are_not_taken_for_homophones() -> None:
    for row in table("homophones.tsv"):
        if row["type"] == "near-homophone":
            one, other = row["set"].split("/")
            assert other not in alike(harbour(), one).get(one, ())


def test_words_of_an_accent() -> None:
    british, american = harbour(), TeachingOrder("x", "x", "general-american")
    assert "farther" in alike(british, "father")["father"] and "farther" not in alike(american, "father").get(
        "father", ()
    )
    assert "caught" in alike(british, "court")["court"] and "caught" not in alike(american, "court").get("court", ())


def test_what_is_no_other_word() -> None:
    # two spellings of one word; a possessive; a word that nobody wants on the page; sounds that are drawn out
    assert "organize" not in alike(harbour(), "organise").get("organise", ())
    assert "color" not in alike(harbour(), "colour").get("colour", ())
    for word, others in alike(harbour(), "are", "but", "hours", "boys", "for", "as").items():
        assert not set(others) & {w for w, kind in unfit_words().items() if kind == "unsuitable"}, word
        assert not any(w.endswith("'s") or "hhh" in w for w in others), word


def test_a_list_apart_has_no_word_that_sounds_like_another() -> None:
    plain, apart = (found(everything(), 1, "ee", number=None, apart=a, common=3.0) for a in (False, True))
    told = {w.word for w in plain.words if w.sounds_like}
    assert {"see", "meet", "week"} <= told
    assert words(apart) == [w for w in words(plain) if w not in told]


@pytest.mark.parametrize("accent", ["southern-british", "general-american", "northern-english", "scottish"])
def test_readings_are_told_apart_by_sounds_as_they_are_written(accent: str) -> None:
    columns = columns_of(TeachingOrder("x", "x", accent))
    draw = np.random.default_rng(3).choice(len(columns.heard), 4000, replace=False)
    written: dict[str, int] = {}
    for number in draw.tolist():
        reading = columns.lexicon.reading(number)
        said = " ".join(part for s in reading.segments for part in project(s.grapheme, s.sound, s.linked, accent))
        assert written.setdefault(said, int(columns.heard[number])) == int(columns.heard[number])
    assert len(set(written.values())) == len(written)


def test_only_words_that_a_teacher_would_name_are_named() -> None:
    told = alike(harbour(), "knee", "meat", "buy", "home", "ball", "leak")
    assert "nee" not in told.get("knee", ()) and "mete" not in told["meat"] and set(told["buy"]) == {"bye", "by"}
    assert "home" not in told and told["ball"] == ("bawl",) and told["leak"] == ("leek",)
