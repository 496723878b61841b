"""Words of a person's own list described for a step, whether the lexicon lists them or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from decodecheck.lexicon.lookup import Found, Lookup, plain_spelling
from decodecheck.phonics.sounds import has_vowel
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.described import FoundWord, describe
from decodecheck.wordlists.effort import effort
from decodecheck.wordlists.shown import shown_segments, sound_count

YOURS = "yours"


def describe_any(order: TeachingOrder, step: int, words: Sequence[str]) -> list[FoundWord | None]:
    """Each of some words, as it is written, described for a step; None for one of which no reading is known.

    A word that the lexicon does not list is worked out from others or, failing that, from its spelling alone; what the progression pins
    goes before all. Of such a word neither the choice among spellings nor what else sounds like it is weighed, nor how common it is: its
    `effort` has no `choices`, `sounds_like` is empty, `common` and `likely` are 0.
    """
    lookup = Lookup(order.accent, order.pinned)
    return [
        _worked_out(lookup, order, step, word)
        if listed is None or _is_pinned(lookup, word)
        else replace(listed, word=word)
        for word, listed in zip(words, describe(order, step, words))
    ]


def _is_pinned(lookup: Lookup, word: str) -> bool:
    """Does a word go by a reading that the progression pins, its own or that of a word in it?"""
    return bool(lookup.pinned) and any(r.origin == YOURS for r in lookup.readings(plain_spelling(word).plain))


def _worked_out(lookup: Lookup, order: TeachingOrder, step: int, word: str) -> FoundWord | None:
    known = _readings(lookup, word)
    readings = [r for r in known.readings if not r.rare] or list(known.readings)
    if not readings:
        return None
    reading = next((r for r in readings if order.reading_step(r) <= step), readings[0])
    segments = shown_segments(reading)
    sounds = sound_count(reading, order.accent)
    opening = order.steps[0].number if order.steps else 0
    return FoundWord(
        # a stretched word (soooo) is its word
        word if known.word == plain_spelling(word).plain else known.word,
        reading,
        len(segments),
        sounds,
        sum(has_vowel(s.sound) for s in segments),
        max(order.reading_step(reading), opening),
        0.0,
        0.0,
        effort(reading, sounds, ()),
        (),
        (),
        "",
    )


def _readings(lookup: Lookup, word: str) -> Found:
    """The readings of a word by the shortest way that leads to any."""
    spelling = plain_spelling(word)
    found = lookup.find(spelling)
    if not found.readings and "-" in spelling.plain:
        found = lookup.joined(spelling)
    return found if found.readings else lookup.predicted(spelling)
