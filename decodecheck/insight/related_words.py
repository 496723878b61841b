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
from decodecheck.lexicon.meanings import ADJECTIVE, ADVERB, NOUN, VERB, Meanings, Sense, meanings
from decodecheck.lexicon.store import tables
from decodecheck.lexicon.word_classes import word_class

SAME, NEAR, WIDER, NARROWER, ALIKE = KINDS = (
    "same meaning", "near in meaning", "a wider word", "a kind of it", "of the same kind",
)  # fmt: skip
"""What a word is to another, the nearest first."""
WEIGHTS = {SAME: 1.0, NEAR: 0.6, WIDER: 0.5, NARROWER: 0.4, ALIKE: 0.3}
LEAST_SURE = {SAME: 0.1, NEAR: 0.35, WIDER: 0.22, NARROWER: 0.45, ALIKE: 0.38}
"""How sure it has to be that both words are met in the senses that are related: the shares of these, multiplied."""
LEAST_LIKELY = {SAME: 3.2, NEAR: 3.85, WIDER: 3.5, NARROWER: 3.8, ALIKE: 3.8}
"""A word that is rarer in books for young children (`child_zipf`) is left out."""
MOST_RARER = 2.5
"""So is one that is so much rarer there (of Zipf) than the word it would stand for: no mortal for a person, no dwelling for a home."""
WELL_KNOWN = 4.0
"""A rarer word has to be met in the books for children that were counted: no ness for a cape."""
SURE_ADVERB = 0.5
"""How sure it has to be of adverbs, whose place in the sentence goes with their sense: no yet for hitherto."""
SURE_ABSTRACT = 0.5
"""How sure of its own sense a noun has to be that names nothing to be seen or touched, since many live in set phrases: the way."""
CONCRETE = frozenset(
    ("noun.animal", "noun.artifact", "noun.body", "noun.event", "noun.food", "noun.location", "noun.object", "noun.person",
     "noun.plant", "noun.shape", "noun.substance")
)  # fmt: skip
"""Categories of nouns that name what can be seen or touched."""
TOO_COMMON = 500
"""A word that WordNet's texts have so often as a part of speech (say, make, person) stands there for its grammar as much as for its meaning:
nothing is near enough."""
SENSES = 2
"""So many senses of a word are looked at, the commonest first; for more than the same meaning or a similar adjective, the first."""
MOST_BESIDE = 12
"""Words of one kind, and kinds of a thing, are near each other only where there are no more of them: a stair and a shelf both bear something."""
MOST_MANNERS = 80
"""The same of the kinds of what a verb says, which are ways of doing it: to stroll is to walk."""
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
EVERYDAY = 4.5
"""A word of which a child knows what it means (`child_zipf`)."""
MOTION, SAYING = "verb.motion", "verb.communication"
WITH_KINDS = frozenset(("noun.animal", "noun.food", "noun.person", "verb.contact", MOTION))
"""Categories in which a kind may do for the thing: a pal for a friend, to stroll for to walk; but no attic for a wall."""
LIKE_KINDS = frozenset(("noun.animal", "noun.artifact", "noun.food", "noun.plant"))
"""Categories in which one of a kind may do for another: a muffin for a biscuit, but no porter for a drover. Ways of doing something are told
apart by just what would be lost: no sip for a gulp."""
NOT_WIDER = frozenset(("noun.body", "noun.person"))
"""Categories in which a wider word will not do: no organ for a tongue, no man for a boy."""
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
def related(base: str, pos: str, category: str = "") -> tuple[Related, ...]:
    """The bases that are related to a base as a part of speech, each once, by its nearest relation; `category`: only for senses of it.

    Raises UserError where the compiled lexicon is damaged.
    """
    known, found = meanings(), dict[str, Related]()
    if tagged(base, pos) >= TOO_COMMON:
        return ()
    rarest = _likely(base) - MOST_RARER
    for sense in known.senses(base):
        if sense.pos != pos or sense.number > SENSES or category not in ("", known.category(sense.set)):
            continue
        own = _sure(known, sense)
        if pos == ADJECTIVE and not _is_base(sense):
            # howling is a form of howl, before it is a word of its own
            continue
        if not _is_fit(sense.set) or (_is_abstract(known, sense) and own < SURE_ABSTRACT):
            continue
        for kind, other in _relations(known, sense):
            sure = own * _sure(known, other) * _share(known, other)
            often = _likely(other.word)
            if sure < max(LEAST_SURE[kind], SURE_ADVERB * (pos == ADVERB)) or often < max(LEAST_LIKELY[kind], rarest):
                continue
            if often < WELL_KNOWN and not _is_met(other.word):
                continue
            if other.word == base or not _is_base(other) or not _is_fit(other.set) or _is_clipped(known, other, base):
                continue
            before, nearness = found.get(other.word), WEIGHTS[kind] * sure
            if before is None or before.nearness < nearness:
                found[other.word] = Related(other.word, kind, nearness, often)
    return tuple(found.values())


def _is_abstract(known: Meanings, sense: Sense) -> bool:
    return sense.pos == NOUN and known.category(sense.set) not in CONCRETE


def _is_everyday(known: Meanings, number: int) -> bool:
    """Whether a set has a word that young children meet."""
    return any(_likely(other.word) >= EVERYDAY for other in known.words(number))


def _is_clipped(known: Meanings, sense: Sense, base: str) -> bool:
    """Whether a word is a base cut short that is better known as another word (fig for figure; a hippo is nothing else), or the base in another
    spelling (ax)."""
    if not base.startswith(sense.word):
        return False
    return len(base) - len(sense.word) == 1 or sum(s.pos == sense.pos for s in known.senses(sense.word)) > 1


@lru_cache(_REMEMBERED)
def _is_fit(number: int) -> bool:
    """Whether a set is fit for a classroom: one that an unsuitable word names is not, whatever else it is called (a seat that is a bottom)."""
    return all(unfit_words().get(other.word) != "unsuitable" for other in meanings().words(number))


@lru_cache(_REMEMBERED)
def _is_met(word: str) -> bool:
    """Whether a word stands in the books for children that were counted, or is one of home and school."""
    known, number = tables(), tables().number(word)
    return bool(known.column("child_count")[number] or known.column("child_everyday")[number])


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
    if (
        sense.pos == ADJECTIVE
        and len(similar) == 1
        and word_class(sense.word) != _NUMBER
        and _is_everyday(known, similar[0])
    ):
        # similar to the same adjective: huge and vast to large; but red and blue to chromatic
        beside = [s for s in known.near(similar[0]) if s != sense.set]
        yield from ((ALIKE, other) for near in beside for other in known.words(near))
    may_widen = (sense.pos == NOUN and category not in NOT_WIDER) or category == MOTION
    for wider in known.wider(sense.set) if may_widen else ():
        if len(known.narrower(wider)) <= MOST_KINDS:
            yield from ((WIDER, other) for other in known.words(wider) if other.word not in TOO_WIDE)
    if category in WITH_KINDS:
        yield from ((NARROWER, other) for other in _kinds(known, sense.set, sense.set))
    if category in LIKE_KINDS:
        yield from ((ALIKE, other) for wider in known.wider(sense.set) for other in _kinds(known, wider, sense.set))


def _kinds(known: Meanings, wider: int, own: int) -> Iterator[Sense]:
    """The words for kinds of a thing, where these are few, and of the category of a set."""
    kinds = known.narrower(wider)
    if len(kinds) <= (MOST_MANNERS if wider == own and known.category(own).startswith(VERB) else MOST_BESIDE):
        for kind in kinds:
            if kind != own and known.category(kind) == known.category(own):
                yield from known.words(kind)
