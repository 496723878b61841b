"""Words that mean nearly what another one means, by WordNet's relations, and how sure that is.

A word has many senses and the texts that WordNet counted are for adults, so each relation asks for words that are mostly met in the senses
in which they are related. Which relations are looked at, and how sure they have to be, was set by reading what came of it on stories.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from decodecheck.insight.part_of_speech import CLASSES, tagged, usual_class
from decodecheck.lexicon.common_words import unfit_words
from decodecheck.lexicon.inflection import BASE, inflections
from decodecheck.lexicon.meanings import ADJECTIVE, NOUN, Meanings, Sense, meanings
from decodecheck.lexicon.store import tables
from decodecheck.lexicon.word_classes import word_class

SAME, NEAR, WIDER, NARROWER, ALIKE = KINDS = (
    "same meaning", "near in meaning", "a wider word", "a kind of it", "of the same kind",
)  # fmt: skip
"""What a word is to another, the nearest first."""
WEIGHTS = {SAME: 1.0, NEAR: 0.6, WIDER: 0.5, NARROWER: 0.4, ALIKE: 0.3}
LEAST_SURE = {SAME: 0.1, NEAR: 0.2, WIDER: 0.22, NARROWER: 0.25, ALIKE: 0.35}
"""How sure it has to be that both words are met in the senses that are related: the shares of these, multiplied."""
LEAST_LIKELY = {SAME: 3.2, NEAR: 3.3, WIDER: 3.3, NARROWER: 3.8, ALIKE: 3.8}
"""A word that is rarer in books for young children (`child_zipf`) is left out."""
SENSES = 2
"""So many senses of a word are looked at, the commonest first; for more than the same meaning or a similar adjective, the first."""
MOST_BESIDE = 30
"""Words of one kind, and kinds of a thing, are near each other only where there are no more of them: a friend and a ruler are both persons."""
MOST_NEAR = 15
"""The same of the adjectives that are similar to one."""
MOST_KINDS = 40
"""A wider word that has more kinds says too little: act, person."""
TOO_WIDE = frozenset(
    ("act", "change", "event", "express", "group", "object", "part", "person", "state", "thing", "unit")
)
"""Wider words that say too little, however few kinds they have here."""
UNMET = 0.3
"""What the shares of a word's senses are worth where none of several was ever met in the texts that were counted."""
PARTICIPIAL = 10
"""So many times as often as an adjective a verb may be met, of which it is a participle."""
UNUSUAL = 0.7
"""What the share of a word is worth as a part of speech that is not its usual one."""
LIKE_KINDS = frozenset(
    ("noun.animal", "noun.artifact", "noun.food", "noun.person", "noun.plant", "verb.body", "verb.communication", "verb.consumption",
     "verb.motion")
)  # fmt: skip
"""Categories in which a kind may do for the thing, and one of a kind for another: a bun for bread, a muffin for a biscuit, but no neck for
a face."""
UNLIKE = frozenset(("noun.person", "verb.body", "verb.communication"))
"""Of these only the first: a pal for a friend, but no porter for a drover, and no weeping for a laugh."""
MOTION = "verb.motion"
_NUMBER = "number"
_REMEMBERED = 1 << 12


@dataclass(frozen=True, slots=True)
class Related:
    """A base that is related to another: what it is to it (one of KINDS), how near, from 0 to 1, and how likely a child is to meet it."""

    word: str
    kind: str
    nearness: float
    child_zipf: float


