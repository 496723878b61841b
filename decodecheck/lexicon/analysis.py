"""From a spelling with its pronunciation to graphemes: endings and compounds first, then the aligner within the parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Protocol

from decodecheck.lexicon.compounds import compound
from decodecheck.lexicon.endings import (
    CONTRACTIONS,
    KEEPS_BASE,
    Split,
    attach,
    loose,
    splits,
    unstressed,
)
from decodecheck.phonics.align import Alignment, Segment, align
from decodecheck.phonics.sounds import reference_accent, split_stress, tokens
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table


class Words(Protocol):
    """The other words that an analysis may ask about."""

    def known(self, word: str) -> Sequence[str]:
        """Pronunciations of a known word in its everyday senses; none for an unknown one."""

    def common(self, word: str) -> bool:
        """Is the word common enough to be a base or a half of a compound?"""

    def is_name(self, word: str) -> bool:
        """Is the word only a name? A name takes no ending but 's."""

    def listed(self, word: str) -> bool:
        """Is the word one of the lexicon, not merely told from a form of it?"""

    def rank(self, word: str) -> float:
        """How common the word is: of two bases or halves, the commoner is meant."""


GRAMMATICAL = frozenset(("-s", "-es", "-ed", "-ing", "'s", *CONTRACTIONS))
"""Endings that any word may take; before the others (-er, -y, ...) a rare base is more likely an accident."""


@dataclass(frozen=True, slots=True)
class EndingSpan:
    """Which segments (from, to) of a word are an ending; none where `last` is before `first`."""

    ending: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Part:
    """A known word inside a word, said as it is by itself, and which segments (from, to) it covers."""

    word: str
    pronunciation: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Analysis:
    """A segmented word with its parts.

    `ending` is the word's last ending, `parts` the known words it is made of: the base, or the halves of a compound, or what
    stands beside a first or last part such as un- or -ful. `joins` are letter positions where parts meet. `cost` is the aligner's.
    """

    segments: tuple[Segment, ...]
    cost: int
    ending: EndingSpan | None = None
    parts: tuple[Part, ...] = ()
    joins: frozenset[int] = frozenset()


@cache
def not_endings() -> frozenset[tuple[str, str]]:
    """Words whose last letters only look and sound like an ending (corner, seed): (word, ending)."""
    return frozenset((row["word"], row["ending"]) for row in read_table(rules_folder() / "not_endings.tsv"))


def analyse(
    word: str,
    pronunciation: str,
    lexicon: str,
    words: Words,
    guide: frozenset[tuple[int, int]] = frozenset(),
    depth: int = 2,
) -> Analysis | None:
    """Segment a lower-case word said as `pronunciation` (tokens with stress).

    `words` knows the other words. Returns None where no alignment exists.
    """
    if "-" in word.strip("-"):
        return _hyphened(word, pronunciation, lexicon, words, depth)
    if depth:
        of_unlisted: Analysis | None = None
        for split, base, count in _bases(word, pronunciation, lexicon, words):
            found = _with_ending(word, split, count, base, pronunciation, lexicon, words, guide, depth)
            if found and words.listed(split.base):
                return found
            of_unlisted = of_unlisted or found
        found = _compound(word, pronunciation, lexicon, words, guide, depth) or of_unlisted
        if found:
            return found
    sounds, stresses = split_stress(pronunciation)
    whole = align(word, sounds, stresses, lexicon, guide=guide)
    return Analysis(whole.segments, whole.cost, _contracted(word, whole.segments)) if whole else None


def _bases(word: str, pronunciation: str, lexicon: str, words: Words) -> Iterator[tuple[Split, str, int]]:
    """Ways to take an ending off a word whose sounds add up, the commonest base first: (split, base's sounds, ending's count)."""
    sound = loose(pronunciation)
    found: list[tuple[float, int, Split, str, int]] = []
    for order, split in enumerate(splits(word)):
        if (word, split.ending) in not_endings():
            continue
        if split.ending not in GRAMMATICAL and not words.common(split.base):
            continue
        if split.ending != "'s" and words.is_name(split.base):
            continue
        by_letters = split.ending in CONTRACTIONS and word not in KEEPS_BASE
        fitting: list[tuple[int, int, str, int]] = []
        for base in words.known(split.base):
            built = attach(split.base, base, split.ending, lexicon)
            for likely, (form, count) in enumerate(built):
                if loose(form) == sound:
                    fitting.append((likely, _distance(form, pronunciation), base, count))
            if by_letters and not fitting:
                # you're, mustn't: said otherwise than you and must, written as they are
                fitting.append((len(built), 0, base, 0))
        if fitting:
            _, _, base, count = min(fitting, key=lambda f: f[:2])
            found.append((-words.rank(split.base), order, split, base, count))
    for _, _, split, base, fits in sorted(found, key=lambda f: f[:2]):
        yield split, base, fits


