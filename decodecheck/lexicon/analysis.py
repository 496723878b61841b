"""From a spelling with its pronunciation to graphemes: endings and compounds first, then the aligner within the parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Protocol

from decodecheck.lexicon.endings import Split, attach, loose, splits
from decodecheck.phonics.align import Alignment, Segment, align
from decodecheck.phonics.sounds import split_stress
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

SHORT_HALVES = frozenset(("up", "in", "on", "to", "by", "no", "so", "be", "my", "go"))
"""Two-letter words that make compounds (into, upon, makeup)."""


class Words(Protocol):
    """The other words that an analysis may ask about."""

    def known(self, word: str) -> Sequence[str]:
        """Pronunciations of a known word in its everyday senses; none for an unknown one."""

    def common(self, word: str) -> bool:
        """Is the word common enough to be a base or a half of a compound?"""

    def is_name(self, word: str) -> bool:
        """Is the word only a name? A name takes no ending but 's."""


GRAMMATICAL = frozenset(("-s", "-es", "-ed", "-ing", "'s", "n't", "'ll", "'ve", "'re", "'d", "'m"))
"""Endings that any word may take; before the others (-er, -y, ...) a rare base is more likely an accident."""


@dataclass(frozen=True, slots=True)
class EndingSpan:
    """Which segments (from, to) of a word are an ending."""

    ending: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Analysis:
    """A segmented word with its parts.

    `of_base` gives, for a segment that an ending has changed (the a of *making*), the segment of the base (a-e).
    `joins` are letter positions where parts of a word meet. `cost` is the aligner's.
    """

    segments: tuple[Segment, ...]
    cost: int
    endings: tuple[EndingSpan, ...] = ()
    of_base: dict[int, Segment] = field(default_factory=dict)
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
    sounds, stresses = split_stress(pronunciation)
    if depth:
        sound = loose(pronunciation)
        for split in splits(word):
            if (word, split.ending) in not_endings():
                continue
            if split.ending not in GRAMMATICAL and not words.common(split.base):
                continue
            if split.ending != "'s" and words.is_name(split.base):
                continue
            for base_pronunciation in words.known(split.base):
                for built, ending_sounds in attach(split.base, base_pronunciation, split.ending, lexicon):
                    if loose(built) != sound:
                        continue
                    found = _with_ending(
                        word,
                        split,
                        ending_sounds,
                        base_pronunciation,
                        sounds,
                        stresses,
                        lexicon,
                        words,
                        guide,
                        depth,
                    )
                    if found:
                        return found
        halves = compound(word, pronunciation, words)
        if halves:
            at, token, linked = halves
            raw = pronunciation.split(" ")
            inner = frozenset((a - at, b - at) for a, b in guide if a >= at)
            left = analyse(word[:at], " ".join(raw[:token]), lexicon, words, guide, depth - 1)
            right = analyse(word[at:], " ".join(raw[token:]), lexicon, words, inner, depth - 1)
            if left and right and not linked and not any(s.irregular for s in (*left.segments, *right.segments)):
                return _joined(left, right, at)
            whole = align(word, sounds, stresses, lexicon, joins={at: token}, guide=guide)
            if whole and not whole.irregular:
                return Analysis(whole.segments, whole.cost, joins=frozenset((at,)))
    whole = align(word, sounds, stresses, lexicon, guide=guide)
    return Analysis(whole.segments, whole.cost) if whole else None


