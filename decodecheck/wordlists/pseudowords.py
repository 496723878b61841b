"""Invented words: made like English ones, of what is taught, and no words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import TypeVar

from decodecheck.errors import Problem, UserError, count
from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.letters import lay_out, spell
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import Form, build_units
from decodecheck.phonics.align import VOWEL_LETTERS
from decodecheck.phonics.sounds import BRITISH, lexicon_of
from decodecheck.phonics.structure import pattern
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.measured import Measured, Run, Spelling, measured, words_of
from decodecheck.wordlists.plausible import readings, said, weakened
from decodecheck.wordlists.real_words import is_word, near_rude_by_letters, near_rude_by_sounds, sounds_like_a_word
from decodecheck.wordlists.screening_check import BUILT_IN, CVC, TWO_SYLLABLES, order_of_sections, sections

MOST = 1000
"""So many words are made at most, in each section."""
_IDLE = 5000
"""After so many draws of a structure that bring nothing new it is taken for used up."""
_SHORTEST = 3
"""Graphemes, and letters: what is shorter is a letter away from everything."""
_T = TypeVar("_T", bound=Hashable)


@dataclass(frozen=True, slots=True)
class PseudoWord:
    """An invented word: its graphemes as it was made, its structure, every reading that has to be accepted (its own first), and the
    section of the screening check whose rules it follows (0 for none)."""

    word: str
    graphemes: tuple[Spelling, ...]
    structure: str
    readings: tuple[tuple[Spelling, ...], ...]
    section: int = 0


@dataclass(frozen=True, slots=True)
class Wanted:
    """What invented words have to be.

    `taught` are teaching orders with a step of each: all that a word is made of has to be taught by all of them. `accents` are those
    in which it must sound like no word; its readings are told in the first. `syllables` is 1 or 2; `one_reading` leaves out words
    that may be read in several ways.
    """

    taught: tuple[tuple[TeachingOrder, int], ...]
    accents: tuple[str, ...]
    syllables: int = 1
    one_reading: bool = False
    section: int = 0


def pseudowords(wanted: Wanted, number: int, seed: int) -> list[PseudoWord]:
    """So many invented words; the same seed makes the same ones. Raises UserError where they are not to be had."""
    if not 1 <= number <= MOST:
        raise UserError(Problem("--number", f"1 to {MOST} words can be made.", f"Ask for 1 to {MOST}."))
    maker = _Maker(wanted, Random(f"{seed} {wanted.section}"))
    found: list[PseudoWord] = []
    for word in maker.words():
        found.append(word)
        if len(found) == number:
            return found
    raise UserError(_too_few(wanted, len(found)))


def of_section(section: int, accents: tuple[str, ...], taught: tuple[tuple[TeachingOrder, int], ...]) -> Wanted:
    """What the words of a section of the screening check have to be, taught by some orders besides."""
    return Wanted((*taught, (order_of_sections(accents[0]), section)), accents, section=section)


def _too_few(wanted: Wanted, number: int) -> Problem:
    what = "No invented word" if not number else f"No more than {count(number, 'invented word')}"
    ways = "" if not wanted.one_reading else ", leave --one-reading out"
    place = f" of section {wanted.section}" if wanted.section else ""
    todo = "Take a later step" if not number else f"Ask for --number {number}, take a later step"
    order, step = wanted.taught[0]
    taught = f" of what is taught by step {step} of {order.name}" if order.path != BUILT_IN else ""
    what = f"{what}{place} can be made{taught}."
    return Problem("pseudowords", what, f"{todo}{ways}, or take another seed.", code="too-few")


class _Maker:
    """Draws words from what is measured, and keeps those that are fit."""

    def __init__(self, wanted: Wanted, random: Random) -> None:
        self.wanted, self.random = wanted, random
        self.lexicon = lexicon_of(wanted.accents[0])
        self.measured: Measured = measured(self.lexicon, 2 if wanted.section else wanted.syllables)
        self._named = frozenset(g for n, s in sections().items() if n <= wanted.section for g in s.graphemes)
        """In a section of the screening check, the graphemes that are named; none elsewhere."""
        self._weights: dict[object, tuple[list[Run], list[int]]] = {}
        self._taught: dict[tuple[Spelling, str], bool] = {}

    def words(self) -> Iterator[PseudoWord]:
        """Fit words, each once, until no more are found; the structures of a section take turns."""
        section = sections().get(self.wanted.section)
        structures: list[str] = list(section.structures) if section else [""]
        idle = Counter[str]()
        seen: set[str] = set()
        while structures:
            structure = self.random.choice(structures)
            drawn = self._drawn(structure)
            word = spell([g for g, _ in drawn]) if drawn else ""
            found = None
            if drawn and word not in seen:
                seen.add(word)
                found = self._fit(word, drawn, structure)
            if found:
                idle[structure] = 0
                yield found
                continue
            idle[structure] += 1
            if idle[structure] >= _IDLE:
                structures.remove(structure)

    # -- drawing -------------------------------------------------------------------------------------------------------

    def _drawn(self, structure: str) -> tuple[Spelling, ...] | None:
        """Graphemes whose neighbours are measured ones, of a structure if one is named; None where the way ends."""
        two = structure == TWO_SYLLABLES or (not structure and self.wanted.syllables == 2)
        before, _, after = structure.partition("V") if structure and not two else ("", "", "")
        sizes = (len(before), len(after)) if before or after else None
        m = self.measured
        start = self._pick(("start", sizes and sizes[0]), m.first, "s", sizes and sizes[0])
        if start is None:
            return None
        last = start[-1] if start else None
        vowels = m.vowels_after.get(last)
        own = self._own_vowels() if structure == CVC else None
        if vowels and own is not None:
            vowels = Counter({v: times for v, times in vowels.items() if v[0] in own})
        vowel = self._pick(("vowel", last, own), _runs(vowels), "m" if start else "s")
        if not vowel:
            return None
        found = (*start, *vowel)
        if two:
            middle = self._pick(("middle", vowel), m.middles_after.get(vowel[0]), "m")
            second = middle and self._pick(("second", middle[-1]), _runs(m.seconds_after(middle[-1])), "me")
            if not middle or not second:
                return None
            found, vowel = (*found, *middle, *second), second
        end = self._pick(
            ("end", two, vowel, sizes and sizes[1]), m.ends_after[1 + two].get(vowel[0]), "e", sizes and sizes[1]
        )
        return None if end is None else (*found, *end)

    def _own_vowels(self) -> frozenset[str] | None:
        """In section 2 of the screening check, its own vowel graphemes: words with three sounds belong there only with these."""
        if self.wanted.section != 2:
            return None
        return frozenset(g for g in sections()[2].graphemes if g[0] in "aeiou")

    def _pick(self, key: object, counts: Mapping[Run, int] | None, places: str, size: int | None = None) -> Run | None:
        """One of some runs that are taught, the likelier the more words have it."""
        if key not in self._weights:
            usable = {
                run: times
                for run, times in (counts or {}).items()
                if (size is None or len(run) == size) and self._is_named(run, places)
            }
            self._weights[key] = list(usable), list(usable.values())
        runs, weights = self._weights[key]
        return self.random.choices(runs, weights)[0] if runs else None

    def _is_named(self, run: Run, places: str) -> bool:
        """Whether each grapheme of a run is taught as such at one of some places; what only comes with another (ff with f) is not."""
        return all(any(self._named_at(spelling, place) for place in {*places, "m"}) for spelling in run)

    def _named_at(self, spelling: Spelling, place: str) -> bool:
        key = spelling, place
        if key not in self._taught:
            # the n of bank is never named: what it comes with is looked at when the whole word is judged
            self._taught[key] = spelling == ("n", ("ng",)) or all(
                order.step_of(Item.gpc(*spelling, place)) <= step for order, step in self.wanted.taught
            )
        return self._taught[key]

    # -- judging -------------------------------------------------------------------------------------------------------

    def _fit(self, word: str, graphemes: tuple[Spelling, ...], structure: str) -> PseudoWord | None:
        """A drawn word with its readings, if it is fit."""
        if self._named and not all(g in self._named for g, _ in graphemes):
            return None
        if min(len(word), len(graphemes)) < _SHORTEST or meets_falsely(graphemes, self.lexicon):
            return None
        shape = self._shape(graphemes, structure)
        if shape is None or near_rude_by_letters(word):
            return None
        accepted: list[tuple[Spelling, ...]] = []
        for accent in self.wanted.accents:
            own = readings(graphemes, accent)
            accepted = accepted or own
            if self.wanted.one_reading and len(own) > 1:
                return None
            for heard in (*own, *weakened(graphemes)):
                sounds = said(heard, accent)
                if sounds_like_a_word(sounds, accent) or near_rude_by_sounds(sounds, accent):
                    return None
        # last, since it looks through a long list
        return None if is_word(word) else PseudoWord(word, graphemes, shape, tuple(accepted), self.wanted.section)

    def _shape(self, graphemes: Sequence[Spelling], structure: str) -> str | None:
        """The structure of a word; None where the word is not taught, or not one of its section."""
        segments = lay_out([_form(spelling) for spelling in graphemes])
        reading = Reading(segments, build_units(Analysis(segments, 0)), "predicted")
        if any(order.reading_step(reading) > step for order, step in self.wanted.taught):
            return None
        shape = pattern(segments)
        return shape if structure in ("", TWO_SYLLABLES, shape) else None


def _form(spelling: Spelling) -> Form:
    return (*spelling, False, False)


def _runs(counts: Counter[Spelling] | None) -> Mapping[Run, int] | None:
    return {(spelling,): times for spelling, times in counts.items()} if counts else None


_IN_WORDS = 5
"""In so many words of one syllable a grapheme stands that readers look for."""


def meets_falsely(graphemes: Sequence[Spelling], lexicon: str = BRITISH) -> bool:
    """Do letters of two neighbouring graphemes make a grapheme of their own, of consonants (t and h) or of a vowel (ea and r)?"""
    segments = lay_out([_form(spelling) for spelling in graphemes])
    owner = {i: n for n, segment in enumerate(segments) for i in segment.letters}
    word = spell([g for g, _ in graphemes])
    # neither the e of a split digraph nor the u of qu goes with its neighbours
    alone = {segment.letters[-1] for segment in segments if "-" in segment.grapheme or segment.grapheme == "qu"}
    return any(
        word[start:end] in _looked_for(lexicon)
        and len({owner[i] for i in range(start, end)}) > 1
        and alone.isdisjoint(range(start, end))
        for start in range(len(word))
        for end in range(start + 2, min(start + 4, len(word)) + 1)
    )


@cache
def _looked_for(lexicon: str) -> frozenset[str]:
    """Graphemes of several letters that readers look for: not the ti of station, nor the al of walk, which does not make one of tale."""
    found = Counter(
        grapheme for word in words_of(lexicon, 1) for run in word for grapheme, _ in run if len(grapheme) > 1
    )
    return frozenset(
        grapheme
        for grapheme, times in found.items()
        if times >= _IN_WORDS
        and "-" not in grapheme
        and grapheme[-1] not in "el"
        and (grapheme[0] in VOWEL_LETTERS or VOWEL_LETTERS.isdisjoint(grapheme))
    ) | {"ee", "oe", "ie", "ue", "ye"}