def _distance(one: str, other: str) -> int:
    """How far apart two pronunciations are that differ in weak vowels only: ɪ for ə is nearer than i for either."""
    pairs = zip(unstressed(one).split(" "), unstressed(other).split(" "))
    return sum(0 if a == b else 2 if "i" in (a, b) else 1 for a, b in pairs)


def _with_ending(
    word: str,
    split: Split,
    ending_sounds: int,
    base_pronunciation: str,
    pronunciation: str,
    lexicon: str,
    words: Words,
    guide: frozenset[tuple[int, int]],
    depth: int,
) -> Analysis | None:
    sounds, stresses = split_stress(pronunciation)
    base = analyse(split.base, base_pronunciation, lexicon, words, depth=depth - 1)
    start = split.start
    if ending_sounds == 2 and split.ending == "-s" and word.endswith("es"):
        start -= 1  # horse + s: the e is sounded with the ending
    if ending_sounds == 1 and split.ending == "-ly" and split.change == "":
        start += 1  # real + ly: one /l/ for both letters, so the ending's own is y
    joins = {start: len(sounds) - ending_sounds} if ending_sounds else {}
    if base:
        base_sounds = split_stress(base_pronunciation)[0]
        for join in base.joins:
            token = _token_at(base.segments, join, lexicon)
            if join < start and base_sounds[:token] == sounds[:token]:
                joins[join] = token
    found: Alignment | None = align(
        word, sounds, stresses, lexicon, joins=joins, endings=frozenset((start, start + 1)), guide=guide
    )
    if found is None or (ending_sounds and found.irregular and base and not any(s.irregular for s in base.segments)):
        return None
    segments = found.segments
    first = next((i for i, s in enumerate(segments) if s.letters[0] >= start), len(segments))
    name = "-es" if split.ending == "-s" and ending_sounds == 2 else split.ending
    span = EndingSpan(name, first, len(segments) - 1)
    part = Part(split.base, base_pronunciation, 0, first - 1)
    return Analysis(segments, found.cost, span, (part,), frozenset(joins))


def _contracted(word: str, segments: tuple[Segment, ...]) -> EndingSpan | None:
    """The ending of a contraction that has lost the sound of its base (don't, won't, can't)."""
    if word not in KEEPS_BASE:
        return None
    start = len(word) - 3
    first = next(i for i, s in enumerate(segments) if s.letters[0] >= start)
    return EndingSpan("n't", first, len(segments) - 1)


def _compound(
    word: str, pronunciation: str, lexicon: str, words: Words, guide: frozenset[tuple[int, int]], depth: int
) -> Analysis | None:
    halves = compound(word, pronunciation, words)
    if halves is None:
        return None
    at, token, linked, left_sound, right_sound = halves
    raw = pronunciation.split(" ")
    inner = frozenset((a - at, b - at) for a, b in guide if a >= at)
    left = analyse(word[:at], " ".join(raw[:token]), lexicon, words, guide, depth - 1)
    right = analyse(word[at:], " ".join(raw[token:]), lexicon, words, inner, depth - 1)
    if left and right and not linked and not any(s.irregular for s in (*left.segments, *right.segments)):
        moved = tuple(replace(s, letters=tuple(i + at for i in s.letters)) for s in right.segments)
        segments, cost = left.segments + moved, left.cost + right.cost
        joins = left.joins | {at} | {i + at for i in right.joins}
    else:
        sounds, stresses = split_stress(pronunciation)
        whole = align(word, sounds, stresses, lexicon, joins={at: token}, guide=guide)
        if not whole or whole.irregular:
            return None
        segments, cost, joins = whole.segments, whole.cost, frozenset((at,))
    first = next((i for i, s in enumerate(segments) if s.letters[0] >= at), len(segments))
    spans = ((word[:at], left_sound, 0, first - 1), (word[at:], right_sound, first, len(segments) - 1))
    return Analysis(segments, cost, parts=tuple(Part(w, p, a, b) for w, p, a, b in spans if p), joins=joins)


def _hyphened(word: str, pronunciation: str, lexicon: str, words: Words, depth: int) -> Analysis | None:
    """A word with hyphens (yo-yo): its letters without them; each hyphen stands between parts and says nothing."""
    places = [i for i, letter in enumerate(word) if letter != "-"]
    plain = analyse("".join(word[i] for i in places), pronunciation, lexicon, words, depth=0)
    if plain is None:
        return None
    moved = [replace(s, letters=tuple(places[i] for i in s.letters)) for s in plain.segments]
    hyphens = [Segment("-", (), False, False, (i,), True) for i, letter in enumerate(word) if letter == "-"]
    segments = tuple(sorted((*moved, *hyphens), key=lambda s: s.letters[0]))
    joins = {at for s in hyphens for at in (s.letters[0], s.letters[0] + 1)}
    return Analysis(segments, plain.cost, joins=frozenset(joins))


def _token_at(segments: tuple[Segment, ...], letter: int, lexicon: str) -> int:
    accent = reference_accent(lexicon)
    return sum(len(tokens(s.sound, s.linked, accent)) for s in segments if s.letters[0] < letter)
