"""Which spelling a sound has where it stands: counted over the words that a young child is likeliest to meet.

A child who writes a word knows its sounds, and what stands around each: *ay* comes at the end, *ck* after a short vowel, *k* before
the sound of *e* or *i*. So each sound is counted by its place in the word, by what comes before it and after it, and by whether the
word has one syllable; and only spellings that have been taught are weighed against each other. The sounds of endings are counted
by themselves: that *hand* ends in *d* is no choice against the *ed* of *planned*.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from math import log2

import numpy as np
import numpy.typing as npt

from decodecheck.lexicon.items import GPC, Item
from decodecheck.phonics.sounds import has_vowel, project
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.columns import MARKS, PLACES, Columns, Numbers, spread
from decodecheck.wordlists.likely import likely_column

COUNTED = 5000
"""How many of the likeliest words are counted, each once."""
SHORT_VOWELS = frozenset(("TRAP", "DRESS", "KIT", "LOT", "STRUT"))
"""Vowels after which a sound is doubled or spelt ck, tch, dge."""
FRONT_VOWELS = frozenset(("DRESS", "KIT", "FLEECE", "HAPPY", "NEAR", "PRICE"))
"""Vowels before which c and g are seldom hard: their usual letters are e, i and y."""
NOTHING, SHORT, VOWEL, CONSONANT = range(4)
FRONT = SHORT
WEIGHT = 3.0
"""So many words count for what holds of the sound in general, when it is weighed against what holds in its surroundings."""
MOST_BITS = 6.0
"""More is never told of one spelling: of rare ones the counts say no more than that they are rare."""
LEAST = 0.1
"""What a spelling counts that no counted word has."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The spelling of one sound of a word: the grapheme (of a base: the a-e of saved, the er of referring), how likely it is among those taught, and the likeliest of them."""

    grapheme: str
    likelihood: float
    usual: str

    @property
    def bits(self) -> float:
        """How much a child has to know beyond the sound: 0 where there is nothing to choose, 1 for one of two that are as
        likely; MOST_BITS at the most."""
        return min(MOST_BITS, -log2(self.likelihood))


@dataclass(frozen=True, slots=True)
class Rows:
    """One row for each grapheme of some readings that has a sound: which of them (`owner`), and what surrounds it.
    In an ending, sounds have numbers of their own."""

    owner: Numbers
    sound: Numbers
    grapheme: Numbers
    context: Numbers
    """Place, what comes before, what comes after, whether the word has one syllable, in one number."""