def _with_ending(
    word: str,
    split: Split,
    ending_sounds: int,
    base_pronunciation: str,
    sounds: tuple[str, ...],
    stresses: tuple[bool, ...],
    lexicon: str,
    words: Words,
    guide: frozenset[tuple[int, int]],
    depth: int,
) -> Analysis | None:
    base = analyse(split.base, base_pronunciation, lexicon, words, depth=depth - 1)
    start = split.start
    if ending_sounds == 2 and split.ending == "-s" and word.endswith("es"):
        start -= 1  # horse + s: the e is sounded with the ending
    at_token = len(sounds) - ending_sounds
    joins = {start: at_token}
    if base:
        base_sounds = split_stress(base_pronunciation)[0]
        for join in base.joins:
            token = _token_at(base.segments, join, lexicon)
            if join < start and base_sounds[:token] == sounds[:token]:
                joins[join] = token
    found: Alignment | None = align(
        word, sounds, stresses, lexicon, joins=joins, endings=frozenset((start, start + 1)), guide=guide
    )
    if found is None or (found.irregular and base and not any(s.irregular for s in base.segments)):
        return None
    segments = found.segments
    first = next((i for i, s in enumerate(segments) if s.letters[0] >= start), len(segments))
    of_base: dict[int, Segment] = {}
    spans = [
        EndingSpan("-es" if split.ending == "-s" and ending_sounds == 2 else split.ending, first, len(segments) - 1)
    ]
    if base and len(base.segments) == first:
        for i, (own, old) in enumerate(zip(segments, base.segments)):
            if own.grapheme != old.grapheme and _respelt(own, old):
                of_base[i] = base.of_base.get(i, old)
        of_base.update({i: s for i, s in base.of_base.items() if i not in of_base})
        spans = [*base.endings, *spans]
    return Analysis(segments, found.cost, tuple(spans), of_base, frozenset(joins))


def _joined(left: Analysis, right: Analysis, at: int) -> Analysis:
    """Two parts of a compound as one word; only the last part's endings are the word's."""
    n = len(left.segments)
    moved = tuple(replace(s, letters=tuple(i + at for i in s.letters)) for s in right.segments)
    return Analysis(
        left.segments + moved,
        left.cost + right.cost,
        tuple(EndingSpan(e.ending, e.first + n, e.last + n) for e in right.endings),
        {**left.of_base, **{i + n: s for i, s in right.of_base.items()}},
        left.joins | {at} | {i + at for i in right.joins},
    )


def _token_at(segments: tuple[Segment, ...], letter: int, lexicon: str) -> int:
    from decodecheck.phonics.sounds import reference_accent, tokens

    accent = reference_accent(lexicon)
    return sum(len(tokens(s.sound, s.linked, accent)) for s in segments if s.letters[0] < letter)


def _respelt(own: Segment, old: Segment) -> bool:
    """Is `own` what an ending makes of a base's segment: a doubled letter, a dropped e, y turned to i?"""
    if own.sound != old.sound:
        return (own.grapheme, old.grapheme) == ("l", "le")
    doubled = own.grapheme == old.grapheme + old.grapheme[-1] or (own.grapheme, old.grapheme) == ("ck", "c")
    dropped = old.grapheme in (own.grapheme + "e", own.grapheme + "-e")
    y_to_i = (old.grapheme == "y" and own.grapheme in ("i", "ie")) or (own.grapheme, old.grapheme) == ("y", "ie")
    return doubled or dropped or y_to_i


@cache
def suffixes() -> dict[str, tuple[str, ...]]:
    """Final parts of words that are no endings a progression names (ment, less): letters to pronunciations."""
    return _parts("-")


@cache
def prefixes() -> dict[str, tuple[str, ...]]:
    """First parts of words (un, inter), likewise."""
    return _parts("")


def _parts(lead: str) -> dict[str, tuple[str, ...]]:
    return {
        row["letters"].strip("-"): tuple(p.strip() for p in row["pronunciations"].split("|"))
        for row in read_table(rules_folder() / "word_parts.tsv")
        if row["letters"].startswith("-") == bool(lead)
    }


def compound(word: str, pronunciation: str, words: Words) -> tuple[int, int, bool] | None:
    """Where a closed compound divides, if both halves are common words whose sounds add up.

    Returns letter, token, and whether an r links the halves (earache).
    """
    best: tuple[int, int, bool] | None = None
    sound = loose(pronunciation)
    for at in range(2, len(word) - 1):
        left, right = word[:at], word[at:]
        heads: Sequence[str] = prefixes().get(left, ())
        if not heads:
            if (len(left) < 3 and left not in SHORT_HALVES) or not words.common(left):
                continue
            heads = words.known(left)
        tails: Sequence[str] = suffixes().get(right, ())
        if not tails:
            if (len(right) < 3 and right not in SHORT_HALVES) or not words.common(right):
                continue
            tails = words.known(right)
        for one in heads:
            if not sound.startswith(loose(one)):
                continue
            for other in tails:
                for joint in ("", " r"):
                    if loose(f"{one}{joint} {other}") == sound:
                        # the longer left half: bath+time, not the other way round
                        best = (at, len(one.split(" ")) + bool(joint), bool(joint))
    return best
