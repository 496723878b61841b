"""Invented words: made like English ones, of what is taught, and no words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from random import Random

from decodecheck.errors import Problem, UserError, count
from decodecheck.lexicon.analysis import Analysis
from decodecheck.lexicon.beside import Spelling
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.letters import lay_out, spell
from decodecheck.lexicon.said import sounds_like_a_word
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import Form, build_units
from decodecheck.phonics.sounds import BRITISH, lexicon_of
from decodecheck.phonics.structure import pattern
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.measured import Measured, measured
from decodecheck.wordlists.plausible import readings, said, weakened
from decodecheck.wordlists.real_words import is_word, near_rude_by_letters, near_rude_by_sounds
from decodecheck.wordlists.screening_check import BUILT_IN, TWO_SYLLABLES, order_of_sections, sections
from decodecheck.wordlists.ways import Ways

MOST = 1000
"""So many words are made at most, in each section."""
_IDLE = 500
"""After so many draws of a structure that bring nothing new, what is left is looked through."""
_LOOKED_THROUGH = 50_000
"""More ways than these to put words together are not looked through; draws have brought most of what is there."""
_NO_WAY, _UNFIT, _AMBIGUOUS = (
    "not taught, too short, or not to be read so",
    "a word, or near a rude one",
    "read in several ways",
)
_SHORTEST = 3
"""Graphemes, and letters: what is shorter is a letter away from everything."""


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


@dataclass(frozen=True, slots=True)
class Shortage:
    """Why there are fewer words than asked for: how many there are, how many ways there are to put together what is taught, how many
    of these are out because they are words, sound like one or are near a rude one, and how many because they can be read in several
    ways. `whole` says whether all ways were tried, or only many."""

    words: int
    ways: int
    unfit: int
    ambiguous: int
    whole: bool


def pseudowords(wanted: Wanted, number: int, seed: int) -> tuple[list[PseudoWord], Shortage | None]:
    """So many invented words, the same ones for the same seed; or all there are, and why there are no more. Raises UserError for a
    number that cannot be meant."""
    if not 1 <= number <= MOST:
        raise UserError(Problem("--number", f"1 to {MOST} words can be made.", f"Ask for 1 to {MOST}."))
    maker = _Maker(wanted, Random(f"{seed} {wanted.section}"))
    found = list(islice(maker.words(), number))
    return found, maker.shortage(len(found)) if len(found) < number else None


def of_section(section: int, accents: tuple[str, ...], taught: tuple[tuple[TeachingOrder, int], ...]) -> Wanted:
    """What the words of a section of the screening check have to be, taught by some orders besides."""
    return Wanted((*taught, (order_of_sections(accents[0]), section)), accents, section=section)


def told(wanted: Wanted, shortage: Shortage) -> Problem:
    """What is said where there are fewer words than asked for: how many, and why."""
    number = shortage.words
    place = f" of section {wanted.section}" if wanted.section else ""
    order, step = wanted.taught[0]
    taught = f" of what is taught by step {step} of {order.name}" if order.path != BUILT_IN else ""
    only = f"Only {count(number, 'invented word')}" if number else "No invented word"
    what = f"{only}{place} {'can be made' if shortage.whole else 'could be found'}{taught}."
    if shortage.ways:
        what += f" Ways to put it together like English words{'' if shortage.whole else ' that were tried'}: {shortage.ways:,}."
        what += f" Of these, words somewhere, like one in sound, or near a rude one: {shortage.unfit:,}."
        what += f" To be read in several ways: {shortage.ambiguous:,}." if shortage.ambiguous else ""
    else:
        what += " It cannot be put together like an English word of three sounds or more."
    ways = [f"ask for --number {number}"] if number else []
    if order.path != BUILT_IN:
        ways.append("take a later step" if step < order.last else "teach more in the progression")
    if shortage.ways and not wanted.section and wanted.syllables == 1:
        ways.append("try --syllables 2")
    if shortage.ambiguous:
        ways.append("leave --one-reading out")
    if len(wanted.accents) > 1 or not ways:
        ways.append("name another accent, or fewer")
    ways[0] = ways[0].capitalize()
    *others, last = ways
    return Problem("pseudowords", what, ", ".join(others) + ", or " * bool(others) + last + ".", code="too-few")


class _Maker:
    """Draws words from what is measured, and keeps those that are fit."""

    def __init__(self, wanted: Wanted, random: Random) -> None:
        self.wanted, self.random = wanted, random
        self.lexicon = lexicon_of(wanted.accents[0])
        self.measured: Measured = measured(self.lexicon, 2 if wanted.section else wanted.syllables)
        self._named = frozenset(g for n, s in sections().items() if n <= wanted.section for g in s.graphemes)
        """In a section of the screening check, the graphemes that are named; none elsewhere."""
        self._ways = Ways(self.measured, wanted.taught, wanted.section, wanted.syllables)
        self._tried: dict[str, str] = {}
        """What became of each word that was tried."""
        self._whole = True

    def words(self) -> Iterator[PseudoWord]:
        """Fit words, each once, until there are no more; the structures of a section take turns."""
        section = sections().get(self.wanted.section)
        structures: list[str] = list(section.structures) if section else [""]
        idle = Counter[str]()
        while structures:
            structure = self.random.choice(structures)
            found = self._tried_out(self._ways.drawn(structure, self.random), structure)
            if found:
                idle[structure] = 0
                yield found
                continue
            idle[structure] += 1
            if idle[structure] >= _IDLE:
                structures.remove(structure)
                yield from self._rest(structure)

    def _rest(self, structure: str) -> Iterator[PseudoWord]:
        """What draws have not brought, where it is not too much to look through."""
        rest = list(islice(self._ways.all(structure), _LOOKED_THROUGH + 1))
        if len(rest) > _LOOKED_THROUGH:
            self._whole = False
            return
        self.random.shuffle(rest)
        yield from filter(None, (self._tried_out(graphemes, structure) for graphemes in rest))

    def _tried_out(self, graphemes: tuple[Spelling, ...] | None, structure: str) -> PseudoWord | None:
        """A word of some graphemes, if it is fit and has not been tried."""
        word = spell([g for g, _ in graphemes]) if graphemes else ""
        if not graphemes or word in self._tried:
            return None
        found = self._fit(word, graphemes, structure)
        self._tried[word] = found if isinstance(found, str) else ""
        return None if isinstance(found, str) else found

    def shortage(self, words: int) -> Shortage:
        """Why there are no more words than so many."""
        became = Counter(self._tried.values())
        ways = words + became[_UNFIT] + became[_AMBIGUOUS]
        return Shortage(words, ways, became[_UNFIT], became[_AMBIGUOUS], self._whole)

    # -- judging -------------------------------------------------------------------------------------------------------

    def _fit(self, word: str, graphemes: tuple[Spelling, ...], structure: str) -> PseudoWord | str:
        """A word with its readings, if it is fit; else why it is not."""
        if self._named and not all(g in self._named for g, _ in graphemes):
            return _NO_WAY
        if min(len(word), len(graphemes)) < _SHORTEST:
            return _NO_WAY
        shape = self._shape(graphemes, structure)
        if shape is None or meets_falsely(graphemes, self.lexicon):
            return _NO_WAY
        if near_rude_by_letters(word):
            return _UNFIT
        accepted: list[tuple[Spelling, ...]] = []
        ambiguous = False
        for accent in self.wanted.accents:
            own = readings(graphemes, accent)
            accepted = accepted or own
            ambiguous = ambiguous or len(own) > 1
            for heard in (*own, *weakened(graphemes)):
                sounds = said(heard, accent)
                if sounds_like_a_word(sounds, accent) or near_rude_by_sounds(sounds, accent):
                    return _UNFIT
        if self.wanted.one_reading and ambiguous:
            return _AMBIGUOUS
        # last, since it looks through a long list
        return _UNFIT if is_word(word) else PseudoWord(word, graphemes, shape, tuple(accepted), self.wanted.section)

    def _shape(self, graphemes: Sequence[Spelling], structure: str) -> str | None:
        """The structure of a word; None where the word is not taught, or not one of its section."""
        segments = lay_out([_form(spelling) for spelling in graphemes])
        shape = pattern(segments)
        # a reading asks for its shape, whatever else: most of what is drawn at an early step fails here, and quickly
        if any(order.step_of(Item.shape(shape)) > step for order, step in self.wanted.taught):
            return None
        reading = Reading(segments, build_units(Analysis(segments, 0)), "predicted")
        if any(order.reading_step(reading) > step for order, step in self.wanted.taught):
            return None
        return shape if structure in ("", TWO_SYLLABLES, shape) else None


def _form(spelling: Spelling) -> Form:
    return (*spelling, False, False)


def meets_falsely(graphemes: Sequence[Spelling], lexicon: str = BRITISH) -> bool:
    """Do letters of two neighbouring graphemes make a grapheme of their own, of consonants (t and h) or of a vowel (ea and r)?"""
    segments = lay_out([_form(spelling) for spelling in graphemes])
    owner = {i: n for n, segment in enumerate(segments) for i in segment.letters}
    word = spell([g for g, _ in graphemes])
    looked_for = measured(lexicon, 1).looked_for
    # neither the e of a split digraph nor the u of qu goes with its neighbours
    alone = {segment.letters[-1] for segment in segments if "-" in segment.grapheme or segment.grapheme == "qu"}
    return any(
        word[start:end] in looked_for
        and len({owner[i] for i in range(start, end)}) > 1
        and alone.isdisjoint(range(start, end))
        for start in range(len(word))
        for end in range(start + 2, min(start + 4, len(word)) + 1)
    )