class SpellingChoices:
    """How likely each spelling is at a step of a teaching order."""

    def __init__(self, columns: Columns, order: TeachingOrder, step: int) -> None:
        self.columns, self.order, self.step = columns, order, step
        forms = columns.tables.forms
        self.graphemes = list(dict.fromkeys(chain.from_iterable((g, _undoubled(g)) for g, _, _, _ in forms)))
        number = {g: n for n, g in enumerate(self.graphemes)}
        sounds: dict[tuple[str, ...], int] = {}
        # the ar of separate is chosen among the spellings of the same sound: the r that links it to a vowel gives it no others
        said = [
            -1 if g in MARKS or not s else sounds.setdefault(project(g, s, False, columns.accent), len(sounds))
            for g, s, _, _ in forms
        ]
        self._sounds = sounds
        self._form_sound = np.array(said, np.int64)
        self._form_grapheme = np.array([number[_undoubled(g) if s else g] for g, s, _, _ in forms], np.int64)
        self._before = np.array([_class(sound, -1, SHORT_VOWELS) for _, sound, _, _ in forms], np.int64)
        self._after = np.array([_class(sound, 0, FRONT_VOWELS) for _, sound, _, _ in forms], np.int64)
        self._known: dict[tuple[int, int, int], Choice] = {}

    def rows(self, readings: Numbers) -> Rows:
        """The rows of some readings, in order."""
        columns = self.columns
        at, owner = spread(columns.reading_unit, readings)
        units = columns.units[at]
        flat, unit_at = spread(columns.unit_form, units)
        form, owner = columns.form_flat[flat], owner[unit_at]
        place = columns.unit_place[units[unit_at]].astype(np.int64)
        ending = columns.ending_units[units[unit_at]]
        heard = self._form_sound[form] >= 0
        form, owner, place, ending = form[heard], owner[heard], place[heard], ending[heard]
        first = np.concatenate((np.ones(1, bool), owner[1:] != owner[:-1]))[: len(owner)]
        last = np.concatenate((first[1:], np.ones(1, bool)))[: len(owner)]
        by_position = np.where(first, 0, np.where(last, 2, 1))
        place = np.where(place < 0, by_position, place)
        before = np.where(first, NOTHING, np.roll(self._before[form], 1))
        after = np.where(last, NOTHING, np.roll(self._after[form], -1))
        single = (columns.syllables(readings) < 2)[owner].astype(np.int64)
        context = ((place * 4 + before) * 4 + after) * 2 + single
        sound = self._form_sound[form] + len(self._sounds) * ending
        split = self._split[units[unit_at][heard]]
        return Rows(owner, sound, np.where(split >= 0, split, self._form_grapheme[form]), context)

    @cached_property
    def _split(self) -> Numbers:
        """For each unit, the split digraph that its letter stands for before an ending (the a of saved, as in save); else -1."""
        number = {g: n for n, g in enumerate(self.graphemes)}
        of_item = [
            number.get(i.grapheme, -1) if i.kind == GPC and "-" in i.grapheme else -1 for i in self.columns.tables.items
        ]
        return self.columns.of_single_units(np.array(of_item, np.int64))

    @cached_property
    def _counts(self) -> tuple[dict[int, dict[int, float]], ...]:
        """How often each grapheme spells a sound: of the sound, by its place, by all that surrounds it."""
        columns = self.columns
        how = np.asarray(likely_column()).astype(np.int64)
        how[np.asarray(columns.tables.is_name) != 0] = 0
        how[np.diff(columns.first_reading) == 0] = 0
        most = min(COUNTED, len(how) - 1)
        likeliest = np.argpartition(-how, most)[:most]
        rows = self.rows(columns.first_reading[likeliest])
        whole: npt.NDArray[np.int64] = (rows.sound * 128 + rows.context) * len(self.graphemes) + rows.grapheme
        found: tuple[dict[int, dict[int, float]], ...] = ({}, {}, {})
        for key, count in Counter(whole.tolist()).items():
            rest, grapheme = divmod(key, len(self.graphemes))
            for level, name in zip(found, _names(*divmod(rest, 128))):
                row = level.setdefault(name, {})
                row[grapheme] = row.get(grapheme, 0) + count
        return found

    @cached_property
    def _taught(self) -> dict[int, set[int]]:
        """The graphemes that have been taught for each sound."""
        found: dict[int, set[int]] = {}
        number = {g: n for n, g in enumerate(self.graphemes)}
        for grapheme, sound, linked, irregular in self.columns.tables.forms:
            if not sound or linked or irregular:
                continue
            items = (Item.gpc(grapheme, sound, place) for place in PLACES)
            if min(map(self.order.step_of, items)) <= self.step:
                said = self._sounds.get(project(grapheme, sound, False, self.order.accent))
                if said is not None:
                    found.setdefault(said, set()).add(number[_undoubled(grapheme)])
        return found

    def choice(self, sound: int, context: int, grapheme: int) -> Choice:
        """How likely a spelling of a sound is where it stands, among the spellings taught so far and itself."""
        key = sound, context, grapheme
        known = self._known.get(key)
        if known is None:
            # in order, so that two that are as likely come out the same every time
            options = sorted({*self._taught.get(sound % len(self._sounds), ()), grapheme})
            share = dict.fromkeys(options, 1 / len(options))
            for number, (level, name) in enumerate(zip(self._counts, _names(sound, context))):
                counts = level.get(name, {})
                weight = LEAST * len(options) if not number else WEIGHT
                total = sum(counts.get(o, 0) for o in options) + weight
                share = {o: (counts.get(o, 0) + weight * share[o]) / total for o in options}
            usual = max(options, key=lambda o: share[o])
            known = self._known[key] = Choice(self.graphemes[grapheme], share[grapheme], self.graphemes[usual])
        return known

    def choices(self, readings: Numbers) -> list[list[Choice]]:
        """The choices of each of some readings."""
        rows = self.rows(readings)
        found: list[list[Choice]] = [[] for _ in readings]
        for owner, sound, context, grapheme in zip(
            rows.owner.tolist(), rows.sound.tolist(), rows.context.tolist(), rows.grapheme.tolist()
        ):
            found[owner].append(self.choice(sound, context, grapheme))
        return found


def _undoubled(grapheme: str) -> str:
    """What is chosen for the vowel of an r-vowel with two r: the er of referring, as in refer. That r is doubled is counted by itself."""
    return grapheme[:-1] if len(grapheme) > 2 and grapheme.endswith("rr") else grapheme


def _names(sound: int, context: int) -> tuple[int, int, int]:
    """Under what a sound is counted: by itself, with its place, with all that surrounds it."""
    return sound, sound * 3 + context // 32, sound * 128 + context


def _class(sound: tuple[str, ...], end: int, special: frozenset[str]) -> int:
    """What a neighbour is: a vowel of a special kind, another one, a consonant."""
    if not sound:
        return CONSONANT
    if sound[end] in special:
        return SHORT
    return VOWEL if has_vowel(sound[end : end + 1 or None]) else CONSONANT