@lru_cache(_REMEMBERED)
def related(base: str, pos: str, moving: bool = False) -> tuple[Related, ...]:
    """The bases that are related to a base as a part of speech, each once, by its nearest relation; `moving`: only for senses of motion.

    Raises UserError where the compiled lexicon is damaged.
    """
    known, found = meanings(), dict[str, Related]()
    for sense in known.senses(base):
        if sense.pos != pos or sense.number > SENSES or (moving and known.category(sense.set) != MOTION):
            continue
        if not _is_fit(sense.set):
            continue
        own = _sure(known, sense)
        for kind, other in _relations(known, sense):
            sure = own * _sure(known, other) * _share(known, other)
            often = _likely(other.word)
            if sure < LEAST_SURE[kind] or often < LEAST_LIKELY[kind] or other.word == base or not _is_base(other):
                continue
            if not _is_fit(other.set):
                continue
            before, nearness = found.get(other.word), WEIGHTS[kind] * sure
            if before is None or before.nearness < nearness:
                found[other.word] = Related(other.word, kind, nearness, often)
    return tuple(found.values())


@lru_cache(_REMEMBERED)
def _is_fit(number: int) -> bool:
    """Whether a set is fit for a classroom: one that an unsuitable word names is not, whatever else it is called (a seat that is a bottom)."""
    return all(unfit_words().get(other.word) != "unsuitable" for other in meanings().words(number))


def _likely(word: str) -> float:
    return tables().child_zipf[tables().number(word)] / 100


def _sure(known: Meanings, sense: Sense) -> float:
    """How sure it is that a word is meant in a sense, where nothing but its part of speech is known."""
    senses = [s for s in known.senses(sense.word) if s.pos == sense.pos]
    met = len(senses) == 1 or any(s.tagged for s in senses)
    return sense.share if met else sense.share * UNMET


def _share(known: Meanings, sense: Sense) -> float:
    """Which share of a word's uses are as the part of speech of a sense: a crack team is a rare thing, as cracks go."""
    times = Counter(dict.fromkeys((s.pos for s in known.senses(sense.word)), 0.5))
    for one in known.senses(sense.word):
        times[one.pos] += one.tagged
    usual = usual_class(sense.word)
    return times[sense.pos] / times.total() * (1 if usual in ("", CLASSES[sense.pos]) else UNUSUAL)


def _is_base(sense: Sense) -> bool:
    """Whether a word is not rather a form of a commoner one: WordNet has bigger, grinning and said as words of their own, an adjective
    that is a participle (broken) by right."""
    own = tagged(sense.word, sense.pos) * (PARTICIPIAL if sense.pos == ADJECTIVE else 1)
    return not any(i.ending != BASE and tagged(i.base, i.pos) > own for i in inflections(sense.word))


def _relations(known: Meanings, sense: Sense) -> Iterator[tuple[str, Sense]]:
    category = known.category(sense.set)
    yield from ((SAME, other) for other in known.words(sense.set))
    similar = known.near(sense.set)
    if len(similar) <= MOST_NEAR:
        yield from ((NEAR, other) for near in similar for other in known.words(near))
    if sense.number > 1:
        return
    if sense.pos == ADJECTIVE and len(similar) == 1 and word_class(sense.word) != _NUMBER:
        # similar to the same adjective: huge and vast to large
        beside = [s for s in known.near(similar[0]) if s != sense.set]
        yield from ((ALIKE, other) for near in beside for other in known.words(near))
    for wider in known.wider(sense.set) if sense.pos == NOUN or category == MOTION else ():
        if len(known.narrower(wider)) <= MOST_KINDS:
            yield from ((WIDER, other) for other in known.words(wider) if other.word not in TOO_WIDE)
    if category in LIKE_KINDS:
        yield from ((NARROWER, other) for other in _kinds(known, sense.set, sense.set))
    if category in LIKE_KINDS - UNLIKE:
        yield from ((ALIKE, other) for wider in known.wider(sense.set) for other in _kinds(known, wider, sense.set))


def _kinds(known: Meanings, wider: int, own: int) -> Iterator[Sense]:
    """The words for kinds of a thing, where these are few, and of the category of a set."""
    kinds = known.narrower(wider)
    if len(kinds) <= MOST_BESIDE:
        for kind in kinds:
            if kind != own and known.category(kind) == known.category(own):
                yield from known.words(kind)
